"""Short ways of writing small problems."""

from __future__ import annotations

from typing import Any

from stillroom.allocation.problem import Activity, Capacity, Input, Lot, Problem


def lot(
    key: str = "beans", grams: float = 1000.0, first: int = 0, last: int = 0, worth: float = 0.0, **more: Any
) -> Lot:
    return Lot(key, more.pop("item", key), grams, first, last, worth, **more)


def activity(key: str = "jar", *, takes: str = "beans", grams: float = 100.0, **more: Any) -> Activity:
    settings: dict[str, Any] = {"days": (0,), "smallest": 0.0, "largest": 100.0, "value_per_level": 1.0}
    settings |= {"inputs": (Input((takes,), grams),)} if takes else {}
    return Activity(key, key, "jar", **(settings | more))


def problem(*activities: Activity, lots: tuple[Lot, ...] = (), days: int = 1, **more: Any) -> Problem:
    settings: dict[str, Any] = {"capacities": (), "pools": (), "meals": ()}
    return Problem(days, lots, activities, **(settings | more))


def capacity(*per_day: float, name: str = "hands") -> Capacity:
    return Capacity(name, per_day, name, "min")
