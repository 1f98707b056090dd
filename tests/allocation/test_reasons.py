"""The words that explain an answer, against shortages worked out by hand."""

from __future__ import annotations

import pytest
from small import activity, capacity, lot, problem
from weeks import week

from stillroom.allocation.problem import (
    GivesBack,
    Input,
    MealNeed,
    Output,
    Pool,
    PoolUse,
    Problem,
    Serving,
    Target,
    TargetStep,
    Usage,
)
from stillroom.allocation.reasons import Reasons, amount_text, reasons
from stillroom.allocation.solve import solve

WEEK = ("Thursday", "Friday", "Saturday")


def explained(task: Problem) -> Reasons:
    return reasons(task, solve(task, seconds=5), lambda day: WEEK[day])


def test_the_freezer_is_full() -> None:
    """5 kg need 7 L at 1.4 L a kilogram; 1 L is free."""
    freeze = activity("Freeze beans", grams=1000, smallest=5, pools=(PoolUse("freezer", 1.4),))
    task = problem(freeze, lots=(lot(grams=5000, worth=0.01),), pools=(Pool("freezer", 1.0, "the freezer", "L"),))
    assert explained(task).of_lot("beans") == "Freeze beans: the freezer is too full: 6 L short"


def test_a_full_freezer_is_called_full() -> None:
    freeze = activity("Freeze beans", grams=1000, smallest=5, pools=(PoolUse("freezer", 1.2),))
    task = problem(freeze, lots=(lot(grams=5000, worth=0.01),), pools=(Pool("freezer", 0.0, "the freezer", "L"),))
    assert explained(task).of_lot("beans") == "Freeze beans: the freezer is full: 6 L short"


def test_the_canner_is_booked() -> None:
    """One load of 150 min fits into 200; the second would need 100 more than the 50 that are left."""
    jar = activity(
        "Jar beans", level_per_load=4, smallest=1, level_step=1, days=(2,), usages=(Usage("dial", per_load=150),)
    )
    task = problem(
        jar,
        lots=(lot(grams=800, last=2, worth=0.01),),
        days=3,
        capacities=(capacity(200, 200, 200, name="dial"),),
    )
    why = explained(task)
    assert why.of_lot("beans") == "Jar beans: dial: 100 min short on Saturday"
    run = solve(task, seconds=5).runs[0]
    assert why.of_run(run) == (
        "beans must be used by Saturday",
        "not more, because dial: 100 min short on Saturday",
    )


def test_booked_all_day() -> None:
    jar = activity("Jar beans", smallest=2, level_step=1, usages=(Usage("dial", per_level=50),))
    task = problem(jar, lots=(lot(grams=400, worth=0.01),), capacities=(capacity(100, name="dial"),))
    assert explained(task).of_lot("beans") == "Jar beans: dial: booked all Thursday, 100 min short"


def test_nothing_uses_it() -> None:
    assert "nothing that could be done" in explained(problem(lots=(lot(worth=0.01),))).of_lot("beans")


def test_it_costs_more_than_it_gives() -> None:
    task = problem(activity("Pickle", value_per_level=-9.0), lots=(lot(worth=0.001),))
    assert (
        explained(task).of_lot("beans")
        == "Pickle could take it on Thursday, but gives too little for its work, or the day has no hours for it"
    )


def test_another_input_is_missing() -> None:
    stew = activity("Stew", takes="", inputs=(Input(("beans",), 100.0), Input(("bacon, smoked",), 50.0)), smallest=1)
    task = problem(stew, lots=(lot(worth=0.01),))
    assert explained(task).of_lot("beans") == "Stew: not enough bacon is left for Stew"


def test_a_run_says_what_it_is_for() -> None:
    peas = lot("peas, frozen", 300, 0, 9, 0.0, is_store=True, gives_back=(GivesBack("freezer", 10, 1000),))
    soup = activity("Soup", takes="peas, frozen", servings=(Serving("main", 1.0),), largest=3)
    task = problem(
        soup,
        lots=(peas,),
        pools=(Pool("freezer", 1.0, "the freezer", "L"),),
        meals=(MealNeed("dinner", 0, "main", 3.0),),
    )
    run = solve(task, seconds=5).runs[0]
    assert explained(task).of_run(run) == (
        "serves 3 portions of main on Thursday",
        "makes room in the freezer: 3 L",
        "uses up peas",
    )


@pytest.mark.parametrize(
    ("wanted_g", "words"),
    [
        (800.0, "helps to bring beans to its target: 800 g were missing"),
        (4000.0, "puts up 1 kg of the 4 kg of beans still wanted"),
    ],
)
def test_targets(wanted_g: float, words: str) -> None:
    jar = activity(targets=(TargetStep("beans", 100.0),))
    task = problem(jar, lots=(lot(last=9),), targets=(Target("beans", ((wanted_g, 0.01),)),))
    assert words in explained(task).of_run(solve(task, seconds=5).runs[0])


def test_lids_are_missing() -> None:
    jar = activity("Jar", smallest=1, largest=1, pools=(PoolUse("lids", 7),))
    task = problem(jar, lots=(lot(last=9),), pools=(Pool("lids", 4, "the lids", ""),))
    assert explained(task).of_lot("beans") == "Jar: not enough of the lids: 3 short"


def test_what_a_run_makes_and_nobody_uses() -> None:
    cut = activity("Cut", outputs=(Output("bones", 50.0, 0, 0, 0.001),), value_per_level=9.0)
    assert "nothing that could be done" in explained(problem(cut, lots=(lot(last=9),))).of_lot("run:Cut:0:bones")


def test_amounts_are_rounded_for_reading() -> None:
    assert [
        amount_text(a, u)
        for a, u in ((6.02, "L"), (12_000, "g"), (99.6, "min"), (252, "min"), (9733, "min"), (3.0, ""))
    ] == [
        "6 L",
        "12 kg",
        "100 min",
        "4.2 h",
        "162 h",
        "3",
    ]


def test_every_run_and_loss_of_a_week_has_reasons_twice_the_same() -> None:
    task = week(3)
    answer = solve(task, seconds=2)
    first, second = reasons(task, answer), reasons(task, answer)
    for run in answer.runs:
        assert first.of_run(run) == second.of_run(run)
    for key, _ in answer.spoiled:
        assert first.of_lot(key) == second.of_lot(key) != ""
