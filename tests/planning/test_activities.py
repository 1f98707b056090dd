"""What can be done with food: how much of it, on which days, and what of the kitchen it takes."""

from dataclasses import replace
from datetime import time

import pytest
from small_kitchen import DINNER, PORK, SOUP, START, arrival, folder, household, kitchen

from stillroom.allocation.problem import (
    Activity,
    Input,
    Lot,
    Problem,
    Run,
)
from stillroom.allocation.solve import solve
from stillroom.model.kitchen import Freezer
from stillroom.planning.demand import usages
from stillroom.planning.just import just
from stillroom.planning.slips import may_slip
from stillroom.planning.split import split
from stillroom.planning.supply import Pace, attended_blocks, capacities, plannable_freezer_l, pools
from stillroom.planning.variants import Variant, variants
from stillroom.recipes.reader import all_recipes


def test_a_dish_is_offered_once_for_each_meal_that_wants_it() -> None:
    lunch = replace(DINNER, key="lunch 1", name="lunch", at=time(12))
    allowed, _ = variants([SOUP], kitchen(), [DINNER, lunch], START)
    assert {v.meal for v in allowed} == {"dinner", "lunch"}
    assert variants([SOUP], kitchen(), [replace(DINNER, roles=("bread",))], START)[0][0].meal == ""


def test_usage_counts_hands_by_the_unit_and_the_canner_by_the_load() -> None:
    (variant,), _ = variants([PORK], kitchen(), [], START)
    found = {usage.capacity: (usage.per_level, usage.per_load) for usage in usages(variant)}
    assert found["hands"] == (9, 6 + 15 + 5)
    assert variant.jar_work is not None
    cycle = variant.jar_work.cycle
    assert found["big"] == (0, cycle.total_min + 5)  # and unloading
    assert cycle.total_min >= 90 + 10 + 5 + 45  # vent, come-up, natural cooling of quarts (R002, R005, R014)
    assert found["burner"] == (0, cycle.attended_min + 15)


def test_presence_of_a_child_counts_for_nothing() -> None:
    assert attended_blocks(kitchen(), START, 0) == ((480, 720), (900, 1200))
    hands = next(c for c in capacities(kitchen(), START, 2, Pace(0.8, 60)) if c.name == "hands")
    assert hands.per_day == (pytest.approx(0.8 * 540), 0)


def test_the_freezer_is_planned_to_85_percent_and_lids_count_apart() -> None:
    """R126: a freezer is planned 75 to 85 % full."""
    assert plannable_freezer_l(kitchen()) == pytest.approx(170)
    amounts = {pool.name: pool.amount for pool in pools(kitchen())}
    assert amounts["freezer"] == pytest.approx(20)
    assert (amounts["jars quart"], amounts["lids quart"]) == (14, 12)
    assert {p.name: p.amount for p in pools(kitchen(freezer=Freezer(200, 190)))}["freezer"] == 0


def test_freezing_counts_on_the_day_of_packing() -> None:
    stock = next(recipe for recipe in all_recipes() if recipe.key == "pork_stock_frozen")
    days = {usage.day_offset for usage in usages(Variant("stock", stock)) if usage.capacity == "freezing"}
    assert days == ({0, 1} if may_slip(stock.steps, stock.steps[-1]) else {0})


def test_whole_birds_stay_whole() -> None:
    birds = replace(arrival("chicken, whole", 2), mass_g=8800, piece_g=2200)
    task = split(folder(household(DINNER), kitchen(), birds, days=3), all_recipes(), 3)
    frozen = next(a for a in task.problem.activities if a.key == "chicken_whole_frozen")
    grams = frozen.inputs[0].grams_per_level
    assert frozen.level_step * grams == pytest.approx(2200)
    assert (frozen.smallest * grams) % 2200 == pytest.approx(0, abs=1e-6)


def test_chosen_runs_stay_as_large_as_they_were_chosen_on_each_day() -> None:
    """Five kilograms of carrots: two on the first day and one on the last are chosen, the rest is given away."""
    carrots = (Input(("carrot, fresh",), 1000),)
    jars = Activity("jars", "Jars", "jar", (0, 1, 2), 1, 9, carrots, value_per_level=5.0)
    dry = Activity("dry", "Dry", "dry", (0, 1, 2), 1, 9, carrots, value_per_level=9.0)
    give = Activity("give away/carrot, fresh", "Give", "give away", (0, 1, 2), 0.25, 200, carrots)
    problem = Problem(3, (Lot("c", "carrot, fresh", 5000, 0, 2, 0.004),), (jars, dry, give), (), (), ())
    chosen = [Run("jars", 0, 2.0, 1, ()), Run("jars", 2, 1.0, 1, ())]
    found = solve(just(problem, chosen), seconds=2)
    assert {(run.activity, run.day): pytest.approx(run.level) for run in found.runs if run.activity != give.key} == {
        ("jars", 0): 2.0,
        ("jars", 2): 1.0,
    }
    given = sum(taken.grams for run in found.runs if run.activity == give.key for taken in run.taken)
    assert given == pytest.approx(2000)
