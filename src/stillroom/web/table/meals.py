"""The meals of some days: those of the household, with what the plan in force has for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from stillroom.errors import InputError
from stillroom.household.household_file import guest_portions, portion_of
from stillroom.model.plan import PlannedMeal, PlannedRun, PlannedTask
from stillroom.web.day.current import Current
from stillroom.web.day.today_page import THAW_STEP
from stillroom.web.kitchen.models import DAY_NAMES, Household, MealDay, MealTime, Person

DAYS = 7  # that are shown, at least
_SAME = 0.01  # of a portion


@dataclass(frozen=True, slots=True)
class Dish:
    """One dish of a meal: the run of the plan that makes it, and what has to come out of the freezer for it."""

    run: PlannedRun
    thaw: tuple[PlannedTask, ...] = ()

    @property
    def portions(self) -> float:
        """What it makes, in adult portions."""
        return sum(made.portions for made in self.run.made)

    @property
    def thaw_advice(self) -> tuple[str, ...]:
        """How long that takes, by the model."""
        return tuple(words for words in self.run.advice if words.startswith("Take "))


@dataclass(frozen=True, slots=True)
class TableMeal:
    """One meal on one day; `planned` is None where the plan has nothing for it."""

    usual: MealTime
    row: MealDay  # not saved as long as nothing is different
    at: datetime  # by the clock of the household
    eaters: tuple[Person, ...]
    portions: float
    planned: PlannedMeal | None
    dishes: tuple[Dish, ...]

    @property
    def day(self) -> date:
        """Its day."""
        return self.row.day

    @property
    def name(self) -> str:
        """What it is called."""
        return self.row.name

    @property
    def is_eaten(self) -> bool:
        """Somebody said so."""
        return self.row.eaten_at is not None

    @property
    def is_open(self) -> bool:
        """Still to come, or nobody said that it was eaten."""
        return not self.is_eaten and not self.row.is_left_out

    @property
    def guests(self) -> str:
        """Who eats beside the household: "2 guests and 2 children of 4 and 9"; "" when nobody does."""
        grown, ages = self.row.guests, self.row.child_guests
        words = [f"{grown} guest{'s' if grown > 1 else ''}"] if grown else []
        if ages:
            words.append(f"{len(ages)} {'children' if len(ages) > 1 else 'child'} of {_listed(ages)}")
        return " and ".join(words)

    @property
    def cooked_at(self) -> datetime | None:
        """When its dishes are done, as their tasks stand; None where there is nothing to cook."""
        return self.planned.ready if self.planned is not None and self.dishes else None

    def is_cooked_by(self, now: datetime) -> bool:
        """Whether it could be eaten at that time of the household."""
        return self.cooked_at is None or self.cooked_at <= now

    @property
    def differs(self) -> str:
        """What the plan has otherwise than the household wants by now; "" when nothing."""
        if self.planned is None or not self.is_open:
            return ""
        words = [f"for {self.planned.at:%H:%M}"] if self.planned.at != self.at else []
        if abs(self.planned.portions - self.portions) > _SAME:
            words.append(f"for {self.planned.portions:g} portions")
        return " and ".join(words)


def meals_of(household: Household, current: Current | None, first: date, days: int = DAYS) -> list[TableMeal]:
    """Every usual meal of these days by its hour, those that are left out too."""
    rows = {(row.day, row.name): row for row in household.meal_days.filter(day__gte=first)}
    people = {person.pk: person for person in household.people.filter(eats=True)}
    planned = _planned(current)
    found = [
        _meal(household, usual, day, rows, people, planned)
        for day in (first + timedelta(days=number) for number in range(days))
        for usual in household.meal_times.all()
        if DAY_NAMES[day.weekday()] in usual.day_names
    ]
    return sorted(found, key=lambda meal: (meal.at, meal.usual.pk))


def meal_of(household: Household, current: Current | None, day: date, name: str) -> TableMeal | None:
    """One meal; None when there is none of that name on that day."""
    return next((meal for meal in meals_of(household, current, day, 1) if meal.name == name), None)


def _listed(ages: Sequence[int]) -> str:
    """ "9", "4 and 9", "4, 7 and 9"."""
    return " and ".join(filter(None, (", ".join(map(str, ages[:-1])), str(ages[-1]))))


_Planned = Mapping[tuple[date, str], tuple[PlannedMeal, tuple[Dish, ...]]]


def _planned(current: Current | None) -> _Planned:
    if current is None:
        return {}
    runs = {run.key: run for run in current.plan.runs}
    thaw: dict[str, list[PlannedTask]] = {}
    for task in current.plan.tasks:
        if task.key.endswith(THAW_STEP):
            thaw.setdefault(task.run, []).append(task)
    return {
        (meal.at.date(), meal.name): (
            meal,
            tuple(Dish(runs[key], tuple(thaw.get(key, ()))) for key in meal.runs if key in runs),
        )
        for meal in current.plan.meals
    }


def _meal(
    household: Household,
    usual: MealTime,
    day: date,
    rows: Mapping[tuple[date, str], MealDay],
    people: Mapping[int, Person],
    planned: _Planned,
) -> TableMeal:
    row = rows.get((day, usual.name)) or MealDay(household=household, day=day, name=usual.name)
    named = [people[key] for key in row.eaters or usual.eaters if key in people]
    eaters = tuple(named or people.values())
    portions = sum(_portions(eaters)) + guest_portions(row.guests, row.child_guests)
    found, dishes = planned.get((day, usual.name), (None, ()))
    return TableMeal(usual, row, datetime.combine(day, row.at or usual.at), eaters, portions, found, dishes)


def _portions(eaters: tuple[Person, ...]) -> Iterator[float]:
    for person in eaters:
        try:
            yield portion_of(person.to_written_eater())
        except InputError:  # under two years nothing is published; the kitchen's own page asks for it
            yield 0.0


COLUMNS = (
    *("day", "meal", "at", "adult portions", "eaters", "guests", "dishes"),
    *("missing", "ready", "chance on time", "said"),
)


def rows(meals: Sequence[TableMeal]) -> Iterator[Sequence[object]]:
    """The meals as a table for a spreadsheet."""
    for meal in meals:
        plan = meal.planned
        dishes = meal.row.dishes if meal.is_eaten else [dish.run.name for dish in meal.dishes]
        yield (
            *(meal.day, meal.name, f"{meal.at:%H:%M}", round(meal.portions, 2)),
            *(", ".join(person.name for person in meal.eaters), meal.guests or 0, ", ".join(dishes)),
            ", ".join(plan.missing) if plan else None,
            f"{plan.ready:%Y-%m-%d %H:%M}" if plan and plan.ready else None,
            plan.chance if plan else None,
            "eaten" if meal.is_eaten else "left out" if meal.row.is_left_out else None,
        )
