"""The check must find every way in which a right answer can be made wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small import activity, capacity, lot, problem
from weeks import week

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
    Run,
    Serving,
    Taken,
    Target,
    TargetStep,
    Usage,
)
from stillroom.allocation.solve import solve


@cache
def rich() -> tuple[Problem, Allocation]:
    """A problem in which every rule has something to say, and its answer."""
    cut = activity(
        "cut", takes="pig", grams=1000, value_per_level=0, largest=9, outputs=(Output("belly", 300, 0, 1, 0.01),)
    )
    jar = activity(
        "jar",
        takes="belly",
        days=(0, 1),
        smallest=2,
        level_step=1,
        level_per_load=7,
        at_most=1,
        family="jar",
        usages=(Usage("canner", per_load=60), Usage("hands", fixed=5, per_level=1)),
        pools=(PoolUse("jars", 1),),
        targets=(TargetStep("belly", 100),),
    )
    roast = activity(
        "roast",
        takes="",
        days=(1, 2),
        inputs=(Input(("belly", "peas"), 100),),
        servings=(Serving("main", 1),),
        largest=6,
    )
    freeze = activity("freeze", takes="pig", grams=1000, pools=(PoolUse("freezer", 1.5),), value_per_level=2)
    other = activity("other", takes="belly", family="jar", days=(0, 1), at_most=1, value_per_level=0.1)
    bread = activity("bread", takes="", days=(1,), largest=1, usages=(Usage("hands", -1, fixed=4),))
    peas = lot("peas", 600, 0, 9, 0.001, is_store=True, gives_back=(GivesBack("freezer", 2, 1000),))
    task = problem(
        cut,
        jar,
        roast,
        freeze,
        other,
        bread,
        lots=(lot("pig", 8000, 0, 0, 0.005), peas),
        days=3,
        capacities=(capacity(60, 60, 60, name="canner"), capacity(20, 20, 20)),
        pools=(Pool("jars", 12, "jars", ""), Pool("freezer", 2, "the freezer", "L")),
        meals=(MealNeed("dinner", 2, "main", 5, 50),),
        targets=(Target("belly", ((500, 0.01), (500, 0.005))),),
        cuts=(Cut((("jar", 1, 8.0),)),),
    )
    return task, solve(task, seconds=10)


def test_the_right_answer_is_right() -> None:
    task, answer = rich()
    assert check(task, answer) == ()
    assert {run.activity for run in answer.runs} >= {"cut", "jar", "roast", "freeze"}


def _with_run(answer: Allocation, key: str, change: Callable[[Run], Run]) -> Allocation:
    runs = list(answer.runs)
    place = next(n for n, run in enumerate(runs) if run.activity == key)
    runs[place] = change(runs[place])
    return replace(answer, runs=tuple(runs))


def _taking(run: Run, change: Callable[[Taken], Taken]) -> Run:
    return replace(run, taken=(change(run.taken[0]), *run.taken[1:]))


EXTRA = Run("bread", 0, 1.0, 1, ())
MUTATIONS: dict[str, Callable[[Allocation], Allocation]] = {
    "outside the": lambda a: replace(a, runs=(*a.runs, EXTRA)),
    "not allowed on that day": lambda a: _with_run(a, "cut", lambda r: replace(r, day=1)),
    "is not within": lambda a: _with_run(a, "jar", lambda r: replace(r, level=1.0)),
    "not a multiple": lambda a: _with_run(a, "jar", lambda r: replace(r, level=r.level - 0.5)),
    "loads, needs": lambda a: _with_run(a, "jar", lambda r: replace(r, loads=r.loads + 1)),
    "listed 2 times": lambda a: replace(a, runs=(*a.runs, a.runs[0])),
    "at most 1": lambda a: replace(a, runs=(*a.runs, replace(_run(a, "jar"), day=1 - _run(a, "jar").day))),
    "variants at once": lambda a: replace(a, runs=(*a.runs, Run("other", _run(a, "jar").day, 1.0, 1, ()))),
    "used of": lambda a: _with_run(a, "jar", lambda r: replace(r, level=16.0, loads=3)),
    "jars: ": lambda a: _with_run(a, "jar", lambda r: replace(r, level=13.0, loads=2)),
    "freezer: ": lambda a: _with_run(a, "freeze", lambda r: replace(r, level=r.level + 2)),
    "does not exist": lambda a: _with_run(a, "cut", lambda r: _taking(r, lambda t: replace(t, lot="ghost"))),
    "which is pig": lambda a: _with_run(a, "cut", lambda r: _taking(r, lambda t: replace(t, item="belly"))),
    "usable only on": lambda a: _with_run(a, "roast", lambda r: _taking(r, lambda t: Taken("pig", "pig", t.grams))),
    "needs ": lambda a: _with_run(a, "cut", lambda r: _taking(r, lambda t: replace(t, grams=t.grams - 10))),
    "does not fit": lambda a: _with_run(a, "cut", lambda r: replace(r, taken=(Taken("peas", "peas", 1000 * r.level),))),
    "g used of": lambda a: _with_run(a, "roast", lambda r: replace(r, taken=(Taken("peas", "peas", 700.0),))),
    "objective": lambda a: replace(a, objective=a.objective + 1),
    "bound": lambda a: replace(a, bound=a.objective - 1),
    "Called optimal": lambda a: replace(a, outcome=Outcome.OPTIMAL, bound=a.objective + 0.02 * a.stake),
    "better than doing nothing": lambda a: replace(a, stake=a.stake * 2),
    "spoil": lambda a: replace(a, spoiled=(("pig", 999.0),)),
    "portions missed": lambda a: replace(a, unmet=(("dinner", "main", 2.5),)),
    "cannot be missed": lambda a: replace(a, unmet=(("dinner", "main", 6.0),)),
    "nobody wants": lambda a: replace(a, unmet=(("supper", "main", 1.0),)),
    "not what is reported": lambda a: replace(a, used=a.used[1:]),
    "is not an activity": lambda a: replace(a, runs=(replace(a.runs[0], activity="conjure"),)),
    "did not hold it: jar on day 1": lambda a: _with_run(a, "jar", lambda r: replace(r, day=1, level=8.0, loads=2)),
    "there are runs": lambda a: replace(a, outcome=Outcome.OUT_OF_TIME),
}


def _run(answer: Allocation, key: str) -> Run:
    return next(run for run in answer.runs if run.activity == key)


@pytest.mark.parametrize("complaint", MUTATIONS)
def test_each_fault_is_named(complaint: str) -> None:
    task, answer = rich()
    faults = check(task, MUTATIONS[complaint](answer))
    assert any(complaint in fault for fault in faults), faults


def test_food_from_nothing_is_found() -> None:
    """Two runs that feed each other within a day balance gram by gram, and neither could begin."""
    there = activity("there", takes="dough", grams=100, outputs=(Output("starter", 100, 0, 5, 0.0),))
    back = activity("back", takes="starter", grams=100, outputs=(Output("dough", 100, 0, 5, 0.0),))
    task = problem(there, back)
    runs = (
        Run("there", 0, 1.0, 1, (Taken("run:back:0:dough", "dough", 100.0),)),
        Run("back", 0, 1.0, 1, (Taken("run:there:0:starter", "starter", 100.0),)),
    )
    faults = check(task, Allocation(Outcome.FEASIBLE, runs, (), (), (), objective=2.0, bound=2.0, stake=2.0))
    assert faults == (
        "back on day 0: is made from what it makes itself.",
        "there on day 0: is made from what it makes itself.",
    )
    assert solve(task, seconds=5).runs == ()


def test_inputs_that_share_items_are_matched_not_summed() -> None:
    """100 g of peas or beans and 100 g of peas: 200 g of beans weigh enough but feed only one of the two."""
    stew = activity("stew", takes="", inputs=(Input(("peas", "beans"), 100.0), Input(("peas",), 100.0)), largest=1)
    task = problem(stew, lots=(lot("beans", 300, 0, 9), lot("peas", 300, 0, 9)))
    answer = solve(task, seconds=5)
    assert check(task, answer) == ()
    for grams_of_beans, is_right in ((0.0, True), (100.0, True), (150.0, False), (200.0, False)):
        taken = tuple(
            Taken(food, food, grams)
            for food, grams in (("beans", grams_of_beans), ("peas", 200 - grams_of_beans))
            if grams
        )
        assert (check(task, replace(answer, runs=(Run("stew", 0, 1.0, 1, taken),))) == ()) is is_right


BACK = (
    (GivesBack("freezer", 10, 1000),),
    (GivesBack("freezer", 1.3, 80, after_days=1, is_whole=True),),
    (GivesBack("freezer", 1.3, 45, is_whole=True), GivesBack("freezer", 2, 1000, after_days=2)),
)


@st.composite
def random_problems(draw: st.DrawFn) -> Problem:
    """Three days of two raw foods and what is made of them, with every kind of rule."""
    foods = ("raw", "root", "made")
    grams = st.floats(10, 500)
    lots = [
        lot(
            f"{food} {n}",
            draw(grams),
            draw(st.integers(0, 2)),
            draw(st.integers(0, 4)),
            draw(st.floats(0, 0.02)),
            item=food,
        )
        for food in foods[:2]
        for n in range(draw(st.integers(1, 2)))
    ]
    lots.append(
        lot("iced", draw(grams), 0, 3, 0.001, item="made", is_store=True, gives_back=draw(st.sampled_from(BACK)))
    )
    ways = []
    limit = {"at_most": draw(st.integers(1, 3)), "within_days": draw(st.sampled_from((1, 2, 99)))}
    for number in range(draw(st.integers(1, 4))):
        smallest = draw(st.floats(0, 2))
        ways.append(
            activity(
                f"way {number}",
                takes="",
                days=tuple(draw(st.sets(st.integers(0, 2), min_size=1))),
                inputs=(Input(tuple(draw(st.sets(st.sampled_from(foods), min_size=1))), draw(st.floats(5, 200))),),
                outputs=draw(
                    st.sampled_from(
                        ((), (Output("made", 40.0, 0, 1, 0.01),), (Output("raw", 9.0, 1, 0, 0.01, BACK[1]),))
                    )
                ),
                usages=(
                    Usage(
                        "hands",
                        draw(st.integers(-1, 0)),
                        draw(st.floats(0, 5)),
                        draw(st.floats(0, 3)),
                        draw(st.floats(0, 9)),
                    ),
                ),
                pools=draw(st.sampled_from(((), (PoolUse("freezer", 1.3),)))),
                servings=draw(st.sampled_from(((), (Serving("main", 1.5, 1),)))),
                targets=draw(st.sampled_from(((), (TargetStep("raw", 70.0),)))),
                smallest=smallest,
                largest=smallest + draw(st.floats(0.1, 10)),
                value_per_level=draw(st.floats(-1, 3)),
                cost_per_run=draw(st.floats(0, 2)),
                level_step=draw(st.sampled_from((0.0, 1 / 7, 0.5))),
                level_per_load=draw(st.sampled_from((0.0, 1.0, 3 / 7))),
                **limit,
                family=draw(st.sampled_from(("", "a"))),
            )
        )
    return problem(
        *ways,
        lots=tuple(lots),
        days=3,
        capacities=(capacity(*(draw(st.floats(0, 60)) for _ in range(3))),),
        pools=(Pool("freezer", draw(st.floats(0, 5)), "the freezer", "L"),),
        meals=(MealNeed("lunch", 1, "main", 2.0, 3.0), MealNeed("dinner", 1, "main", 3.0, 5.0)),
        targets=(Target("raw", ((100.0, 0.02), (100.0, 0.01))),),
    )


@settings(max_examples=120, deadline=None)
@given(random_problems())
def test_every_answer_passes(task: Problem) -> None:
    answer = solve(task, seconds=5)
    assert check(task, answer) == ()
    assert answer.outcome is Outcome.OPTIMAL
    assert answer.objective >= check_doing_nothing(task) - 1e-6


def check_doing_nothing(task: Problem) -> float:
    """Everything that comes in spoils, every meal is missed."""
    lost = sum(one.worth_per_g * one.amount_g for one in task.lots if not one.is_store and one.last_day < task.days)
    return -lost - sum(meal.penalty * meal.portions for meal in task.meals)


@pytest.mark.parametrize("seed", [0, 1])
def test_a_whole_week_passes(seed: int) -> None:
    task = week(seed)
    answer = solve(task, seconds=3)
    assert check(task, answer) == ()
    assert answer.runs
