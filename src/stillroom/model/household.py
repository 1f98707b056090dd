"""Who eats what and when, what has come in, what is in store."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum


class Place(StrEnum):
    """Where food stands."""

    SHELF = "shelf"
    FREEZER = "freezer"
    FRIDGE = "fridge"
    CELLAR = "cellar"
    COUNTER = "counter"


@dataclass(frozen=True, slots=True)
class Eater:
    """One who eats: `portion` is the share of an adult portion; `age_years` of a child, where it is known."""

    name: str
    portion: float
    age_years: int | None = None


@dataclass(frozen=True, slots=True)
class Meal:
    """One meal on one day: all `roles` are wanted for `portions` adult portions at `at`."""

    key: str  # "2026-09-12 dinner"
    name: str
    day: date
    at: time
    portions: float
    roles: tuple[str, ...]  # of "main", "side", "bread", "sweet"


@dataclass(frozen=True, slots=True)
class Target:
    """How much of a food the household wants in store, in amount of that food put up (as it arrives)."""

    food: str  # vocabulary key
    amount_g: float


@dataclass(frozen=True, slots=True)
class Arrival:
    """Food that has come in or is expected, with its clock."""

    key: str
    food: str  # vocabulary key
    mass_g: float
    day: date
    place: Place
    keep_days: int  # how many days after `day` it may still be used
    keep_reason: str
    worth_per_kg: float
    note: str = ""
    piece_g: float = 0.0  # mass of one, where it came in pieces of one size; 0 otherwise
    is_own_clock: bool = False  # the household looked at it and gave it a clock of its own


@dataclass(frozen=True, slots=True)
class LarderLot:
    """A lot in store."""

    key: str
    product: str
    food: str  # vocabulary key
    place: Place
    mass_g: float
    made_on: date
    best_by: date
    container: str  # "quart jar", "freezer pack"
    count: int


@dataclass(frozen=True, slots=True)
class Household:
    """Who is fed and what they want in store."""

    name: str
    invented: bool
    eaters: tuple[Eater, ...]
    meals: tuple[Meal, ...]
    dislikes: tuple[str, ...]  # vocabulary keys
    targets: tuple[Target, ...]


@dataclass(frozen=True, slots=True)
class TimeTaken:
    """How long a step of a recipe took, and the minutes that the recipe gives for that batch."""

    recipe: str
    step: str
    planned_min: float
    taken_min: float
    day: date
