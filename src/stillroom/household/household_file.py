"""household.yaml: who eats what and when, and how much they want in store."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from pathlib import Path
from typing import Annotated

from pydantic import Field

from stillroom.errors import InputError
from stillroom.household.hours_text import read_weekdays
from stillroom.household.kitchen_file import check_unlike, dates, food_amounts_g
from stillroom.household.places import at
from stillroom.model.household import Eater, Household, Meal, Target
from stillroom.quantities.portions import ADULT_AGE, adult_portions, eater_share
from stillroom.tables.vocabulary import hear
from stillroom.yaml_files import Written, read_yaml

ROLES = ("main", "side", "bread", "sweet")
MOST_GUESTS = 40
YOUNGEST = 2  # years; no share of a portion is published for younger ones
GuestAge = Annotated[int, Field(ge=YOUNGEST, lt=ADULT_AGE)]
# How much of the usual portion one eats. Common practice, no source.
_APPETITE = {"small": 0.8, "usual": 1.0, "large": 1.25}


class EaterLines(Written):
    """One who eats: `age` in years or “adult”, `appetite` small, usual or large; or the `portion` itself."""

    name: str = Field(min_length=1)
    age: str | None = None
    portion: float | None = Field(default=None, gt=0, le=3)  # of an adult portion
    appetite: str = "usual"


class MealLines(Written):
    """A meal on some weekdays; without `eaters` everybody eats."""

    name: str = Field(min_length=1)
    days: str
    at: time
    roles: list[str] = Field(min_length=1)
    eaters: list[str] | None = None


class MealDayLines(Written):
    """What is different about a meal on one day: its hour, who eats, guests, or no such meal.

    Each of the `guests` eats an adult portion, the `child_guests` by their age in years.
    """

    meal: str
    day: date
    at: time | None = None
    eaters: list[str] | None = None
    guests: int = Field(default=0, ge=0, le=MOST_GUESTS)
    child_guests: list[GuestAge] = Field(default_factory=list, max_length=MOST_GUESTS)
    left_out: bool = False


class HouseholdFile(Written):
    """The file as it is written."""

    name: str = Field(min_length=1)
    invented: bool = False
    start: date
    eaters: list[EaterLines] = Field(min_length=1)
    meals: tuple[MealLines, ...] = ()
    meal_days: tuple[MealDayLines, ...] = ()
    dislikes: tuple[str, ...] = ()
    targets: dict[str, str] = Field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class HouseholdFromFile:
    """The household, and the first day of the plan."""

    start: date
    household: Household


def read_household(path: Path, days: int) -> HouseholdFromFile:
    """The household with its meals over `days` days; FileError with line and field when the file is wrong."""
    written = read_yaml(path, HouseholdFile)
    check_unlike(path, "eaters", [eater.name for eater in written.eaters])
    eaters = tuple(_eater(path, place, lines) for place, lines in enumerate(written.eaters))
    household = Household(
        name=written.name,
        invented=written.invented,
        eaters=eaters,
        meals=_meals(path, written, eaters, days),
        dislikes=_dislikes(path, written.dislikes),
        targets=tuple(Target(food, mass_g) for food, mass_g in food_amounts_g(path, "targets", written.targets)),
    )
    return HouseholdFromFile(written.start, household)


def _eater(path: Path, place: int, lines: EaterLines) -> Eater:
    with at(path, "eaters", place, "appetite"):
        if lines.appetite not in _APPETITE:
            raise InputError(f"“{lines.appetite}” is no appetite: write {', '.join(_APPETITE)}.")
    with at(path, "eaters", place, "age"):
        portion = portion_of(lines)
    return Eater(lines.name, portion, int(lines.age) if lines.age and lines.age.isdecimal() else None)


def portion_of(lines: EaterLines) -> float:
    """What one eats, in adult portions [-]; InputError where the lines don't say."""
    if (lines.age is None) == (lines.portion is None):
        raise InputError("write the age in whole years, or “adult”; or leave it out and write a “portion”.")
    share = lines.portion if lines.portion is not None else _share_by_age(lines.age or "")
    return share * _APPETITE[lines.appetite]


def guest_portions(guests: int, ages_years: Sequence[int]) -> float:
    """What guests eat, in adult portions [-]: the grown-up ones, and children of these ages."""
    return guests + adult_portions(tuple(ages_years))


def _share_by_age(age: str) -> float:
    if age.lower() == "adult":
        return eater_share(None)
    if not age.isdecimal():
        raise InputError(f"“{age}” can't be read: write the age in whole years, or “adult”.")
    return eater_share(int(age))


def _meals(path: Path, written: HouseholdFile, eaters: Sequence[Eater], days: int) -> tuple[Meal, ...]:
    meals: dict[str, Meal] = {}
    for place, lines in enumerate(written.meals):
        with at(path, "meals", place, "days"):
            weekdays = read_weekdays(lines.days)
        with at(path, "meals", place, "at"):
            _check_hour(lines.at)
        with at(path, "meals", place, "roles"):
            _check_roles(lines.roles)
        with at(path, "meals", place, "eaters"):
            portions = _portions(lines.eaters, eaters)
        for day in dates(written.start, days):
            if day.weekday() not in weekdays:
                continue
            key = f"{day} {lines.name}"
            with at(path, "meals", place, "name"):
                if key in meals:
                    raise InputError(f"there are two meals “{lines.name}” on {day:%A}s: let their days not overlap.")
            meals[key] = Meal(key, lines.name, day, lines.at, portions, tuple(lines.roles))
    _on_single_days(path, written, eaters, meals)
    return tuple(sorted(meals.values(), key=lambda meal: (meal.day, meal.at)))


def _on_single_days(path: Path, written: HouseholdFile, eaters: Sequence[Eater], meals: dict[str, Meal]) -> None:
    """Changes `meals` as `meal_days` says; a day outside of the plan changes nothing."""
    seen: set[str] = set()
    for place, lines in enumerate(written.meal_days):
        key = f"{lines.day} {lines.meal}"
        with at(path, "meal_days", place, "meal"):
            usual = _usual(written, lines)
            if key in seen:
                raise InputError(f"“{lines.meal}” on {lines.day} stands here twice.")
        seen.add(key)
        with at(path, "meal_days", place, "at"):
            _check_hour(lines.at or usual.at)
        with at(path, "meal_days", place, "eaters"):
            named = usual.eaters if lines.eaters is None else lines.eaters
            portions = _portions(named, eaters) + guest_portions(lines.guests, lines.child_guests)
        if key in meals and lines.left_out:
            del meals[key]
        elif key in meals:
            meals[key] = replace(meals[key], at=lines.at or usual.at, portions=portions)


def _usual(written: HouseholdFile, lines: MealDayLines) -> MealLines:
    """The meal that is another on that day."""
    for meal in written.meals:
        if meal.name == lines.meal and lines.day.weekday() in read_weekdays(meal.days):
            return meal
    raise InputError(f"there is no meal “{lines.meal}” on {lines.day:%A}s: write it under “meals” first.")


def _check_hour(hour: time) -> None:
    if hour.tzinfo is not None:
        raise InputError("write the hour without a time zone, like 18:30.")


def _check_roles(roles: Sequence[str]) -> None:
    for place, role in enumerate(roles):
        if role not in ROLES:
            raise InputError(f"“{role}” is no part of a meal: write some of {', '.join(ROLES)}.")
        if role in roles[:place]:
            raise InputError(f"“{role}” stands here twice.")


def _portions(names: Sequence[str] | None, eaters: Sequence[Eater]) -> float:
    by_name = {eater.name: eater.portion for eater in eaters}
    if names is None:
        return sum(by_name.values())
    for place, name in enumerate(names):
        if name not in by_name or name in names[:place]:
            raise InputError(f"“{name}” must be one of {', '.join(by_name)}, once.")
    if not names:
        raise InputError("somebody has to eat it: name them, or leave “eaters” out for everybody.")
    return sum(by_name[name] for name in names)


def _dislikes(path: Path, written: Sequence[str]) -> tuple[str, ...]:
    keys: list[str] = []
    for place, words in enumerate(written):
        with at(path, "dislikes", place):
            keys.append(hear(words).food.key)
    return tuple(keys)
