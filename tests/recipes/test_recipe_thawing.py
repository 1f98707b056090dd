"""A dish from the freezer waits long enough to thaw in the fridge, and not longer than it then keeps."""

from __future__ import annotations

import pytest

from stillroom.errors import InputError
from stillroom.model.recipe import After, Recipe
from stillroom.planning.freezing import is_whole
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.freezing import PackKind
from stillroom.quantities.thawing import thaw_time
from stillroom.recipes.reader import all_recipes
from stillroom.units import G_PER_LB

THAWED = {
    recipe.key: recipe
    for recipe in all_recipes()
    if any(step.key == "thaw" for step in recipe.steps) and any("frozen" in i.states for i in recipe.ingredients)
}
BIRD_KG, PACK_KG, PACK_M = 2.2, 0.5, 0.03


def wait_after_thaw(recipe: Recipe) -> After:
    return next(after for step in recipe.steps for after in step.after if after.step == "thaw")


def frozen_foods(recipe: Recipe) -> list[str]:
    return [food for i in recipe.ingredients if i.main and "frozen" in i.states for food in i.foods]


def test_raw_meat_and_fish_from_the_freezer_are_thawed_by_a_step() -> None:
    """Packs that go frozen into the pot are stock, vegetables, fruit, stew and bread."""
    assert len(THAWED) >= 14


@pytest.mark.parametrize("key", THAWED)
def test_it_waits_in_the_cold_for_as_long_as_packs_take(key: str) -> None:
    """A bird by R113, 24 h for 5 lb; a pack of 3 cm by the middle of the model less a tenth; then a day or two."""
    recipe = THAWED[key]
    after = wait_after_thaw(recipe)
    assert after.hold == "fridge"
    assert after.max_lag_min is not None
    for food in frozen_foods(recipe):
        if is_whole(food):
            assert after.min_lag_min >= 60 * 24 * BIRD_KG / (5 * G_PER_LB / 1000)
            assert after.max_lag_min <= 48 * 60
            continue
        try:
            pack = thaw_time(food_parts(food), PackKind.FLAT, PACK_KG, thickness_m=PACK_M)
        except InputError:  # too salty or dry for the model
            continue
        assert after.min_lag_min >= 60 * pack.times.band.middle * 0.9, food
        assert after.max_lag_min <= 60 * (pack.times.band.low + 24) + 60 * 24, food
