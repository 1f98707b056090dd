"""How long an arrival may wait: the published keeping time, or the household's own where that is safe.

Meat, poultry, fish, eggs, milk products, dishes and everything cooked or thawed live by a safety limit: they wait in
the fridge or not at all, and never longer than published. For vegetables, fruit and dry goods the published time is one
of quality: the household, who can look at them, may say another.
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


_ROOM_GROUPS = frozenset(  # what may wait outside the fridge, raw; every other group has a safety limit
    {
        *("vegetable", "fruit", "herb", "grain and flour", "nut and seed"),
        *("legume", "sugar and sweet", "seasoning and acid", "fat and oil", "dough and bread"),
    }
)
_PERISHABLE_GROUPS = frozenset({"beef", "pork", "lamb and game", "poultry", "fish", "dish", "stock and soup"})
_PRESERVED_WORDS = (  # what keeps by salt, smoke, drying, sugar or a tin, and for how long no table here says
    *("cured", "smoked", "dried", "salt", "salami", "jerky", "ham", "prosciutto", "pancetta", "chorizo", "anchovy"),
    *("canned", "cube", "brine", "sauce", "spread", "curd", "pie", "fat", "herring, pickled"),
)
_MADE_GROUPS = frozenset({"dish", "stock and soup", "other", "pickle and sauce", "fruit product"})  # never raw
_COOKED_WORDS = ("boiled", "cooked", "roasted", "braised", "stewed", "baked", "home prepared")
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
    return Clock(given_days, f"the household's own judgement; published: {_range_words(row)} ({row.source})", note)


def check_stored(food: Food, place: Place, container: str, kept_days: int) -> None:
    """InputError when a lot of `food` outside the freezer is to be kept longer than is published as safe [days].

    What is cured or smoked keeps its own time, and so do sealed jars and tins; a jar in the fridge counts as opened.
    Meat, fish and dishes without a published time live by the shortest of their kind; other food is not judged here.
    """
    limit = _limit_in_store(food, place, container)
    if limit is None:
        return
    if place is not Place.FRIDGE:
        raise InputError(
            f"{food.key} does not keep on the {place}: it belongs in the fridge, the freezer or sealed jars."
        )
    if kept_days > (limit.max_days or 0):
        raise InputError(
            f"{food.key} is safe in the fridge for {_days(int(limit.max_days or 0))} at the most "
            f"({limit.source}), not for {_days(kept_days)}."
        )


def longest_safe_days(food: Food, container: str) -> int | None:
    """The longest that `food` may be kept in the fridge by what is published; None: it is not judged here."""
    limit = _limit_in_store(food, Place.FRIDGE, container)
    return None if limit is None else int(limit.max_days or 0)


def _limit_in_store(food: Food, place: Place, container: str) -> Keeping | None:
    is_sealed = any(word in container for word in ("jar", "tin", "can"))
    if place is Place.FREEZER or (is_sealed and place is not Place.FRIDGE):
        return None
    if place is Place.SHELF and not is_perishable(food):
        return None
    return _stored_limit(food)


def is_perishable(food: Food) -> bool:
    """Meat, fish, stock and dishes that nothing keeps but the cold or a sealed jar."""
    return food.group in _PERISHABLE_GROUPS and not any(word in food.key for word in _PRESERVED_WORDS)


def _stored_limit(food: Food) -> Keeping | None:
    """The longest of the food's own published times in the fridge, or the shortest of its kind; None: not judged."""
    states = ("raw", "cooked", "cured", "smoked") if _has_safety_limit(food, State.RAW) else ()
    rows = [row for state in states for row in keeping(food.key, state, "refrigerator") if row.max_days is not None]
    if rows:
        return max(rows, key=lambda row: row.max_days or 0)
    return _safety_row(food, None, State.RAW)[0] if is_perishable(food) else None


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
        return Clock(
            given_days, f"the household's own, within the safety limit of {_days(limit_days)}{words} ({row.source})"
        )
    return Clock(_shorter_end(row), f"safety limit {_range_words(row)}{words} ({row.source})")


def _has_safety_limit(food: Food, state: State) -> bool:
    if state is State.DRIED:
        return False
    return state is State.THAWED or _is_cooked(food, state) or not _keeps_at_room(food)


def _keeps_at_room(food: Food) -> bool:
    is_wet_legume = food.group == "legume" and not any(word in food.key for word in ("dry", "dried", "peanut"))
    return food.group in _ROOM_GROUPS and not is_wet_legume and food.key not in ("bean sprouts", "mayonnaise")


def _is_cooked(food: Food, state: State) -> bool:
    """Cooked food by its state, its name ("carrot, boiled") or its kind (a soup); bread is baked and keeps."""
    by_name = food.group != "dough and bread" and any(word in food.key for word in _COOKED_WORDS)
    return state is State.COOKED or by_name or food.group in _MADE_GROUPS


def _safety_row(food: Food, form: str | None, state: State) -> tuple[Keeping, str]:
    """The published limit and how it was chosen; for want of the food's own row, the shortest of its kind.

    Ground or thawed food takes the shortest too: its own row is that of the whole, untouched piece.
    """
    table_state = State.COOKED if _is_cooked(food, state) else State.RAW
    own = _tightest(keeping(food.key, table_state.value, "refrigerator"))
    is_ground = form is not None and "ground" in form
    if own is not None and not is_ground and state is not State.THAWED:
        return own, ""
    if table_state is State.RAW and not _keeps_at_room(food):
        row = _shortest_of_group(food.group, State.RAW)
        if row is not None:
            return row, f", that of the most perishable {food.group} food"
    row = _shortest_of_group(None, table_state)
    assert row is not None, "the keeping table has raw and cooked food in the fridge"
    return row, f", that of the most perishable {table_state} food"


@cache
def _shortest_of_group(group: str | None, state: State) -> Keeping | None:
    """The most perishable food of a group (None: of all) in the fridge."""
    members = (food for food in foods() if group is None or food.group == group)
    return _tightest(row for food in members for row in keeping(food.key, state.value, "refrigerator"))


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
