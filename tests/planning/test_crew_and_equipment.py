"""Who may do what and when, and what a step takes of the kitchen; kitchens small enough to reckon in the head."""

from dataclasses import replace
from datetime import date, time

import pytest

from stillroom.model.household import Meal, Place
from stillroom.model.kitchen import Canner, Freezer, JarKind, Kitchen, Person, Presence
from stillroom.model.process import CannerKind, JarSize
from stillroom.model.recipe import Ingredient, Need, Product, Recipe, Step, Use
from stillroom.model.work import Attention
from stillroom.planning.crew import Crew, can_work, joined
from stillroom.planning.equipment import modes_of, resources
from stillroom.planning.tasks import Batch, timetable_problem
from stillroom.planning.variants import Variant, variants
from stillroom.recipes.reader import all_recipes
from stillroom.timetable.check import check
from stillroom.timetable.problem import Span
from stillroom.timetable.solve import solve

START = date(2027, 4, 9)
COOK = Person("cook", (Presence(START, time(8), time(12)), Presence(START, time(15), time(20))))
CHILD = Person("child", (Presence(START, time(7), time(10)),), is_child=True)
KITCHEN = Kitchen(
    altitude_m=690,
    people=(COOK, CHILD),
    canners=(Canner("big", CannerKind.DIAL, 318, 275, 0.0, date(2027, 2, 1)),),
    burners=4,
    oven_trays=2,
    freezer=Freezer(200, 150),
    fridge_free_l=50,
    dryer_trays=6,
    has_mixer=False,
    jars=(JarKind("quart", JarSize.QUART.volume_ml, 99, 175, 14, 12),),
)
DINNER = Meal("dinner 1", "dinner", START, time(18, 30), 3.0, ("main",))
PEAS = Step("shell", "Shell.", 30, 0, Attention.HANDS, child_may=True)
CUT = Step("cut", "Cut.", 30, 0, Attention.HANDS)
MIND = Step("mind", "Mind.", 30, 0, Attention.NEAR, child_may=True)


def dish(*steps: Step, main_g: float = 500.0) -> Recipe:
    ingredient = Ingredient(("pea",), main_g, "", main=True)
    plate = Product("Peas", "plate", Place.COUNTER, 400.0, 0, "", None, 1.0, 1.0, "main")
    return Recipe("peas", "Peas", Use.EAT_NOW, "", "1 portion", (ingredient,), 1, 10, "the pot", steps, (plate,))


def test_a_child_does_only_what_it_may_and_only_beside_an_adult() -> None:
    crew = Crew(KITCHEN, START)
    assert crew.may_do(PEAS, Use.EAT_NOW) == ()  # everybody
    assert crew.may_do(CUT, Use.EAT_NOW) == ("cook",)
    assert crew.may_do(MIND, Use.EAT_NOW) == ("cook",)  # minding is never left to a child
    presence = {worker.name: worker.presence for worker in crew.workers}
    assert presence["child"] == (Span(8 * 60, 10 * 60),)  # from seven to eight no adult is there


def test_some_leave_a_use_to_others_and_nobody_is_no_plan_for_it() -> None:
    baker = replace(COOK, name="baker", leaves=frozenset({Use.JAR}))
    crew = Crew(replace(KITCHEN, people=(COOK, baker)), START)
    assert crew.may_do(CUT, Use.JAR) == ("cook",)
    assert crew.may_do(CUT, Use.BAKE) == ()
    alone = replace(KITCHEN, people=(baker, CHILD))
    assert not can_work(alone, Use.JAR)
    with pytest.raises(ValueError, match="Nobody"):
        Crew(alone, START).may_do(CUT, Use.JAR)
    jars = [recipe for recipe in all_recipes() if recipe.use is Use.JAR]
    assert variants(jars, KITCHEN, [], START)[0]
    assert variants(jars, alone, [], START) == ((), ())


def test_a_long_stretch_has_a_rest_in_each_part_and_a_meal_ends_a_stretch() -> None:
    crew = Crew(KITCHEN, START)
    rests = [task for task in crew.pauses([DINNER], START, {0}) if task.label == "rest"]
    # One in the midst of four hours in the morning and of 15:00 to 18:30; none in the hour after dinner.
    windows = sorted((task.earliest, task.latest_end) for task in rests if task.modes[0].workers == ("cook",))
    assert windows == [(540, 660), (952, 1056)]
    assert not any(task.modes[0].workers == ("child",) for task in rests)
    assert crew.pauses([DINNER], START, {1}) == ()


def test_dishes_are_washed_after_the_meal_that_made_them() -> None:
    crew = Crew(KITCHEN, START)
    (wash,) = crew.washing_up([18 * 60 + 30] * 2, START, [DINNER])
    assert wash.earliest == 19 * 60  # half an hour at table
    assert wash.latest_end == 20 * 60
    assert wash.modes[0].minutes == 8 + 3 + 3
    assert crew.washing_up([], START, [DINNER]) == ()


def test_washing_up_waits_for_the_next_day_when_nobody_is_there() -> None:
    morrow = date(2027, 4, 10)
    cook = replace(COOK, presence=(Presence(START, time(15), time(19)), Presence(morrow, time(8), time(9))))
    (wash,) = Crew(replace(KITCHEN, people=(cook,)), START).washing_up([1110], START, [DINNER])
    assert wash.latest_end == (24 + 9) * 60


def test_a_canner_and_a_large_pot_need_a_big_burner() -> None:
    small = replace(KITCHEN, burners=4, small_burners=3)
    assert {r.name: r.capacity for r in resources(small)}["big burner"] == 1
    assert "big burner" not in {r.name for r in resources(KITCHEN)}
    boil = Step("boil", "Boil.", 30, 0, Attention.NEAR, (Need("burner", 1),))
    variant = Variant("v", dish(boil))
    for units, names in ((9, {"burner"}), (10, {"burner", "big burner"})):  # 4.5 kg and 5 kg
        (mode,) = modes_of(boil, units, variant, small, holds_canner=False)
        assert {demand.resource for demand in mode.demands} == names


def test_trays_slow_each_other_down() -> None:
    """An oven alone takes the minutes of the recipe, one that others share a tenth more."""
    bake = Step("bake", "Bake.", 40, 0, Attention.NEAR, (Need("oven", 1, setting="180 °C"),))
    shared, alone = modes_of(bake, 1, Variant("v", dish(bake)), KITCHEN, holds_canner=False)
    assert (shared.minutes, [d.amount for d in shared.demands]) == (44, [1])
    assert (alone.minutes, [d.amount for d in alone.demands]) == (40, [2])
    (full,) = modes_of(bake, 1, Variant("v", dish(bake)), replace(KITCHEN, oven_trays=1), holds_canner=False)
    assert full.minutes == 40


def test_the_child_shells_while_the_cook_cuts() -> None:
    """Half an hour of each, one after the other by one person, does not fit into 40 minutes."""
    cook = replace(COOK, presence=(Presence(START, time(8), time(8, 40)),))
    kitchen = replace(KITCHEN, people=(cook, CHILD))
    recipe = replace(dish(PEAS, CUT), use=Use.KEEP_FRESH, products=())
    batch = Batch("b", ("peas", 0), 0, 1.0, Variant("peas", recipe))
    problem, _ = timetable_problem([batch], kitchen, [], START, 1)
    found = solve(problem, seconds=2.0, workers=1)
    assert check(problem, found) == ()
    assert {placed.task: placed.worker for placed in found.placed} == {"b:shell": "child", "b:cut": "cook"}


def test_spans_that_touch_are_one() -> None:
    assert joined([Span(5, 9), Span(0, 5), Span(12, 13)]) == (Span(0, 9), Span(12, 13))
