"""How long the slices of a plan dry by the model, beside the hours of their recipe, and what they weigh when done."""

from __future__ import annotations

import re
from collections.abc import Sequence

from stillroom.errors import InputError
from stillroom.model.plan import TakenFood
from stillroom.model.recipe import Recipe, Step, Use
from stillroom.quantities.cold_text import hours_words
from stillroom.quantities.drying import Dryer, Kind, dried, heat_through_min, inside_c, kind_of
from stillroom.quantities.measured_text import read_length_mm, read_temp_c
from stillroom.tables.vocabulary import Food, food

DRYER = "dryer"
LEAF_MM = 1.0
_THICK = re.compile(r"\b[0-9]+(?:\.[0-9]+)? ?mm\b")


def drying_advice(recipe: Recipe, taken: Sequence[TakenFood], room_c: float) -> tuple[str, ...]:
    """One sentence for each food that the run dries in slices or leaves; none for halves and whole pieces."""
    step = next((step for step in recipe.steps if any(need.equipment == DRYER for need in step.needs)), None)
    if recipe.use is not Use.DRY or step is None:
        return ()
    names = dict.fromkeys(each.food.rsplit(", ", 1)[0] for each in taken)
    return tuple(words for name in names if (words := _words(recipe, step, food(name), room_c)))


def _words(recipe: Recipe, step: Step, known: Food, room_c: float) -> str:
    thickness_mm = _thickness_mm(recipe, known)
    if thickness_mm is None:
        return ""
    try:
        if kind_of(known) is Kind.MEAT:
            band = heat_through_min(known, thickness_mm)
            return (
                f"By a model the middle of a strip of {thickness_mm:g} mm can't have {inside_c(known):.0f} °C before "
                f"{band.low:.1f} min in a boiling marinade: measure it with a thermometer."
            )
        found = dried(known, thickness_mm, Dryer(_air_c(step), room_c))
    except InputError:  # no composition, a food that is dry, a room too hot for the sum
        return ""
    return (
        f"{known.key.capitalize()} of {thickness_mm:g} mm dries in {hours_words(found.hours)} by a model, "
        f"{step.fixed_min / 60:g} h in the recipe: look from {_soonest(found.hours.low)} on. A kilogram laid on the "
        f"trays weighs about {1000 * found.share_left:.0f} g when it is done; the feel of a cooled piece decides."
    )


def _soonest(hours: float) -> str:
    return f"{hours:.0f} h" if hours >= 2 else f"{60 * hours:.0f} min"


def _thickness_mm(recipe: Recipe, known: Food) -> float | None:
    """As the recipe has it cut; a leaf is thin."""
    if known.group == "herb":
        return LEAF_MM
    found = (match[0] for step in recipe.steps if (match := _THICK.search(step.text)))
    return next((read_length_mm(text) for text in found), None)


def _air_c(step: Step) -> float:
    setting = next(need.setting for need in step.needs if need.equipment == DRYER)
    return read_temp_c(setting)
