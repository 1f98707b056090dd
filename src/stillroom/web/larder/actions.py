"""Every change of a lot. Each can be taken back, and each is safe under a form's token."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction

from stillroom.errors import InputError
from stillroom.household import written_words as words
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.empty_jars import emptied
from stillroom.web.larder.models import Lot, TakenOut

_GRAM = 1.0  # less than this is nothing left
WHY = ("eaten", "given away", "thrown out")


def add(lot: Lot, *, at: datetime) -> Change:
    """Enters a lot that is in store, with a key of its own."""
    lot.key = free_key(lot.household, f"{lot.product} {lot.made_on}")
    return keep(f"Added {lot.amount} {lot.product}", lot, at=at)


def correct(lot: Lot, *, at: datetime) -> Change:
    """Keeps what was changed in `lot`."""
    return keep(f"Corrected {lot.product}", lot, at=at)


@transaction.atomic
def take_out(lot: Lot, count: int, mass_g: float, why: str, *, day: date, at: datetime) -> Change:
    """Takes `count` containers out, or `mass_g` [g] of what lies loose (`count` 0); InputError when there is less.

    Jars that were emptied are counted as empty ones again.
    """
    lot = Lot.objects.select_for_update().get(pk=lot.pk)  # two people may reach for the last jar
    taken = part_out(lot, count, mass_g, why, day=day, at=at)
    part = words.bundle(count, lot.container, taken.mass_g) if lot.container else words.mass(round(taken.mass_g))
    said = f"{part} {lot.product}: {why}"
    return keep(said, taken, lot, at=at, about=lot, counted=emptied(lot.household, [taken]))


def part_out(lot: Lot, count: int, mass_g: float, why: str, *, day: date, at: datetime) -> TakenOut:
    """The line of the ledger for a part that leaves; `lot` holds what is left. Neither is saved here."""
    if lot.count == 0:
        raise InputError(f"There is nothing left of {lot.product}.")
    if lot.container:
        if not 1 <= count <= lot.count:
            raise InputError(f"There are {lot.containers} of {lot.product}: take out 1 to {lot.count}.")
        mass_g = lot.mass_g * count / lot.count
        lot.count -= count
    else:
        if not 0 < mass_g <= lot.mass_g + _GRAM / 2:
            raise InputError(f"There are {words.mass(round(lot.mass_g))} of {lot.product}: take no more than that.")
        mass_g = min(mass_g, lot.mass_g)
        lot.count = 0 if lot.mass_g - mass_g < _GRAM else 1
    lot.mass_g = lot.mass_g - mass_g if lot.count else 0.0
    return TakenOut(lot=lot, count=count if lot.container else 0, mass_g=mass_g, why=why, day=day, at=at)


def remove(lot: Lot, *, at: datetime) -> Change:
    """Strikes out a lot that was a slip; what was taken from it has to be taken back first."""
    if lot.taken.exists():
        raise InputError(f"Some of the {lot.product} is used already: take that back first, or say what became of it.")
    return keep(f"Struck out {lot.product}", at=at, gone=[lot])


def free_key(household: Household, wanted: str) -> str:
    """A key that no lot of the household has."""
    key, number = wanted, 1
    while household.lots.filter(key=key).exists():
        number += 1
        key = f"{wanted} {number}"
    return key
