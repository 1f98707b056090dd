"""Every change of an arrival. Each can be taken back, and each is safe under a form's token."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction

from stillroom.errors import InputError
from stillroom.household import written_words as words
from stillroom.household.bundles import Bundle
from stillroom.web.arrivals.line import ASSUMED, Line
from stillroom.web.arrivals.models import Arrival, Taken
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household

_ROUNDING_G = 0.5


def add(household: Household, line: Line, *, at: datetime) -> Change:
    """Enters what came in or is expected."""
    arrival = Arrival(
        household=household,
        key=_free_key(household, line.food, line.day),
        name=line.name,
        food=line.food,
        mass_g=line.bundle.mass_g,
        count=line.bundle.count,
        piece=line.bundle.piece,
        day=line.day,
        is_here=line.day <= household.today,
        place=line.place.value,
        state=line.state.value,
        given_days=line.given_days,
        note=line.note,
    )
    in_name = bool(arrival.piece) and arrival.piece.lower() in arrival.name.lower()
    told = arrival.amount if in_name else f"{arrival.amount} {arrival.name}"
    return keep(f"Added {told}", arrival, at=at)


def correct(arrival: Arrival, *, at: datetime) -> Change:
    """Keeps what was changed in `arrival`; InputError when more was taken than it now holds."""
    taken_g = sum(taken.mass_g for taken in arrival.taken.all())
    if arrival.mass_g + _ROUNDING_G < taken_g:
        raise InputError(f"{words.mass(round(taken_g))} of it are used already, so it can't have been less than that.")
    arrival.clock()
    return keep(f"Corrected {arrival.name}", arrival, at=at)


def set_clock(arrival: Arrival, days: int, *, at: datetime) -> Change:
    """Says how long it waits, in the place of a clock that was assumed; InputError when that is not safe."""
    notes = [note for note in arrival.note.split(", ") if note and note != ASSUMED]
    arrival.given_days, arrival.note = days, ", ".join(notes)
    return correct(arrival, at=at)


def say_it_came(arrival: Arrival, *, on: date, at: datetime) -> Change | None:
    """It is in the house since `on`; its clock starts then."""
    if arrival.is_here:
        return None
    arrival.is_here, arrival.day = True, on
    return keep(f"{arrival.name.capitalize()} came", arrival, at=at)


@transaction.atomic
def divide(arrival: Arrival, bundle: Bundle, *, at: datetime, **changes: object) -> tuple[Arrival, Change]:
    """Makes a part of what is left an arrival of its own, with a place, a note or a clock of its own."""
    if not 0 < bundle.mass_g < arrival.left_g:
        raise InputError(f"There are {words.mass(round(arrival.left_g))} left: a part must be smaller than that.")
    part = Arrival.objects.get(pk=arrival.pk)
    part.pk, part.mass_g, part.count, part.piece = None, bundle.mass_g, bundle.count, bundle.piece
    part.key = _free_key(arrival.household, arrival.food, arrival.day)
    for field, value in changes.items():
        setattr(part, field, value)
    part._state.adding = True
    part.clock()
    each_g = arrival.mass_g / arrival.count
    arrival.mass_g -= bundle.mass_g
    pieces = round(arrival.mass_g / each_g)
    if abs(pieces * each_g - arrival.mass_g) > _ROUNDING_G or pieces < 1:
        pieces, arrival.piece = 1, ""
    arrival.count = pieces
    return part, keep(f"Divided {arrival.name}", arrival, part, at=at, about=arrival)


def take(arrival: Arrival, mass_g: float, why: str, *, at: datetime) -> Change:
    """Takes `mass_g` [g] of what is left: eaten, given away, spoilt, or for a batch."""
    left_g = arrival.left_g
    if not 0 < mass_g <= left_g + _ROUNDING_G:
        raise InputError(f"There are {words.mass(round(left_g))} of {arrival.name} left: take no more than that.")
    taken = Taken(arrival=arrival, mass_g=min(mass_g, left_g), why=why, at=at)
    return keep(f"{words.mass(round(taken.mass_g))} {arrival.name}: {why}", taken, at=at, about=arrival)


def remove(arrival: Arrival, *, at: datetime) -> Change:
    """Strikes out an arrival that was a slip; what was taken from it has to be taken back first."""
    if arrival.taken.exists():
        raise InputError(f"Some of the {arrival.name} is used already: take that back first, or say what became of it.")
    return keep(f"Struck out {arrival.name}", at=at, gone=[arrival])


def _free_key(household: Household, food: str, day: date) -> str:
    key, number = f"{food} {day}", 1
    while household.arrivals.filter(key=key).exists():
        number += 1
        key = f"{food} {day} {number}"
    return key
