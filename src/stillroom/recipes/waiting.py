"""Food that spoils waits in the cold or not at all, in a household's own recipes as in ours."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.model.recipe import Use
from stillroom.recipes.step_text import is_cold
from stillroom.recipes.written import WrittenAfter, WrittenRecipe
from stillroom.tables import vocabulary
from stillroom.tables.constants import constant

_SPOILS = frozenset(
    {"pork", "beef", "lamb and game", "poultry", "fish", "dairy", "eggs", "stock and soup", "dish"},
)
_FATS = frozenset({"butter, unsalted", "butter, salted", "lard"})  # in a dough or a pan they spoil nothing in hours
_DRIED = "dryer"  # a closed dryer holds what is dry by then
_KEPT_BY_SALT = (Use.CURE, Use.FERMENT)  # days in the fridge are the cure itself


def waits_too_long(recipe: WrittenRecipe) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """(place in the file, sentence) of every wait of food that spoils beyond its limit.

    Out of the cold two hours (R103), in it two days (R122, minced meat and poultry; cures and ferments excepted).
    """
    foods = {line.food[0] for line in recipe.ingredients if line.kind != "optional"} - _FATS
    if not any(vocabulary.food(food).group in _SPOILS for food in foods):
        return
    for place, step in enumerate(recipe.steps):
        for number, after in enumerate(step.after):
            limit_min = _limit_min(after, recipe.use)
            if limit_min is not None and after.at_most > limit_min:
                where = ("steps", place, "after", number, "at most")
                yield where, f"food that spoils may wait {limit_min / 60:g} h here at most; let it wait in the fridge"


def _limit_min(after: WrittenAfter, use: Use) -> float | None:
    hold, temp_c = after.hold
    if hold.startswith(_DRIED):
        return None
    if not is_cold(hold, temp_c):
        return 60 * constant("two_hour_rule_h").value
    return None if use in _KEPT_BY_SALT else 24 * 60 * constant("raw_ground_meat_hold_days").value
