"""How long food keeps, by its state when stored and the place.

Freezer and home-canned times are quality limits; refrigerator times of raw and cooked meat, poultry, fish and dishes
are safety limits. A row here is never permission to can or dry that food. Source: USDA FSIS FoodKeeper data (2018)
and general rules, see each row.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, grouped, read_csv

COLUMNS = ("food", "state", "place", "min_days", "max_days", "source", "evidence")


@dataclass(frozen=True, slots=True)
class Keeping:
    """Days it keeps; both zero: not recommended, both None: indefinitely, one None: only one limit is published."""

    food: str
    state: str
    place: str
    min_days: float | None
    max_days: float | None
    source: str
    evidence: str


@cache
def _by_food() -> dict[str, tuple[Keeping, ...]]:
    return grouped(
        (
            row.text("food"),
            Keeping(
                row.text("food"),
                row.text("state"),
                row.text("place"),
                row.optional_number("min_days"),
                row.optional_number("max_days"),
                row.text("source"),
                row.text("evidence"),
            ),
        )
        for row in read_csv(DATA / "keeping.csv", COLUMNS)
    )


def keeping(food_key: str, state: str, place: str) -> tuple[Keeping, ...]:
    """The rows for one food in one state and place; where several disagree they are all given."""
    return tuple(row for row in _by_food().get(food_key, ()) if row.state == state and row.place == place)
