"""Wishes about the split: made, taken back, and gone by themselves when their plan is over."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from stillroom.model import wish as model
from stillroom.web.day.models import Wish
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household


def wishes_of(household: Household) -> tuple[model.Wish, ...]:
    """What is wished now, as the planner takes it."""
    return tuple(row.to_model() for row in open_wishes(household))


def open_wishes(household: Household) -> Sequence[Wish]:
    """Wishes whose last day has not passed."""
    return list(household.wishes.filter(until__gte=household.today))


def wish(household: Household, wishes: Sequence[tuple[model.Wish, str]], *, until: date, at: datetime) -> Change | None:
    """Keeps wishes, each with its words, until their day or `until`, in place of older ones that contradict them.

    None when all of them are kept already.
    """
    old = list(household.wishes.all())
    known = {row.to_model() for row in old if row.until >= household.today}
    new = [(one, words) for one, words in wishes if one not in known]
    if not new:
        return None
    gone = [row for row in old if any(one.contradicts(row.to_model()) for one, _ in new)]
    rows = [
        Wish(
            household=household,
            kind=one.kind.value,
            food=one.food,
            use=one.use,
            recipe=one.recipe,
            day=one.day,
            mass_g=one.mass_g,
            words=words[:200],
            until=one.day or until,
        )
        for one, words in new
    ]
    return keep(f"Wished: {', '.join(row.words for row in rows)}", *rows, at=at, gone=gone)


def drop(row: Wish, *, at: datetime) -> Change:
    """Wishes it no more."""
    return keep(f"No longer wished: {row.words}", at=at, gone=[row])
