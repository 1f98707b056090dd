"""The plan in force: the last one made, how old it is, and what has changed since."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from django.db.models import Q

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.model.household import Arrival, LarderLot
from stillroom.model.plan import Plan
from stillroom.planning.kept_plan import KeptPlan, read_plan
from stillroom.web.day.models import MadePlan, PlanJob
from stillroom.web.day.standing import Standing, standing
from stillroom.web.day.wish_actions import wishes_of
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household, MealDay
from stillroom.web.larder.empty_jars import container_of
from stillroom.web.larder.models import PutUp

_CRUMB_G = 1.0


@dataclass(frozen=True, slots=True)
class Current:
    """The plan in force, as it stands."""

    row: MadePlan
    kept: KeptPlan
    standing: Standing
    today: date

    @property
    def plan(self) -> Plan:
        """What was worked out."""
        return self.kept.worked_out.plan

    @property
    def last_day(self) -> date:
        """The last day it plans."""
        return self.plan.start + timedelta(days=self.plan.days - 1)

    @property
    def days(self) -> tuple[date, ...]:
        """Every day it plans."""
        return tuple(self.plan.start + timedelta(days=number) for number in range(self.plan.days))

    def day_asked(self, text: str) -> date:
        """The day named, today where none is; InputError for what is no day of the plan."""
        if not text:
            return min(max(self.today, self.plan.start), self.last_day)
        try:
            day = date.fromisoformat(text)
        except ValueError:
            day = None
        if day not in self.days:
            raise InputError(f"“{text}” is no day of this plan, which runs to {self.last_day:%A} {self.last_day.day}.")
        return day

    @property
    def is_over(self) -> bool:
        """Whether its last day has passed."""
        return self.last_day < self.today


def current_plan(household: Household) -> Current | None:
    """The last plan made; None before the first, and when another version of the program made it."""
    row = household.made_plans.first()
    if row is None:
        return None
    try:
        kept = read_plan(row.kept)
    except InputError:
        return None
    stands = standing(row, kept.worked_out)
    return Current(row, kept.model_copy(update={"worked_out": stands.worked_out}), stands, household.today)


def open_job(household: Household) -> PlanJob | None:
    """The plan that is being looked for, or the last one that was not found and that no plan has followed."""
    job: PlanJob | None = household.plan_jobs.last()
    return None if job is None or job.state == PlanJob.State.DONE else job


def ago(then: datetime, now: datetime) -> str:
    """ "just now", "10 minutes ago", "3 hours ago", "2 days ago"."""
    minutes = int((now - then).total_seconds() // 60)
    if minutes < 1:
        return "just now"
    for size, name in ((24 * 60, "day"), (60, "hour"), (1, "minute")):
        if minutes >= size:
            count = minutes // size
            return f"{count} {name}{'s' if count > 1 else ''} ago"
    raise AssertionError(minutes)


def changed_since(current: Current, household: Household) -> tuple[str, ...]:
    """What is different from what the plan was made from, each in a few words; empty when nothing is.

    A meal of the plan that was eaten, something that it put up, and what they took out of the stores, is as planned.
    """
    made_from, made_at = current.kept.folder, current.row.made_at
    try:
        now = folder_of(household, start=made_from.start, days=made_from.days).from_hour(made_from.begins)
    except InputError as error:
        return (str(error),)
    eaten = household.meal_days.filter(eaten_at__gte=made_at, day__gte=made_from.start)
    put_up = household.put_ups.filter(Q(used_at__gte=made_at) | Q(ended_at__gte=made_at))
    made_from, now = (_without(folder, eaten, put_up) for folder in (made_from, now))
    wishes = ["your wishes changed"] if set(current.kept.wishes) != set(wishes_of(household)) else []
    return (*_changes(made_from, now), *wishes)


def _without(folder: Folder, eaten: Iterable[MealDay], put_up: Iterable[PutUp]) -> Folder:
    """The folder without eaten meals, and without arrivals, lots and jars that they and putting up changed."""
    meals = {f"{row.day} {row.name}" for row in eaten}
    stores = {key for row in eaten for key in row.stores} | {key for row in put_up for key in row.stores}
    jars = tuple(jar for jar in folder.kitchen.jars if container_of(jar.name) not in stores)
    return replace(
        folder,
        kitchen=replace(folder.kitchen, jars=jars),
        household=replace(folder.household, meals=tuple(m for m in folder.household.meals if m.key not in meals)),
        arrivals=tuple(arrival for arrival in folder.arrivals if arrival.key not in stores),
        larder=tuple(lot for lot in folder.larder if lot.key not in stores),
    )


def _changes(before: Folder, now: Folder) -> Iterator[str]:
    arrivals = _differing({a.key: a for a in before.arrivals}, {a.key: a for a in now.arrivals})
    if arrivals:
        yield f"{arrivals} {'arrivals have' if arrivals > 1 else 'arrival has'} changed"
    lots = _differing({lot.key: lot for lot in before.larder}, {lot.key: lot for lot in now.larder})
    if lots:
        yield f"{lots} {'lots' if lots > 1 else 'lot'} in the larder changed"
    if before.kitchen.jars != now.kitchen.jars:
        yield "the empty jars or their lids changed"
    if replace(before.kitchen, jars=()) != replace(now.kitchen, jars=()):
        yield "the kitchen or its people’s hours changed"
    if before.household != now.household:
        yield "meals, eaters or targets changed"
    if before.recipes != now.recipes:
        yield "your own recipes changed"


def _differing(before: Mapping[str, Arrival | LarderLot], now: Mapping[str, Arrival | LarderLot]) -> int:
    """How many came, went or are not what they were."""
    return sum(not _is_same(before.get(key), now.get(key)) for key in _keys(before, now))


def _keys(*mappings: Mapping[str, object]) -> Iterable[str]:
    return dict.fromkeys(key for mapping in mappings for key in mapping)


def _is_same(one: Arrival | LarderLot | None, other: Arrival | LarderLot | None) -> bool:
    if one is None or other is None or type(one) is not type(other):
        return False
    if abs(one.mass_g - other.mass_g) > _CRUMB_G:
        return False
    if isinstance(one, Arrival) and isinstance(other, Arrival):
        return (one.food, one.day, one.place, one.keep_days) == (other.food, other.day, other.place, other.keep_days)
    if isinstance(one, LarderLot) and isinstance(other, LarderLot):
        return (one.food, one.place, one.best_by) == (other.food, other.place, other.best_by)
    return False
