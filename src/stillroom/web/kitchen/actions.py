"""Every change of the household and its kitchen, and the steps of the set-up."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time

from django.db import models, transaction

from stillroom.errors import InputError
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household, MealTime, Person

_NAME_LENGTH = 75  # of 80, with room for a number
SET_UP_STEPS = ("place", "people", "canners", "equipment", "jars", "arrival")


def free_name(name: str) -> str:
    """`name`, with a number after it where another household here has it."""
    free, number = name, 1
    while Household.objects.filter(name__iexact=free).exists():
        number += 1
        free = f"{name[:_NAME_LENGTH]} {number}"
    return free


@transaction.atomic
def begin_household(name: str, *, at: datetime) -> Household:
    """A kitchen of one's own with what most have, opened; the height is asked for first, since nobody can guess it."""
    household = Household.objects.create(
        name=free_name(name or "Our household"), opened_at=at, set_up_step=SET_UP_STEPS[0]
    )
    Person.objects.create(household=household, name="Cook")
    MealTime.objects.create(household=household, name="dinner", days="daily", at=time(18, 30), roles=["main", "side"])
    return household


def open_household(household: Household, *, at: datetime) -> None:
    """Shows this household from now on."""
    household.opened_at = at
    household.save(update_fields=["opened_at"])


def end_step(household: Household, step: str) -> str:
    """The step after `step`, "" when that was the last; only the step the household is at moves it on."""
    if household.set_up_step == step:
        place = SET_UP_STEPS.index(step) + 1
        if step == SET_UP_STEPS[0] and household.altitude_m is None:
            raise InputError("Say first how high the kitchen lies: the altitude sets the pressure of every canner.")
        household.set_up_step = SET_UP_STEPS[place] if place < len(SET_UP_STEPS) else ""
        household.save(update_fields=["set_up_step"])
    return household.set_up_step


def change(what: str, *rows: models.Model, at: datetime) -> Change:
    """Keeps rows of the kitchen as they were typed."""
    return keep(f"Changed: {what}", *rows, at=at)


def add(what: str, row: models.Model, *, at: datetime) -> Change:
    """A further person, canner, jar and so on."""
    return keep(f"Added: {what}", row, at=at)


def remove(what: str, row: models.Model, *, at: datetime) -> Change:
    """Takes a row out; somebody has to eat and somebody has to work."""
    if isinstance(row, Person):
        others: Sequence[Person] = row.household.people.exclude(pk=row.pk)
        if not any(person.eats for person in others) or not any(person.helps for person in others):
            raise InputError(f"{row.name} is the last one who eats or works here: write down somebody else first.")
    return keep(f"Taken out: {what}", at=at, gone=[row])
