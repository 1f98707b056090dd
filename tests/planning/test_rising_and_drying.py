"""What a plan says of its doughs and its dryer, by our recipes in kitchens of several temperatures."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import pytest

from stillroom.model.plan import TakenFood
from stillroom.model.recipe import Recipe
from stillroom.planning.drying import drying_advice
from stillroom.planning.held import Held
from stillroom.planning.rising import rising_advice
from stillroom.recipes.reader import all_recipes

RECIPES = {recipe.key: recipe for recipe in all_recipes()}
BREAD = RECIPES["bread_overnight"]
EVENING = datetime(2027, 4, 10, 20, 0)  # noqa: DTZ001 - the kitchen's own clock, a Saturday


def held(recipe: Recipe, key: str, hours: float) -> list[Held]:
    step = next(step for step in recipe.steps if step.key == key)
    return [Held(step, EVENING - timedelta(minutes=20), EVENING, EVENING + timedelta(hours=hours))]


def moments(words: str) -> tuple[float, float]:
    """Hours after the evening between which the dough is said to be ready."""
    first, last = re.findall(r"(Saturday|Sunday|Monday) (\d\d):(\d\d)", words.partition("between ")[2])[:2]
    days = {"Saturday": 0, "Sunday": 24, "Monday": 48}
    return tuple(days[day] + int(h) + int(m) / 60 - 20 for day, h, m in (first, last))  # type: ignore[return-value]


def test_at_the_temperature_of_the_recipe_it_is_the_recipe() -> None:
    (said,) = rising_advice(BREAD, held(BREAD, "mix", 12.0), 20.0)
    assert moments(said) == pytest.approx((10, 16), abs=0.1)
    assert "but the plan" not in said
    assert "Watch the dough" in said


@pytest.mark.parametrize("room_c", [16.0, 18.0, 22.0, 24.0])
def test_the_window_moves_about_as_the_rule_of_bakers_says(room_c: float) -> None:
    """R226: twice the time for each 17 °F colder; the model lies within a fifth of it in a kitchen."""
    (said,) = rising_advice(BREAD, held(BREAD, "mix", 12.0), room_c)
    for said_h, recipe_h in zip(moments(said), (10, 16), strict=True):
        assert said_h == pytest.approx(recipe_h * 2 ** ((20 - room_c) / 9.444), rel=0.2)


def test_a_plan_that_goes_on_too_early_or_too_late_says_what_to_do() -> None:
    (early,) = rising_advice(BREAD, held(BREAD, "mix", 10.5), 18.0)
    assert re.search(r"but the plan goes on at 06:30: stand it where it is (19|2\d) °C", early)
    (late,) = rising_advice(BREAD, held(BREAD, "mix", 15.5), 24.0)
    assert re.search(r"but the plan goes on at 11:30: in the fridge until \w+ \d\d:\d\d, then out", late)
    (cold,) = rising_advice(BREAD, held(BREAD, "mix", 10.0), 8.0)
    assert re.search(r"stand it where it is 2[3-7] °C", cold)
    (soon,) = rising_advice(BREAD, held(BREAD, "mix", 5.0), 8.0)
    assert "a warm place from the beginning, or more time" in soon
    (icy,) = rising_advice(BREAD, held(BREAD, "mix", 12.0), 2.0)
    assert "may not rise" in icy
    assert rising_advice(BREAD, held(BREAD, "mix", 12.0), -3.0) == ()


def test_a_dough_for_the_cellar_is_told_what_the_kitchen_would_do_to_it() -> None:
    rye = RECIPES["rye_overnight"]
    (said,) = rising_advice(rye, held(rye, "mix", 13.0), 18.0)
    assert "keep it at 14 °C, or in the fridge until" in said
    assert moments(said)[1] < 13


def test_a_cold_rise_is_left_alone_and_a_short_one_is_told_only_where_it_matters() -> None:
    rolls, milk = RECIPES["rolls_overnight"], RECIPES["milk_loaf_overnight"]
    assert rising_advice(rolls, held(rolls, "shape", 12.0), 18.0) == ()
    assert rising_advice(milk, held(milk, "mix", 12.0), 18.0) == ()
    assert rising_advice(BREAD, held(BREAD, "shape", 1.0), 21.0) == ()
    (said,) = rising_advice(BREAD, held(BREAD, "shape", 0.75), 17.0)
    assert "A rise of 45 min at 22 °C takes about" in said
    assert "or wait for it" in said
    (rich,) = rising_advice(milk, held(milk, "shape", 1.5), 18.0)
    assert "stand it where it is 24 °C" in rich
    assert "wait for it" not in rich  # egg and milk stay no longer than two hours out of the cold (R103, R233)


def test_other_recipes_rise_nothing() -> None:
    pears = RECIPES["pears_dried"]
    assert rising_advice(pears, held(pears, "prepare", 1.0), 18.0) == ()


def taken(food: str) -> list[TakenFood]:
    return [TakenFood(f"{food}, fresh", 2000.0, "crate")]


def test_slices_on_the_dryer() -> None:
    (said,) = drying_advice(RECIPES["apple_rings_dried"], taken("apple"), 18.0)
    assert "Apple of 6 mm dries in" in said
    assert "8 h in the recipe" in said
    assert re.search(r"weighs about 18\d g", said)  # R166: 85.6 % of water to 20 %
    low, high = map(float, re.search(r"dries in ([\d.]+) to ([\d.]+) h", said).groups())  # type: ignore[union-attr]
    assert low < 8 < high


def words_for(key: str) -> tuple[str, Recipe]:
    recipe = RECIPES[key]
    food = next(line.foods[0] for line in recipe.ingredients if line.main)
    (said,) = drying_advice(recipe, taken(food), 20.0)
    return said, recipe


@pytest.mark.parametrize("key", ["mushrooms_dried", "onions_dried"])
def test_the_hours_of_our_recipes_lie_within_the_band(key: str) -> None:
    said, recipe = words_for(key)
    recipe_h = next(step for step in recipe.steps if step.key == "dry").fixed_min / 60
    low, unit, high = re.search(r"dries in ([\d.]+) ?(min|h|) to ([\d.]+) h", said).groups()  # type: ignore[union-attr]
    assert float(low) / (60 if unit == "min" else 1) < recipe_h < float(high)
    assert f"{recipe_h:g} h in the recipe" in said


def test_leaves_count_as_thin() -> None:
    assert "of 1 mm dries in" in words_for("herbs_dried")[0]


def test_meat_is_heated_first_and_halves_get_no_hours() -> None:
    (said,) = drying_advice(RECIPES["jerky_dried"], taken("venison"), 18.0)
    assert "can't have 71 °C before" in said
    for key, food in (("plums_dried", "plum"), ("tomatoes_dried", "tomato"), ("apple_slices_jarred", "apple")):
        assert drying_advice(RECIPES[key], taken(food), 18.0) == ()
