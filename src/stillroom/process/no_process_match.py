"""Finds the published warning that names this food, or this way of preparing it."""

from __future__ import annotations

from stillroom.tables.no_process import NoProcess, no_process
from stillroom.tables.spelling import plain

_SAY_NOTHING = frozenset(
    {
        "and",
        "or",
        "in",
        "a",
        "an",
        "as",
        "the",
        "for",
        "with",
        "of",
        "on",
        "whole",
        "alone",
        "fruit",
        "pack",
        "packed",
        "dish",
    }
)
_STEM = 4  # "mash", "mashed" and "mashing" share their first four letters


def warning_for(food: str, process_food: str | None, form: str | None) -> NoProcess | None:
    """The entry that forbids the food, however prepared or prepared as `form`; None where there is none.

    A food with rows of its own is forbidden only by a preparation that the asked form names.
    """
    entries = [e for e in no_process() if e.methods == "all" and {food, process_food} & set(e.foods)]
    for entry in entries:
        if form is not None and _names(entry.preparation, form):
            return entry
    if process_food is not None:
        return None
    whole = [e for e in entries if not e.preparation]
    return next(iter(whole or entries), None)


def warnings_for(food: str) -> tuple[NoProcess, ...]:
    """Every entry that names the food, whatever the preparation."""
    return tuple(entry for entry in no_process() if food in entry.foods)


def _names(preparation: str, form: str) -> bool:
    """Whether the asked form says one of the words of a preparation: “puree” in “mashed or pureed”."""
    asked, listed = _stems(form), _stems(preparation)
    return bool(asked & listed)


def _stems(text: str) -> set[str]:
    return {word[:_STEM] for word in plain(text).split() if word not in _SAY_NOTHING and len(word) >= _STEM}
