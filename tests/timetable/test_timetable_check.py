"""The check is tested by spoiling a right timetable, one rule at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from stillroom.model.work import Attention
from stillroom.timetable.check import check
from stillroom.timetable.problem import (
    Demand,
    Lag,
    Mode,
    Outcome,
    Placed,
    Problem,
    Resource,
    Span,
    Task,
    Timetable,
    Worker,
)

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
DAY = 1440
MARIA, TOM = "Maria", "Tom"
OVEN_HOT = (Demand("oven", 1, "220 °C"),)
OVEN_MILD = (Demand("oven", 1, "150 °C"),)

PROBLEM = Problem(
    tasks=(
        Task("peel", "Peel beans", "jars", (Mode(60), Mode(90, (), (TOM,))), HANDS, DAY + 300, DAY + 900),
        Task("fill", "Fill jars", "jars", (Mode(30, (), (MARIA,)),), HANDS, DAY + 300, DAY + 900),
        Task("heat", "Heat canner", "jars", (Mode(100, (Demand("canner", 1),)),), NEAR, DAY + 300, DAY + 900),
        Task("cool", "Cool canner", "jars", (Mode(45, (Demand("canner", 1),)),), FREE, DAY + 300, 3 * DAY),
        Task("bread", "Bake bread", "bread", (Mode(40, OVEN_HOT),), NEAR, DAY + 300, DAY + 900, DAY + 700),
        Task("custard", "Bake custard", "sweet", (Mode(40, OVEN_MILD),), NEAR, DAY + 300, DAY + 900),
        Task("slice", "Slice apples", "dry", (Mode(30),), HANDS, DAY + 300, DAY + 900),
    ),
    lags=(
        Lag("peel", "fill", 10, 60, "beans brown"),
        Lag("heat", "cool", 0, 0, "cooling is part of the process", is_safety=True),
        Lag("fill", "heat", 0, 20, "held hot", is_safety=True),
    ),
    workers=(
        Worker(MARIA, (Span(DAY + 450, DAY + 700), Span(DAY + 700, DAY + 800))),
        Worker(TOM, (Span(DAY + 480, DAY + 720),)),
    ),
    resources=(Resource("oven", 2), Resource("canner", 1)),
    near_limit=2,
)

RIGHT = Timetable(
    Outcome.FEASIBLE,
    (
        Placed("peel", DAY + 480, DAY + 540, 0, TOM),
        Placed("fill", DAY + 550, DAY + 580, 0, MARIA),
        Placed("heat", DAY + 590, DAY + 690, 0),
        Placed("cool", DAY + 690, DAY + 735, 0),
        Placed("bread", DAY + 590, DAY + 630, 0),
        Placed("custard", DAY + 640, DAY + 680, 0),
        Placed("slice", DAY + 580, DAY + 610, 0, TOM),
    ),
)


def changed(key: str, change: Callable[[Placed], Placed]) -> Timetable:
    return replace(RIGHT, placed=tuple(change(placed) if placed.task == key else placed for placed in RIGHT.placed))


def shifted(key: str, minutes: int) -> Timetable:
    return changed(key, lambda placed: replace(placed, start=placed.start + minutes, end=placed.end + minutes))


def given_to(key: str, worker: str | None) -> Timetable:
    return changed(key, lambda placed: replace(placed, worker=worker))


def test_a_right_timetable_has_no_faults() -> None:
    assert check(PROBLEM, RIGHT) == ()


@pytest.mark.parametrize(
    ("spoilt", "sentence"),
    [
        (
            replace(RIGHT, placed=RIGHT.placed[:-1]),
            "Slice apples is missing from the timetable.",
        ),
        (
            replace(RIGHT, placed=(*RIGHT.placed, RIGHT.placed[3])),
            "Cool canner is in the timetable 2 times.",
        ),
        (
            replace(RIGHT, placed=(*RIGHT.placed, Placed("wash", 0, 1, 0))),
            "“wash” is in the timetable but not in the work.",
        ),
        (
            changed("slice", lambda placed: replace(placed, mode=1)),
            "Slice apples is to be done in way 1, which does not exist.",
        ),
        (
            changed("slice", lambda placed: replace(placed, mode=-1)),
            "Slice apples is to be done in way -1, which does not exist.",
        ),
        (
            changed("slice", lambda placed: replace(placed, end=placed.end - 5)),
            "Slice apples takes 30 min but is given 25 min.",
        ),
        (
            changed("peel", lambda placed: replace(placed, mode=1)),
            "Peel beans takes 90 min but is given 60 min.",
        ),
        (
            shifted("custard", -400),
            "Bake custard starts at 04:00 on day 2, before it may start at 05:00 on day 2.",
        ),
        (
            shifted("custard", 230),
            "Bake custard ends at 15:10 on day 2, after it must have ended at 15:00 on day 2.",
        ),
        (
            changed("peel", lambda placed: replace(placed, start=DAY + 430, end=DAY + 490, worker=MARIA)),
            "Peel beans starts at 07:10 on day 2, before Maria is in the kitchen at 07:30 on day 2.",
        ),
        (
            changed("slice", lambda placed: replace(placed, start=DAY + 700, end=DAY + 730)),
            "Slice apples ends at 12:10 on day 2, but Tom leaves the kitchen at 12:00 on day 2.",
        ),
        (
            changed("slice", lambda placed: replace(placed, start=DAY + 720, end=DAY + 750)),
            "Slice apples starts at 12:00 on day 2, after Tom has left the kitchen.",
        ),
        (
            given_to("fill", TOM),
            "Fill jars is given to Tom, but only Maria can do it.",
        ),
        (
            given_to("slice", None),
            "Slice apples is given to nobody, who is not one of the people in the kitchen.",
        ),
        (
            given_to("slice", "Zoe"),
            "Slice apples is given to Zoe, who is not one of the people in the kitchen.",
        ),
        (
            given_to("bread", TOM),
            "Bake bread is given to Tom although it takes nobody's hands.",
        ),
        (
            shifted("slice", -50),
            "Tom is to do Peel beans and Slice apples at the same time, at 08:50 on day 2.",
        ),
        (
            shifted("custard", 100),
            "Bake custard starts at 12:20 on day 2, before anyone is in the kitchen at 13:20 on day 2.",
        ),
        (
            shifted("custard", -30),
            "At 10:10 on day 2 3 things must be minded at once, but at most 2 can be: "
            "Heat canner, Bake bread, Bake custard.",
        ),
        (
            shifted("custard", -30),
            "At 10:10 on day 2 the oven is to be at 220 °C for Bake bread and at 150 °C for Bake custard.",
        ),
        (
            shifted("cool", -20),
            "At 11:10 on day 2 2 places of the canner are needed, but it has 1: Heat canner, Cool canner.",
        ),
        (
            shifted("cool", 1),
            "Safety: Cool canner starts 1 min after Heat canner ends, but may wait at most 0 min "
            "(cooling is part of the process).",
        ),
        (
            shifted("cool", -1),
            "Safety: Cool canner starts 1 min before Heat canner ends, but must wait at least 0 min "
            "(cooling is part of the process).",
        ),
        (
            shifted("fill", -1),
            "Fill jars starts 9 min after Peel beans ends, but must wait at least 10 min (beans brown).",
        ),
        (
            shifted("fill", -15),
            "Safety: Heat canner starts 25 min after Fill jars ends, but may wait at most 20 min (held hot).",
        ),
        (
            replace(RIGHT, outcome=Outcome.INFEASIBLE),
            "Tasks are placed although nothing was found.",
        ),
    ],
)
def test_each_rule_broken_is_said(spoilt: Timetable, sentence: str) -> None:
    problem = PROBLEM
    if "anyone" in sentence:
        later = (Span(DAY + 800, DAY + 860),)
        early = tuple(replace(worker, presence=(Span(DAY + 450, DAY + 735), *later)) for worker in PROBLEM.workers)
        problem = replace(PROBLEM, workers=early)
        assert check(problem, RIGHT) == ()
    assert sentence in check(problem, spoilt)


def test_nothing_found_and_nothing_placed_is_right() -> None:
    for outcome in (Outcome.INFEASIBLE, Outcome.OUT_OF_TIME):
        assert check(PROBLEM, Timetable(outcome, ())) == ()


def test_someone_near_may_be_different_people_in_turn() -> None:
    in_turn = replace(PROBLEM, workers=(Worker(MARIA, (Span(DAY, DAY + 600),)), Worker(TOM, (Span(DAY, 2 * DAY),))))
    assert check(in_turn, RIGHT) == ()
    gap = (Worker(MARIA, (Span(DAY, DAY + 600),)), Worker(TOM, (Span(DAY, DAY + 599), Span(DAY + 610, DAY + 900))))
    faults = check(replace(PROBLEM, workers=gap), RIGHT)
    assert any("anyone leaves the kitchen at 10:00 on day 2" in fault for fault in faults)


def test_back_to_back_is_no_overlap() -> None:
    assert check(PROBLEM, shifted("slice", -40)) == ()


def test_what_is_used_up_does_not_come_back() -> None:
    modes = (Mode(10, (Demand("ice", 2),)), Mode(30))
    tasks = tuple(Task(key, f"Chill {key}", key, modes, FREE, 0, 100) for key in "abc")
    problem = Problem(tasks, (), (), (Resource("ice", 4, is_used_up=True),))
    slowly = Timetable(Outcome.FEASIBLE, (Placed("a", 0, 10, 0), Placed("b", 0, 10, 0), Placed("c", 0, 30, 1)))
    assert check(problem, slowly) == ()
    thrice = replace(
        slowly, placed=tuple(Placed(key, 20 * number, 20 * number + 10, 0) for number, key in enumerate("abc"))
    )
    assert check(problem, thrice) == ("6 of the ice are used up, but there are only 4.",)
