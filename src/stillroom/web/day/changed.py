"""What is different in the house from what a plan was made from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

from django.db.models import Q

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.model.household import Arrival, LarderLot
from stillroom.web.day.current import Current
from stillroom.web.day.wish_actions import wishes_of
from stillroom.web.exchange.folder import folder_of
from stillroom.web.frame.undo import touched_since
from stillroom.web.kitchen.models import Household, MealDay
from stillroom.web.larder.empty_jars import container_of
from stillroom.web.larder.models import Lot, PutUp

_CRUMB_G = 1.0


def changed_since(current: Current, household: Household) -> tuple[str, ...]:
    """What is different from what the plan was made from, each in a few words; empty when nothing is.

    A meal of the plan that was eaten, something that it put up, and what they took out of the stores, is as planned.
    """
    kept, made_at = current.kept.folder, current.row.made_at
    try:
        made_from, now = _to_compare(current, household)
    except InputError as error:
        return (str(error),)
    eaten = household.meal_days.filter(eaten_at__gte=made_at, day__gte=kept.start)
    put_up = household.put_ups.filter(Q(used_at__gte=made_at) | Q(ended_at__gte=made_at))
    made_from, now = (_without(folder, eaten, put_up) for folder in (made_from, now))
    wishes = ["your wishes changed"] if set(current.kept.wishes) != set(wishes_of(household)) else []
    return (*_changes(made_from, now), *wishes)


def _to_compare(current: Current, household: Household) -> tuple[Folder, Folder]:
    """The folder of the plan and that of now, with the lots that may differ, as there may be many thousands in all.

    Every page, list and program saves through `frame.undo`, which remembers the rows. Where that does not account for
    the number of lots that are there, something else wrote them, and all are compared.
    """
    kept, job = current.kept.folder, current.row.job
    keys = _touched(household, (job and job.begun_at) or current.row.made_at)
    now = folder_of(household, start=kept.start, days=kept.days, lots=keys).from_hour(kept.begins)
    known = tuple(lot for lot in kept.larder if lot.key in keys)
    if household.lots.filter(count__gt=0).count() - len(now.larder) == len(kept.larder) - len(known):
        return replace(kept, larder=known), now
    return kept, folder_of(household, start=kept.start, days=kept.days).from_hour(kept.begins)


def _touched(household: Household, since: datetime) -> set[str]:
    """Keys of the lots that were saved, taken out or put back since."""
    return {row["fields"]["key"] for row in touched_since(Lot, since) if row["fields"]["household"] == household.pk}


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
