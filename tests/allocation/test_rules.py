"""Each rule of the split on the smallest problem in which it decides."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from small import activity, capacity, lot, problem

from stillroom.allocation.check import check
from stillroom.allocation.problem import (
    Allocation,
    Cut,
    GivesBack,
    Input,
    MealNeed,
    Outcome,
    Output,
    Pool,
    PoolUse,
    Problem,
    Serving,
    Target,
    TargetStep,
    Usage,
)
from stillroom.allocation.solve import solve

BEANS = lot("beans", 1000, 0, 9)


def answer_of(task: Problem) -> Allocation:
    answer = solve(task, seconds=5)
    assert check(task, answer) == ()
    assert answer.outcome is Outcome.OPTIMAL
    return answer


def levels(answer: Allocation) -> dict[tuple[str, int], float]:
    return {(run.activity, run.day): pytest.approx(run.level, abs=1e-5) for run in answer.runs}


def test_food_is_the_limit() -> None:
    answer = answer_of(problem(activity(grams=300), lots=(BEANS,)))
    assert answer.objective == pytest.approx(10 / 3)


def test_whole_jars_only() -> None:
    assert levels(answer_of(problem(activity(grams=300, level_step=1), lots=(BEANS,)))) == {("jar", 0): 3}


def test_nothing_below_the_smallest_batch() -> None:
    assert answer_of(problem(activity(grams=300, smallest=4), lots=(BEANS,))).runs == ()


def test_a_load_begun_takes_a_load() -> None:
    jar = activity(level_per_load=4, usages=(Usage("canner", per_load=60),))
    answer = answer_of(problem(jar, lots=(BEANS,), capacities=(capacity(130, name="canner"),)))
    assert levels(answer) == {("jar", 0): 8}
    assert answer.runs[0].loads == 2


def test_the_evening_before_must_be_in_the_plan() -> None:
    bread = activity("bread", days=(0, 1), usages=(Usage("hands", -1, fixed=10),), largest=1)
    answer = answer_of(problem(bread, lots=(BEANS,), days=2, capacities=(capacity(10, 0),)))
    assert levels(answer) == {("bread", 1): 1}


def test_the_evening_before_takes_its_hands() -> None:
    bread = activity("bread", days=(0, 1), usages=(Usage("hands", -1, fixed=10),), largest=1)
    assert answer_of(problem(bread, lots=(BEANS,), days=2, capacities=(capacity(9, 99),))).runs == ()


def test_on_so_many_days_and_one_variant_a_day() -> None:
    often = activity(days=(0, 1, 2), largest=1, at_most=2)
    assert len(answer_of(problem(often, lots=(BEANS,), days=3)).runs) == 2
    pint, quart = (activity(size, largest=1, family="jar") for size in ("pint", "quart"))
    assert len(answer_of(problem(pint, quart, lots=(BEANS,))).runs) == 1


def test_food_is_usable_in_its_window_only() -> None:
    task = problem(activity(days=(0, 1, 2, 3)), lots=(lot("beans", 500, 1, 2, 0.01),), days=4)
    assert {run.day for run in answer_of(task).runs} <= {1, 2}


def test_a_carcass_feeds_its_parts_when_they_are_ready() -> None:
    cut = activity("cut", takes="pig", grams=1000, value_per_level=0, outputs=(Output("belly", 200, 1, 1, 0.01),))
    cure = activity("cure", takes="belly", grams=100, days=(0, 1, 2, 3))
    answer = answer_of(problem(cut, cure, lots=(lot("pig", 5000, 0, 0, 0.0),), days=4))
    cured = [run for run in answer.runs if run.activity == "cure"]
    assert sum(run.level for run in cured) == pytest.approx(10)
    assert {run.day for run in cured} <= {1, 2}
    assert {taken.lot for run in cured for taken in run.taken} == {"run:cut:0:belly"}


@pytest.mark.parametrize(("last", "lost"), [(1, 10.0), (2, 0.0)])
def test_waste_counts_only_when_the_clock_ends_in_the_plan(last: int, lost: float) -> None:
    answer = answer_of(problem(lots=(lot("beans", 1000, 0, last, 0.01),), days=2))
    assert answer.objective == pytest.approx(-lost)
    assert answer.spoiled == ((("beans", 1000.0),) if lost else ())


@pytest.mark.parametrize(("keeps", "lost"), [(0, 5.0), (1, 0.0)])
def test_what_is_made_may_spoil_too(keeps: int, lost: float) -> None:
    cut = activity("cut", grams=1000, outputs=(Output("parts", 500, 0, keeps, 0.01),), value_per_level=9)
    assert answer_of(problem(cut, lots=(BEANS,))).objective == pytest.approx(9 - lost)


def test_nothing_is_made_from_itself() -> None:
    """A starter that feeds itself gives starter from the next day on, and there is none on the first."""
    feed = activity("feed", takes="starter", grams=100, outputs=(Output("starter", 200, 0, 5, 0.0),), days=(0, 1))
    assert answer_of(problem(feed, days=2)).runs == ()
    begun = answer_of(problem(feed, lots=(lot("starter", 100, 0, 9),), days=2))
    assert levels(begun) == {("feed", 0): 1, ("feed", 1): 2}


def test_stores_cost_their_worth_and_make_room() -> None:
    """1 L of room; each unit frozen takes 1 L; 300 g from the freezer give 3 L back, from that day on."""
    peas = lot("peas", 300, 0, 9, 0.001, is_store=True, gives_back=(GivesBack("freezer", 10, 1000),))
    soup = activity("soup", takes="peas", days=(1,))
    freeze = activity("freeze", days=(0, 2), pools=(PoolUse("freezer", 1.0),))
    task = problem(soup, freeze, lots=(BEANS, peas), days=3, pools=(Pool("freezer", 1.0, "the freezer", "L"),))
    answer = answer_of(task)
    frozen = {run.day: run.level for run in answer.runs if run.activity == "freeze"}
    assert answer.objective == pytest.approx(3 - 0.3 + 4)
    assert frozen.get(0, 0.0) <= 1 + 1e-6
    assert sum(frozen.values()) == pytest.approx(4)


def test_meals_of_one_day_share_what_is_served() -> None:
    needs = (MealNeed("lunch", 1, "main", 2.0, 10.0), MealNeed("dinner", 1, "main", 4.0, 100.0))
    stew = activity("stew", largest=5, servings=(Serving("main", 1.0, 1),), value_per_level=0.0)
    answer = answer_of(problem(stew, lots=(BEANS,), days=2, meals=needs))
    assert answer.unmet == (("lunch", "main", pytest.approx(1.0)),)
    assert answer.objective == pytest.approx(-10)


def test_a_meal_nobody_can_cook_is_missed_and_told() -> None:
    answer = answer_of(problem(activity(), lots=(BEANS,), meals=(MealNeed("dinner", 0, "main", 4.0),)))
    assert answer.unmet == (("dinner", "main", 4.0),)
    assert answer.objective == pytest.approx(10 - 4000)
    assert answer.stake == pytest.approx(10)


def test_targets_are_worth_less_step_by_step() -> None:
    wanted = Target("beans", ((200.0, 0.05), (200.0, 0.02)))
    jar = activity(targets=(TargetStep("beans", 100.0),), value_per_level=-3.0)
    answer = answer_of(problem(jar, lots=(BEANS,), targets=(wanted,)))
    assert levels(answer) == {("jar", 0): 2}
    assert answer.objective == pytest.approx(10 - 6)


def test_a_cut_is_not_chosen_again() -> None:
    task = problem(activity(largest=4, level_step=1), activity("dry", largest=4, level_step=1), lots=(BEANS,))
    cut = Cut((("jar", 0, 3.0), ("dry", 0, 3.0)))
    again = answer_of(replace(task, cuts=(cut,)))
    assert answer_of(task).objective == pytest.approx(8)
    assert again.objective == pytest.approx(6)


def test_a_cut_without_steps_moves_the_level() -> None:
    task = problem(activity(largest=4), lots=(BEANS,), cuts=(Cut((("jar", 0, 4.0),)),))
    assert 3.9 < answer_of(task).objective < 4.0


def test_a_mixture_of_items_feeds_an_input() -> None:
    mixed = activity("stew", takes="", inputs=(Input(("beans", "peas"), 300.0), Input(("peas",), 100.0)))
    task = problem(mixed, lots=(lot("beans", 200, 0, 9), lot("peas", 200, 0, 9)))
    assert levels(answer_of(task)) == {("stew", 0): 1}


def test_a_pool_or_capacity_that_is_not_there_offers_nothing() -> None:
    assert answer_of(problem(activity(pools=(PoolUse("lids", 1),)), lots=(BEANS,))).runs == ()
    assert answer_of(problem(activity(usages=(Usage("oven", per_level=1),)), lots=(BEANS,))).runs == ()


def test_an_overdrawn_pool_is_infeasible_when_it_is_asked_for() -> None:
    full = Pool("freezer", -1.0, "the freezer", "L")
    peas = lot("peas", 300, 0, 9, is_store=True, gives_back=(GivesBack("freezer", 1, 1000),))
    task = problem(activity(takes="peas", days=(0,)), lots=(peas,), pools=(full,))
    answer = solve(task, seconds=5)
    assert answer.outcome is Outcome.INFEASIBLE
    assert check(task, answer) == ()


@pytest.mark.parametrize(
    "wrong",
    [
        problem(activity(smallest=2, largest=1)),
        problem(activity(), activity()),
        problem(activity("a", family="jar", at_most=1), activity("b", family="jar")),
        problem(activity(outputs=(Output("a", 1, 0, 0, 0), Output("a", 1, 1, 0, 0)))),
        problem(targets=(Target("beans", ((1, 1.0), (1, 2.0))),)),
    ],
)
def test_a_problem_that_contradicts_itself_is_refused(wrong: Problem) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        solve(wrong, seconds=1)


def test_progress_hears_the_answer() -> None:
    heard: list[tuple[float, float]] = []
    answer = solve(problem(activity(), lots=(BEANS,)), seconds=5, progress=lambda s, o: heard.append((s, o)))
    assert heard[-1] == (answer.seconds, answer.objective)


GLASS = GivesBack("jars", 1.0, 500.0, after_days=1, is_whole=True)


def soup_and_jars(level: float, **more: Any) -> Problem:
    """Soup takes `level` times 100 g out of two jars of 500 g; each jar filled with beans wants an empty one."""
    soup = activity("soup", takes="old", grams=100, days=(0,), smallest=level, largest=level, value_per_level=9)
    fill = activity("fill", grams=100, days=(0, 1), level_step=1, pools=(PoolUse("jars", 1),))
    old = lot("old", 1000, 0, 9, is_store=True, gives_back=(GLASS,))
    return problem(soup, fill, lots=(BEANS, old), days=2, pools=(Pool("jars", 0, "the jars", ""),), **more)


@pytest.mark.parametrize(("level", "jars"), [(4, 0), (5, 1), (9, 1), (10, 2)])
def test_a_jar_comes_back_on_the_next_day_when_it_is_empty(level: int, jars: int) -> None:
    """400 g leave the first jar of 500 g open; 900 g empty one and leave one open."""
    filled = {run.day: run.level for run in answer_of(soup_and_jars(level)).runs if run.activity == "fill"}
    assert filled == ({1: jars} if jars else {})


def test_two_halves_eaten_on_two_days_are_one_jar() -> None:
    task = soup_and_jars(5)
    soup = replace(task.activities[0], days=(0, 1), smallest=2.5, largest=2.5)
    fill = replace(task.activities[1], days=(1, 2))
    answer = answer_of(replace(task, activities=(soup, fill), days=3))
    assert [(run.activity, run.day) for run in answer.runs] == [("soup", 0), ("soup", 1), ("fill", 2)]


def test_a_jar_filled_and_emptied_in_the_plan_is_filled_again() -> None:
    made = Output("put by", 500.0, 1, 9, 0.0, (replace(GLASS, after_days=0),))
    fill = activity("fill", grams=100, days=(0, 2), level_step=1, largest=1, pools=(PoolUse("jars", 1),))
    fill = replace(fill, outputs=(made,))
    eat = activity("eat", takes="put by", grams=500, days=(1,), smallest=1, largest=1)
    task = problem(fill, eat, lots=(BEANS,), days=3, pools=(Pool("jars", 1, "the jars", ""),))
    answer = answer_of(task)
    assert [(run.activity, run.day) for run in answer.runs] == [("fill", 0), ("eat", 1), ("fill", 2)]


def test_variety_holds_in_any_days_in_a_row() -> None:
    """Twice in any three days: five of seven days, as in 0 1 . 3 4 . 6."""
    often = activity(days=tuple(range(7)), largest=1, at_most=2, within_days=3)
    days = [run.day for run in answer_of(problem(often, lots=(BEANS,), days=7)).runs]
    assert len(days) == 5
    assert all(later - earlier >= 3 for earlier, later in zip(days, days[2:], strict=False))


def test_days_far_apart_are_not_counted_together() -> None:
    often = activity(days=(0, 5, 6, 10), largest=1, at_most=2, within_days=7)
    answer = answer_of(problem(often, lots=(lot("beans", 1000, 0, 20),), days=11))
    assert len(answer.runs) == 3
    assert not {5, 6, 10} <= {run.day for run in answer.runs}
