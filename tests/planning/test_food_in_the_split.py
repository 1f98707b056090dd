"""Food as the split sees it: how long it is good, what it is worth, what comes back when it is used."""

from dataclasses import replace

import pytest
from small_kitchen import PORK, SOUP, START, arrival, folder, household, kitchen, lot

from stillroom.allocation.problem import (
    GivesBack,
    Run,
)
from stillroom.model.household import Place, Target
from stillroom.planning.batches import batches_of_run
from stillroom.planning.items import arrival_lots, input_worth, larder_lots, state_of, worths
from stillroom.planning.ready import have_ready
from stillroom.planning.runs import planned_run
from stillroom.planning.split import split
from stillroom.planning.variants import variants
from stillroom.planning.wishes import targets
from stillroom.recipes.reader import all_recipes


def test_states_follow_from_the_place() -> None:
    assert state_of(Place.SHELF, "quart jar") == "jarred"
    assert state_of(Place.SHELF, "dry jar") == "dried"
    assert state_of(Place.SHELF, "sack") == "fresh"  # a sack of potatoes is not ready to eat
    assert state_of(Place.FREEZER, "freezer pack") == "frozen"
    assert state_of(Place.FRIDGE, "tub") == "fresh"


def test_food_that_outlives_the_plan_costs_what_it_could_still_become() -> None:
    soon, later, gone = arrival_lots([arrival("potato", 2), arrival("carrot", 40), arrival("leek", 1, 9)], START, 7) + (
        None,
    )
    assert gone is None  # it comes after the plan
    assert soon is not None
    assert later is not None
    assert (soon.is_store, soon.worth_per_g, soon.last_day) == (False, 0.004, 2)
    assert later.is_store
    assert 0 < later.worth_per_g < soon.worth_per_g


def test_worth_is_handed_down_and_missing_food_has_none() -> None:
    lots = arrival_lots([arrival("potato", 2)], START, 7)
    worth = worths(lots, [arrival("potato", 2)], [SOUP])
    assert input_worth(SOUP, worth) == 0.004
    assert input_worth(PORK, worth) is None


@pytest.mark.parametrize(
    ("best_by", "last_day", "is_store"),
    [(0, 0, False), (2, 2, False), (7, 7, True)],
)
def test_what_stands_in_the_fridge_is_used_by_its_date(best_by: int, last_day: int, is_store: bool) -> None:
    (found,) = larder_lots([lot(Place.FRIDGE, best_by)], (), START, 7)
    assert (found.last_day, found.is_store) == (last_day, is_store)


def test_a_jar_from_the_shelf_comes_back_the_day_after_and_a_lid_only_if_it_is_reusable() -> None:
    jars = kitchen().jars
    soup = replace(lot(Place.SHELF, 20, "quart jar"), count=2)
    (found,) = larder_lots([soup], jars, START, 7)
    assert found.gives_back == (GivesBack("jars quart", 1.0, 500.0, after_days=1, is_whole=True),)
    (found,) = larder_lots([soup], [replace(jars[0], has_reusable_lids=True)], START, 7)
    assert [back.pool for back in found.gives_back] == ["jars quart", "lids quart"]
    (found,) = larder_lots([replace(soup, container="bottle")], jars, START, 7)
    assert found.gives_back == ()


def test_what_comes_back_is_told_when_it_is_needed() -> None:
    (variant,), _ = variants([PORK], kitchen(), [], START)
    run = planned_run(Run(variant.key, 0, 14.0, 2, ()), variant, {}, START, ())
    wanted = have_ready(kitchen(), [(variant, run)], {}, {"jars quart": 3.0, "lids quart": 3.0})
    told = {entry.what: (entry.needed, entry.in_house) for entry in wanted}
    assert told["quart jars"] == (14, 14)
    assert told["new lids for quart jars (3 come back when emptied)"] == (14, 15)


def test_what_is_past_its_date_is_not_planned_with() -> None:
    assert larder_lots([lot(Place.FRIDGE, -1), lot(Place.SHELF, -4, "quart jar")], (), START, 7) == ()


def test_parts_keep_from_the_day_the_bird_came_in_not_from_the_cutting() -> None:
    """FSIS: raw poultry 1 to 2 days in the fridge; cutting it up does not begin a new clock."""
    birds = replace(arrival("chicken, whole", 2, 1), mass_g=8800)
    task = split(folder(household(), kitchen(), birds, days=7), all_recipes(), 7)
    cuts = [a for a in task.problem.activities if a.key.startswith("chicken_cut_up")]
    assert cuts
    came = 1
    for cut in cuts:
        for output in cut.outputs:
            assert max(cut.days) + output.keeps_days <= came + 2, (cut.key, output.item)


def test_nothing_is_soaked_or_mixed_before_it_has_come() -> None:
    beans = replace(arrival("kidney bean, dry", 300, 2), mass_g=5000)
    task = split(folder(household(), kitchen(), beans, days=7), all_recipes(), 7)
    found = [a for a in task.problem.activities if "beans_dried" in a.key]
    assert found
    for activity in found:
        variant = task.variants[activity.key]
        assert variant.lead_days == 1
        assert min(usage.day_offset for usage in activity.usages) == 0  # the soak is on the day the beans are taken
    run = Run(found[0].key, 2, found[0].smallest, 1, ())
    (made,) = batches_of_run(run, task.variants[found[0].key], folder(household(), kitchen(), beans, days=7))
    assert made.day == 3  # and the canning on the next


def test_targets_count_what_is_in_store() -> None:
    wanting = household(targets=(Target("potato", 10_000), Target("carrot", 1_000)))
    (found,) = targets(wanting, {"potato": 4_000, "carrot": 2_000}, {"potato, fresh": 0.004})
    assert (found.name, sum(amount for amount, _ in found.steps)) == ("potato", 6_000)
    values = [value for _, value in found.steps]
    assert values == sorted(values, reverse=True)
