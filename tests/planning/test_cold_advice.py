"""The advice to cool a stock: its pans hold the batch, and keep the two-stage rule (FDA Food Code, as rules R095)."""

import re

import pytest

from stillroom.physics.medium import ice_bath
from stillroom.physics.pots import Pan, still_time_s
from stillroom.physics.properties import Fractions, thermal
from stillroom.planning.cooling import cooling_advice
from stillroom.recipes.reader import all_recipes

RECIPES = {recipe.key: recipe for recipe in all_recipes()}
WATERY = thermal(Fractions(0.96, 0.03, 0.005, 0.0, 0.0, 0.005), 40.0)


@pytest.mark.parametrize("units", [1.0, 4.0, 7.5])
def test_pans_hold_the_batch_and_a_layer_of_that_depth_cools_in_time(units: float) -> None:
    recipe = RECIPES["beef_stock_frozen"]
    (said,) = cooling_advice(recipe, units)
    kg, pans, depth_cm, low, high = (
        float(number)
        for number in re.findall(
            r"cool ([\d.]+) kg in time: (\d+) pans? .*than ([\d.]+) cm.*\(([\d.]+) to ([\d.]+) kg of ice", said
        )[0]
    )
    assert kg == pytest.approx(units * recipe.products[0].mass_g_per_unit / 1000, abs=0.051)
    assert pans * 40 * 30 * depth_cm / 1000 >= kg * 1000 / WATERY.density_kg_m3 - 0.05
    layer = Pan(0.40, 0.30, depth_cm / 100)
    until_first, until_last = (
        still_time_s(layer, WATERY, ice_bath(), ice_bath().film_low, from_c=57.2, to_c=to_c) / 3600
        for to_c in (21.1, 5.0)
    )
    assert until_first <= 2
    assert until_last <= 6
    # Melting takes 334 kJ/kg: the least ice is what water of that heat alone would need.
    assert kg * 4.1 * 90 / 334 <= low <= high


@pytest.mark.parametrize("key", ["stew_frozen", "vegetable_puree_frozen", "chicken_stock_jarred"])
def test_dishes_that_are_cooled_in_ice_are_told_how_too(key: str) -> None:
    (said,) = cooling_advice(RECIPES[key], 2.0)
    assert "in ice water to the end" in said


def test_what_is_not_poured_or_not_cooled_in_ice_gets_no_advice() -> None:
    assert cooling_advice(RECIPES["beans_green_frozen"], 2.0) == ()
    assert cooling_advice(RECIPES["salt_pork"], 2.0) == ()
