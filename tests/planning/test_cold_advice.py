"""Advice of the plan by the models of heat: cooling stock, freezing packs, thawing for a meal, hot jars that wait.

Cooling is held to the two-stage rule (FDA Food Code, as rule R095) by a computation of its own, thawing to R113.
"""

import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from stillroom.household.folder import Folder, read_folder
from stillroom.model.household import Arrival, LarderLot, Place
from stillroom.model.plan import Made, PlannedRun, TakenFood
from stillroom.model.recipe import Recipe
from stillroom.physics.medium import ice_bath
from stillroom.physics.pots import Pan, still_time_s
from stillroom.physics.properties import Fractions, thermal
from stillroom.planning.cooling import cooling_advice
from stillroom.planning.freezing import freezing_advice, is_whole
from stillroom.planning.held import Held
from stillroom.planning.pipeline import plan
from stillroom.planning.thawing import thawing_advice
from stillroom.planning.variants import Variant, variants
from stillroom.planning.waiting import waiting_advice
from stillroom.recipes.reader import all_recipes

DEMO = Path(__file__).parents[2] / "examples" / "demo"
START = date(2027, 4, 9)
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


@pytest.fixture(scope="module")
def demo() -> Folder:
    return read_folder(DEMO)


def planned(recipe: Recipe, mass_g: float, *taken: TakenFood) -> PlannedRun:
    made = tuple(Made(p.name, p.container, p.place, mass_g, None, START, None) for p in recipe.products)
    return PlannedRun("r", recipe.key, recipe.name, recipe.use, START, 1.0, "kg", taken, made, (), (), ())


def test_packs_are_told_flat_against_a_block_and_how_thick(demo: Folder) -> None:
    (said,) = freezing_advice(planned(RECIPES["beef_packs_frozen"], 5000.0), RECIPES["beef_packs_frozen"], demo)
    assert "flat packs: 1 kg 3 cm thick is solid in" in said
    assert "−15 °C in the middle" in said
    assert "as a block, 10 cm thick" in said  # a litre
    flat_h, block_h = (float(hours) for hours in re.findall(r"solid in [\d.]+ to (\d+) h", said))
    assert flat_h < block_h
    boxes = RECIPES["beef_stock_frozen"]
    assert "flat boxes" in freezing_advice(planned(boxes, 5000.0), boxes, demo)[0]


def test_a_bird_is_told_by_what_it_weighs(demo: Folder) -> None:
    whole = RECIPES["chicken_whole_frozen"]
    weighed = replace(demo, arrivals=(bird(2200.0),))
    assert "A bird of 2.2 kg in one piece" in freezing_advice(planned(whole, 4400.0), whole, weighed)[0]
    assert freezing_advice(planned(whole, 4400.0), whole, replace(demo, arrivals=())) == ()
    assert [is_whole(name) for name in ("chicken, whole", "stewing hen", "egg, whole", "milk, whole")] == [
        *(True, True),
        *(False, False),
    ]


def bird(piece_g: float) -> Arrival:
    return Arrival("a", "chicken, whole", 4400.0, START, Place.FRIDGE, 2, "", 6.0, piece_g=piece_g)


def test_what_is_too_dry_or_not_frozen_gets_no_advice(demo: Folder) -> None:
    for key in ("butter_frozen", "beef_stock_jarred", "meat_stew"):
        assert freezing_advice(planned(RECIPES[key], 2000.0), RECIPES[key], demo) == ()


def thaw_step(leaves_h: float) -> Held:
    step = next(step for step in RECIPES["frozen_mince_pasta"].steps if step.key == "thaw")
    begin = datetime.fromisoformat("2027-04-11 16:27")
    end = begin + timedelta(minutes=3)
    return Held(step, begin, end, end + timedelta(hours=leaves_h))


@pytest.mark.parametrize("leaves_h", [18.0, 30.0])
def test_a_dish_from_the_freezer_is_told_when_to_take_out_what(demo: Folder, leaves_h: float) -> None:
    """Where the step of the plan is early enough it is told, else the earlier moment and the way out (R114)."""
    recipe = RECIPES["frozen_mince_pasta"]
    lot = LarderLot("m", "mince", "beef, ground 80/20", Place.FREEZER, 3000.0, START, START, "freezer pack", 6)
    run = planned(
        recipe, 0.0, TakenFood("beef, ground 80/20, frozen", 500.0, "m"), TakenFood("onion, fresh", 99.0, "o")
    )
    (said,) = thawing_advice(run, [thaw_step(leaves_h)], replace(demo, larder=(lot,)))
    assert "Take 0.5 kg beef, ground 80/20 out of the freezer" in said
    assert "packs 3 cm thick" in said
    assert "5 h by weight" in said  # 500 g at 24 h for 5 lb
    assert ("cold water" in said) == (leaves_h < 24)
    assert ("before the step on Sunday 16:27" in said) == (leaves_h < 24)
    assert thawing_advice(run, [], demo) == ()


def hot_jars(jar: str) -> Variant:
    folder = read_folder(DEMO)
    allowed, _ = variants([RECIPES["apple_slices_jarred"]], folder.kitchen, [], START)
    return next(each for each in allowed if each.jar_work is not None and each.jar_work.jar.name == jar)


def fill_step(variant: Variant, minutes: float) -> Held:
    step = next(step for step in variant.recipe.steps if step.key == "fill")
    begin = datetime.fromisoformat("2027-04-11 16:00")
    end = begin + timedelta(minutes=minutes)
    return Held(step, begin, end, end)


def test_hot_jars_that_may_cool_before_the_canner_are_told_of() -> None:
    quarts = hot_jars("quart")
    (said,) = waiting_advice(quarts, [fill_step(quarts, 40)], 18.0)
    assert "stands 40 min before the canner" in said
    assert "82 °C (180 °F) for hot pack" in said
    assert waiting_advice(quarts, [fill_step(quarts, 5)], 18.0) == ()
    assert waiting_advice(Variant("x", RECIPES["meat_stew"]), [], 18.0) == ()


def test_a_plan_from_the_freezer_takes_out_before_it_cooks(demo: Folder) -> None:
    """From beginning to end: the moment told leaves the hours of the rule before the next step, and comes first."""
    made_on, best_by = demo.start - timedelta(days=30), demo.start + timedelta(days=90)
    lots = tuple(
        LarderLot(key, key, food, Place.FREEZER, mass_g, made_on, best_by, "freezer pack", count)
        for key, food, mass_g, count in (("mince", "beef, ground 80/20", 3000.0, 6), ("hens", "stewing hen", 4400.0, 2))
    )
    found = plan(replace(demo, arrivals=(), larder=lots), days=4, seconds=2.0, progress=lambda words: None)
    told = [(run, words) for run in found.runs for words in run.advice if "out of the freezer" in words]
    assert told
    for run, words in told:
        steps = sorted(task.start for task in found.tasks if task.run == run.key)
        hour, minute = (int(part) for part in re.findall(r"freezer (?:by|on) \w+ (\d+):(\d+)", words)[0])
        take_out = steps[0].replace(hour=hour, minute=minute)
        while take_out > steps[0]:
            take_out -= timedelta(days=1)
        by_weight_h = float(re.findall(r"([\d.]+) h by weight", words)[0])
        assert steps[1] - take_out >= timedelta(hours=by_weight_h - 0.6)
