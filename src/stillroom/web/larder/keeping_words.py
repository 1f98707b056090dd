"""A lot as a page shows it: how pressing its date is, and what to do when it is past."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from stillroom.household.clock import is_perishable
from stillroom.model.household import Place
from stillroom.tables import vocabulary
from stillroom.tables.rules import Rule, rule
from stillroom.web.larder.models import Lot

SOON_DAYS = {Place.FRIDGE: 2, Place.COUNTER: 2, Place.CELLAR: 14, Place.SHELF: 30, Place.FREEZER: 30}
_JAR_RULES = ("R085", "R086", "R087", "R081", "R082")


@dataclass(frozen=True, slots=True)
class Kept:
    """A lot with its date. `pressing`: "stop" past its best-by date, "soon", or "calm"."""

    lot: Lot
    days_left: int  # from today; negative: past
    pressing: str


def kept(lot: Lot, today: date) -> Kept:
    """How pressing a lot is today."""
    days = (lot.best_by - today).days
    return Kept(lot, days, "stop" if days < 0 else "soon" if days <= SOON_DAYS[Place(lot.place)] else "calm")


@dataclass(frozen=True, slots=True)
class WhatToDo:
    """What to do with a lot past its date, in one or two sentences, with the rules they stand on."""

    words: str
    rules: tuple[Rule, ...] = ()


def what_to_do(lot: Lot) -> WhatToDo:
    """The usual caution for a lot past its date, by its place and container.

    Source: rules.csv for sealed jars (NCHFP, USDA Complete Guide); keeping.csv, by which times in the fridge are limits
    of safety and times in the freezer limits of quality. Loose food on shelf and in cellar: common practice, no source.
    """
    place, is_sealed = Place(lot.place), any(word in lot.container for word in ("jar", "tin", "can"))
    if place is Place.FREEZER:
        return WhatToDo(
            "Frozen all the time it is still safe, but dry and dull by now: cook it next. If it ever thawed and nobody "
            "knows for how long, throw it out, untasted."
        )
    if place is Place.FRIDGE:
        return WhatToDo("In the fridge the date is a limit of safety: throw it out, untasted.")
    if is_sealed:
        return WhatToDo(
            "The date is one of quality, but an old jar wants a close look: lid firm and drawn in, no streaks, no "
            "bubbles, no bad smell, made by a tested process that was kept to. Then use it next. "
            "If anything is doubtful, throw it out, untasted.",
            tuple(rule(one) for one in _JAR_RULES),
        )
    if is_perishable(vocabulary.food(lot.food)):
        return WhatToDo("It should not stand there: throw it out, untasted.")
    return WhatToDo(
        "Look through it today: cook what is sound, throw out what is soft, mouldy or smells, and correct the date of "
        "what still keeps. Potatoes that are green or bitter go out too."
    )
