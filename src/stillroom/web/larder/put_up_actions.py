"""What a plan put up goes into the larder: each tap can be taken back, and nothing comes of the second one.

A jar whose process was not kept, or whose lid is not tight, never stands on the shelf. Sources: rules R008, R009 and
R021 to R027 of the table of rules; your local food-safety authority has the last word.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime

from django.db import models

from stillroom.errors import InputError
from stillroom.household.bundles import Bundle
from stillroom.household.clock import State, clock
from stillroom.household.larder_file import lot_of
from stillroom.model.household import Place
from stillroom.model.plan import TakenFood
from stillroom.tables import vocabulary
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import Counted, keep
from stillroom.web.larder.actions import free_key
from stillroom.web.larder.empty_jars import container_of, filled, lids_used
from stillroom.web.larder.models import Lot, PutUp
from stillroom.web.larder.put_up_fates import Fate, InTime, check_fate, not_kept_until, out_again_at
from stillroom.web.larder.using_up import Stores

FROZEN_JAR_DAYS = 90  # common practice, no source: cooked food is at its best for some three months in the freezer
_WRONG_G = 1.0


def out_of_canner(
    put_up: PutUp, jars: int, *, now: datetime, at: datetime, is_again: bool = False, told: InTime | None = None
) -> Change | None:
    """So many jars came out whole and their process was kept, or done again in full: they cool, their food is used.

    `now` is the time of the household. None when it was said before; InputError for more jars than a load holds, and
    for what was not done again within two hours.
    """
    if put_up.used_at is not None:
        return None
    _check_jars(put_up, jars)
    if is_again:
        check_fate(put_up, Fate.AGAIN, not_kept_until(put_up), now=now, told=told)
    lids = lids_used(put_up.household, put_up.jar, jars) if is_again else []
    put_up.jars, put_up.used_at = jars, at
    put_up.done_at = out_again_at(told, now) if is_again else put_up.done_at
    stores = _used(put_up, now.date(), at)
    put_up.stores = [*stores.keys, container_of(put_up.jar)]
    counted = [*stores.jars, *filled(put_up.household, put_up.jar, jars), *lids]
    said = f"{_words(put_up, jars)} out of the canner, {put_up.process}: {'done again in full' if is_again else 'kept'}"
    return _keep(said, put_up, stores, [], counted, at)


def process_not_kept(
    put_up: PutUp, jars: int, fate: Fate, *, now: datetime, at: datetime, told: InTime | None = None
) -> Change | None:
    """The process of these jars was not kept and not done again: none of them is for the shelf.

    InputError for what was not chilled or frozen within two hours.
    """
    if put_up.used_at is not None:
        return None
    _check_jars(put_up, jars)
    check_fate(put_up, fate, not_kept_until(put_up), now=now, told=told)
    put_up.jars, put_up.used_at, put_up.ended_at = jars, at, at
    stores = _used(put_up, now.date(), at)
    lots = _not_for_the_shelf(put_up, jars, fate)
    put_up.stores = [*stores.keys, container_of(put_up.jar), *(lot.key for lot in lots)]
    counted = [*stores.jars, *filled(put_up.household, put_up.jar, jars)]
    said = f"{_words(put_up, jars)}, process not kept: {_fate_words(fate)}"
    return _keep(said, put_up, stores, lots, counted, at)


def look_at_lids(
    put_up: PutUp, sealed: int, fate: Fate | None, *, now: datetime, at: datetime, told: InTime | None = None
) -> Change | None:
    """The lids of the cold jars were looked at: what is sealed goes into the larder; `fate` is that of the others.

    InputError for those that were not done again, chilled or frozen within 24 hours.
    """
    if put_up.used_at is None or put_up.ended_at is not None:
        return None
    if now < put_up.looked_at_from:
        raise InputError(f"The jars cool undisturbed for twelve hours: look at them from {_hour(put_up)} on.")
    if not 0 <= sealed <= put_up.jars:
        raise InputError(f"{_words(put_up, put_up.jars)} cooled: say how many of them are sealed, 0 to {put_up.jars}.")
    loose = put_up.jars - sealed
    if loose and fate is None:
        raise InputError("Say what became of the jars that are not sealed.")
    if loose and fate is not None:
        check_fate(put_up, fate, put_up.lids_until, now=now, told=told)
    put_up.ended_at = at
    lots: list[Lot] = []
    if sealed:
        (line,) = put_up.made
        lots.append(_with_key(put_up.lot(line, count=sealed, mass_g=_mass_g(put_up, sealed))))
    counted: list[Counted] = []
    more: list[models.Model] = []
    if loose and fate is Fate.AGAIN:
        more = [_cools_again(put_up, loose, out_again_at(told, now), at)]
        counted = lids_used(put_up.household, put_up.jar, loose)
    elif loose and fate is not None:
        lots += _not_for_the_shelf(put_up, loose, fate)
    put_up.stores = [*put_up.stores, *(lot.key for lot in lots)]
    said = f"Put up: {_words(put_up, sealed)}, sealed" if sealed else f"{put_up.name}: no jar sealed"
    said += f"; {loose} not sealed: {_fate_words(fate)}" if loose and fate else ""
    return _keep(said, put_up, None, lots, counted, at, more)


def keep_made(put_up: PutUp, amounts: Sequence[Bundle], *, now: datetime, at: datetime) -> Change | None:
    """What was packed, dried, cut or cured goes into the larder as it was counted and weighed; its food is used.

    What has to stand first, like a cure, is only used up by the first tap and kept by the next one.
    """
    if put_up.ended_at is not None or put_up.jar:
        return None
    stores = None if put_up.used_at is not None else _used(put_up, now.date(), at)
    is_ready = put_up.ready_on <= now.date()
    if stores is None and not is_ready:
        raise InputError(f"{put_up.name} is ready on {put_up.ready_on:%A} {put_up.ready_on.day} {put_up.ready_on:%B}.")
    put_up.used_at = put_up.used_at or at
    put_up.ended_at = at if is_ready else None
    lots = _lots(put_up, amounts) if is_ready else []
    put_up.stores = [*put_up.stores, *(stores.keys if stores else ()), *(lot.key for lot in lots)]
    counted = stores.jars if stores else []
    if not is_ready:
        said = f"{put_up.name}: stands until {put_up.ready_on:%A} {put_up.ready_on.day} {put_up.ready_on:%B}"
    elif lots:
        said = f"Put up: {', '.join(f'{lot.amount} {lot.product}' for lot in lots)}"
    else:
        said = f"{put_up.name}: nothing of it is left"
    return _keep(said, put_up, stores, lots, counted, at)


def strike_out(put_up: PutUp, *, at: datetime) -> Change:
    """It was a slip, or stands in the lists already: it is offered no more, and nothing is used."""
    if put_up.used_at is not None:
        raise InputError(f"{put_up.name} is put up already: take that back first.")
    return keep(f"Not put up: {put_up.name}", at=at, gone=[put_up])


def _lots(put_up: PutUp, amounts: Sequence[Bundle]) -> list[Lot]:
    """A lot for each product of which there is something, less what was used of it before it was put away.

    How much that was is remembered in `made`: the next batch of the run bears the rest.
    """
    lots = []
    for line, bundle in zip(put_up.made, amounts, strict=True):
        used_g = min(_used_before_g(put_up, line["food"]), bundle.mass_g or line["mass_g"])
        line["used_before_g"] = used_g
        mass_g = bundle.mass_g - used_g
        if mass_g > _WRONG_G:
            is_whole = mass_g == bundle.mass_g
            container, count = (bundle.piece, bundle.count) if is_whole else ("", 1)
            lots.append(_with_key(put_up.lot(line, mass_g=mass_g, container=container, count=count)))
    return lots


def _used_before_g(put_up: PutUp, food: str) -> float:
    """What other batches of the plan took of a product that was in no list then, and no batch bears yet [g]."""
    plan, _, run = put_up.run.partition(":")
    kept = list(PutUp.objects.filter(household=put_up.household, run=put_up.run, ended_at__isnull=False))
    others = PutUp.objects.filter(household=put_up.household, run__startswith=f"{plan}:", used_at__isnull=False)
    lots = put_up.household.lots.filter(food=food)
    in_store_from = [row.ended_at for row in kept if row.ended_at and lots.filter(key__in=row.lots).exists()]
    if in_store_from:
        others = others.filter(used_at__lte=min(in_store_from))
    parts = (part for other in others for part in other.taken if part["origin"] == run)
    taken_g = sum(part["mass_g"] for part in parts if part["food"].rsplit(", ", 1)[0] == food)
    lines = (line for row in kept for line in row.made if line["food"] == food)
    borne_g = sum(line.get("used_before_g", math.inf) for line in lines)  # not remembered: it bore everything
    return float(max(0.0, taken_g - borne_g))


def _used(put_up: PutUp, today: date, at: datetime) -> Stores:
    """Takes the food of the batch out of arrivals and larder, not saved yet."""
    plan = int(put_up.run.partition(":")[0])
    stores = Stores(put_up.household, f"put up: {put_up.name}"[:120], today, at, plan)
    stores.take([TakenFood(part["food"], part["mass_g"], part["origin"]) for part in put_up.taken])
    return stores


def _not_for_the_shelf(put_up: PutUp, jars: int, fate: Fate) -> list[Lot]:
    """Jars in the fridge or the freezer; nothing of what was thrown out."""
    (line,) = put_up.made
    other = {"count": jars, "mass_g": _mass_g(put_up, jars), "product": f"{line['product']}, to eat up"[:80]}
    if fate is Fate.FRIDGE:
        food = vocabulary.food(line["food"])
        days = clock(food, None, State.COOKED, Place.FRIDGE, None).keep_days  # R027: within several days
        return [_with_key(put_up.lot(line, place=Place.FRIDGE.value, keeps_days=days, **other))]
    if fate is Fate.FREEZER:
        return [_with_key(put_up.lot(line, place=Place.FREEZER.value, keeps_days=FROZEN_JAR_DAYS, **other))]
    return []


def _cools_again(put_up: PutUp, jars: int, out_again: datetime, at: datetime) -> PutUp:
    """Jars that were done again in full: their lids are looked at once more."""
    number = PutUp.objects.filter(household=put_up.household, run=put_up.run).count()
    again = PutUp.objects.get(pk=put_up.pk)
    again.pk, again.key, again.jars = None, f"{put_up.key} again {number}", jars
    again.taken, again.lots, again.stores = [], [], []
    again.made = [put_up.made[0] | {"count": jars, "mass_g": _mass_g(put_up, jars)}]
    again.done_at, again.used_at, again.ended_at = out_again, at, None
    again._state.adding = True
    return again


def _keep(
    said: str,
    put_up: PutUp,
    stores: Stores | None,
    lots: Sequence[Lot],
    counted: Sequence[Counted],
    at: datetime,
    more: Sequence[models.Model] = (),
) -> Change:
    put_up.lots = [*put_up.lots, *(lot.key for lot in lots)]
    rows = stores.changed if stores else []
    if stores and stores.short:
        said += f"; the lists had less than the plan used of {', '.join(dict.fromkeys(stores.short))}: look there"
    return keep(said[:300], put_up, *rows, *lots, *more, at=at, about=put_up, counted=counted)


def _with_key(lot: Lot) -> Lot:
    """The lot with a key of its own; InputError where it can't be planned with."""
    lot.key = free_key(lot.household, f"{lot.product} {lot.made_on}")
    lot_of(lot.to_written(), None)
    return lot


def _check_jars(put_up: PutUp, jars: int) -> None:
    if not 1 <= jars <= put_up.most_jars:
        raise InputError(f"A load of {put_up.name} is 1 to {put_up.most_jars} jars, not {jars}.")


def _mass_g(put_up: PutUp, jars: int) -> float:
    (line,) = put_up.made
    return float(line["mass_g"] / line["count"] * jars)


def _words(put_up: PutUp, jars: int) -> str:
    return f"{jars} {container_of(put_up.jar)}{'s' if jars != 1 else ''} {put_up.name}"


def _fate_words(fate: Fate | None) -> str:
    return {
        Fate.AGAIN: "done again in full with new lids",
        Fate.FRIDGE: "into the fridge",
        Fate.FREEZER: "into the freezer",
        Fate.THROWN_OUT: "thrown out",
        None: "",
    }[fate]


def _hour(put_up: PutUp) -> str:
    at = put_up.looked_at_from
    return f"{at:%A %H:%M}"
