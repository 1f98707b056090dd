"""How long an arrival may wait: the published keeping time, or the household's own where that is safe.

Meat, poultry, fish, stock, milk products and everything cooked live by a safety limit: they wait in the fridge or not
at all, and never longer than published. For vegetables and fruit the published time is one of quality: the household,
who can look at them, may say another.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from stillroom.errors import InputError
from stillroom.model.household import Place
from stillroom.tables.keeping import Keeping, keeping
from stillroom.tables.vocabulary import Food, foods


class State(StrEnum):
    """In which state food comes into the house."""

    RAW = "raw"
    COOKED = "cooked"
    THAWED = "thawed"
    DRIED = "dried"


@dataclass(frozen=True, slots=True)
class Clock:
    """Days after the day of arrival on which the food may still be used; `note` is a warning or empty."""

    keep_days: int
    reason: str
    note: str = ""


_CHILLED_GROUPS = frozenset({"beef", "pork", "lamb and game", "poultry", "fish", "dairy", "stock and soup"})
_TABLE_PLACE = {Place.FRIDGE: "refrigerator", Place.SHELF: "pantry", Place.CELLAR: "pantry", Place.COUNTER: "pantry"}
_NO_LIMIT_DAYS = 365  # printed as "indefinitely": a year is longer than any plan


def clock(food: Food, form: str | None, state: State, place: Place, given_days: int | None) -> Clock:
    """The clock of `food`; InputError when nothing is published and none is given, or a given one is not safe.

    Where a range is published and no clock is given, its shorter end is taken.
    Source: tables.keeping (FSIS FoodKeeper); refrigerator times of meat, fish, dairy and cooked food are safety limits.
    """
    if place is Place.FREEZER:
        raise InputError("what is frozen already is a lot in store: write it in larder.yaml.")
    if _has_safety_limit(food, state):
        return _safe_clock(food, form, state, place, given_days)
    row = _tightest(keeping(food.key, state.value, _TABLE_PLACE[place]))
    if given_days is None:
        if row is None:
            raise InputError(
                f"no keeping time is published for {food.key}, {state}, on the {place}: look at it and say how long it "
                "will wait, like “clock: 3 days”."
            )
        return Clock(_shorter_end(row), f"{_range_words(row)} ({row.source})")
    if row is None:
        return Clock(given_days, "the household's own judgement; no keeping time is published for this place")
    note = ""
    if row.max_days is not None and given_days > row.max_days:
        note = f"{food.key} is given {_days(given_days)}, longer than the published {_range_words(row)}"
    return Clock(given_days, f"the household's own judgement; published: {_range_words(row)}", note)


def _safe_clock(food: Food, form: str | None, state: State, place: Place, given_days: int | None) -> Clock:
    if place is not Place.FRIDGE:
        raise InputError(
            f"{food.key}, {state}, can't wait on the {place}: it is safe there for two hours at the most. "
            "Put it in the fridge, and write “place: fridge”."
        )
    row, words = _safety_row(food, form, state)
    limit_days = int(row.max_days) if row.max_days is not None else _NO_LIMIT_DAYS
    if given_days is not None and given_days > limit_days:
        raise InputError(
            f"{_days(given_days)} is too long for {food.key}, {state}, in the fridge: it is safe for "
            f"{_days(limit_days)} at the most ({row.source})."
        )
    if given_days is not None:
        return Clock(given_days, f"the household's own, within the safety limit of {_days(limit_days)}{words}")
    return Clock(_shorter_end(row), f"safety limit {_range_words(row)}{words} ({row.source})")


def _has_safety_limit(food: Food, state: State) -> bool:
    return state in (State.COOKED, State.THAWED) or (food.group in _CHILLED_GROUPS and state is not State.DRIED)


def _safety_row(food: Food, form: str | None, state: State) -> tuple[Keeping, str]:
    """The published limit and how it was chosen; for want of the food's own row, the shortest of its kind.

    Ground or thawed food takes the shortest too: its own row is that of the whole, untouched piece.
    """
    table_state = State.RAW if state is State.THAWED else state
    own = _tightest(keeping(food.key, table_state.value, "refrigerator"))
    is_ground = form is not None and "ground" in form
    if own is not None and not is_ground and state is not State.THAWED:
        return own, ""
    group = food.group if table_state is State.RAW and food.group in _CHILLED_GROUPS else None
    return _shortest_of_group(group, table_state), f", that of the most perishable {group or 'cooked'} food"


@cache
def _shortest_of_group(group: str | None, state: State) -> Keeping:
    members = (food for food in foods() if group is None or food.group == group)
    rows = _tightest(row for food in members for row in keeping(food.key, state.value, "refrigerator"))
    if rows is None:
        raise InputError(f"no safe keeping time is published for {group or 'this'} food, {state}, in the fridge.")
    return rows


def _tightest(rows: Iterable[Keeping]) -> Keeping | None:
    """The row with the shortest longest time: where two products disagree, the cautious one."""
    return min(rows, key=lambda row: row.max_days if row.max_days is not None else _NO_LIMIT_DAYS, default=None)


def _shorter_end(row: Keeping) -> int:
    ends = (days for days in (row.min_days, row.max_days) if days is not None)
    return int(min(ends, default=_NO_LIMIT_DAYS))  # two hours are no day


def _range_words(row: Keeping) -> str:
    if row.min_days is None and row.max_days is None:
        return "without limit"
    if row.min_days is None or row.max_days is None or row.min_days == row.max_days:
        return _days(_shorter_end(row))
    return f"{row.min_days:g} to {row.max_days:g} days"


def _days(days: int) -> str:
    return f"{days} day" if days == 1 else f"{days} days"
