"""Every change of a meal. Each can be taken back, and each is safe under a form's token."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from django.db import transaction

from stillroom.errors import InputError
from stillroom.web.day.current import Current
from stillroom.web.day.task_actions import done_by
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household, MealDay
from stillroom.web.larder.actions import free_key
from stillroom.web.larder.models import Lot
from stillroom.web.larder.using_up import Stores
from stillroom.web.table.leftovers import into_the_cold_by, keeps_outside, lot_left
from stillroom.web.table.meals import Dish, TableMeal

_LONGEST = 300
_LATELY = timedelta(days=31)  # longer than any plan


@dataclass
class _Fates:
    """What becomes of what is left of the dishes."""

    household: Household
    today: date
    is_cold: bool
    kept: list[Lot] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)

    def decide(self, dish: Dish, meal: TableMeal, portions: int, fed_from: Sequence[Lot]) -> None:
        """Kept while it is safe, otherwise lost; InputError for more than was made."""
        if not 0 <= portions <= max(0, math.ceil(dish.portions)):
            raise InputError(f"{dish.run.name} makes {dish.portions:.0f} portions: no more than that can be left.")
        if not portions:
            return
        lot = lot_left(dish, meal, portions, fed_from)
        if lot.best_by >= self.today and (self.is_cold or keeps_outside(dish)):
            lot.household = self.household
            alike = sum(one.product == lot.product for one in self.kept)
            lot.key = free_key(self.household, f"{lot.product} {lot.made_on}{f' and {alike}' if alike else ''}")
            self.kept.append(lot)
        else:
            self.lost.append(dish.run.name)


@transaction.atomic
def eat(
    meal: TableMeal, current: Current | None, left: Sequence[int], *, is_chilled: bool, now: datetime, at: datetime
) -> Change | None:
    """A meal was eaten: what its dishes used leaves the stores, the portions `left` of each dish become lots.

    Its cooking is over: what nobody said anything of is done as planned. InputError before it could be cooked.

    `now` is the time of the household, without its zone. Unless `is_chilled`, leftovers that have to be cold are kept
    only while there is time to chill them (rule R103). None when somebody said so before.
    """
    household = Household.objects.select_for_update().get(pk=meal.usual.household.pk)  # two people may tap at once
    row = household.meal_days.filter(day=meal.day, name=meal.name).first() or meal.row
    if row.eaten_at is not None:
        return None
    if meal.day > now.date():
        raise InputError(f"{meal.name.capitalize()} on {meal.day:%A} is still to come.")
    if not meal.is_cooked_by(now):
        raise InputError(_not_cooked(meal))
    is_cold = is_chilled or now <= into_the_cold_by(household, meal)
    stores = Stores(household, f"eaten: {meal.name}", meal.day, at, current.row.pk if current else None)
    fates = _Fates(household, now.date(), is_cold)
    known = _runs_before(household, meal)
    for dish, portions in zip(meal.dishes, left, strict=True):
        key = f"{current.row.pk}:{dish.run.key}" if current else ""
        fed_from = [] if key in known else stores.take(dish.run.taken)
        row.runs = [*row.runs, key]
        fates.decide(dish, meal, portions, fed_from)
    row.eaten_at, row.is_left_out = at, False
    row.dishes = [dish.run.name for dish in meal.dishes]
    row.stores = [*stores.keys, *(lot.key for lot in fates.kept)]
    said = _said(meal, fates.kept, fates.lost, stores.short)
    cooked = done_by(current, {dish.run.key for dish in meal.dishes}, now=now, at=at) if current else []
    return keep(said[:_LONGEST], row, *stores.changed, *fates.kept, *cooked, at=at, about=row, counted=stores.jars)


def change(
    meal: TableMeal,
    *,
    hour: time | None,
    eaters: Sequence[int],
    guests: int,
    child_guests: Sequence[int],
    is_left_out: bool,
    at: datetime,
) -> Change | None:
    """What is different about a meal on its day; None when nothing is, by now."""
    row = meal.row
    before = _different(row)
    row.at = None if hour == meal.usual.at else hour
    row.eaters, row.guests, row.is_left_out = list(eaters), guests, is_left_out
    row.child_guests = list(child_guests)
    if before == _different(row):
        return None
    if row.eaten_at is not None:
        raise InputError(f"{meal.name.capitalize()} on {meal.day:%A} is eaten already: take that back first.")
    what = "left out" if is_left_out else "changed"
    return keep(f"{meal.name.capitalize()} on {_day(meal.day)}: {what}", row, at=at)


def _different(row: MealDay) -> tuple[object, ...]:
    return row.at, row.eaters, row.guests, row.child_guests, row.is_left_out


def _not_cooked(meal: TableMeal) -> str:
    assert meal.cooked_at is not None
    when = f"{meal.name.capitalize()} is not cooked before {meal.cooked_at:%H:%M}, as its tasks stand."
    return f"{when} Was it eaten sooner, say first that its tasks are done."


def _runs_before(household: Household, meal: TableMeal) -> set[str]:
    """Runs of which another meal was eaten before: their food was taken then."""
    rows = household.meal_days.filter(eaten_at__isnull=False, day__gte=meal.day - _LATELY).exclude(pk=meal.row.pk)
    return {key for row in rows for key in row.runs}


def _said(meal: TableMeal, kept: Sequence[Lot], lost: Sequence[str], short: Sequence[str]) -> str:
    sentences = [f"{meal.name.capitalize()} on {meal.day:%A}: eaten"]
    for lot in kept:
        where = "on the counter" if lot.place == "counter" else "into the fridge"
        name = lot.product.removesuffix(", left over")
        sentences.append(f"{lot.count} of {name} left, {where}, best by {_day(lot.best_by)}")
    if lost:
        sentences.append(f"{', '.join(lost)} stood out too long or is too old: throw it out, untasted")
    if short:
        sentences.append(f"the lists had less than the plan used of {', '.join(dict.fromkeys(short))}: look there")
    return "; ".join(sentences)


def _day(day: date) -> str:
    return f"{day:%A} {day.day} {day:%B}"
