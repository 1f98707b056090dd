"""What a timetable promises, what makes it comfortable, and what it says when it can't be."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest
from kitchen_weeks import kitchen_week
from published import problem_of

from stillroom.model.work import Attention
from stillroom.timetable.check import check
from stillroom.timetable.components import components
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
from stillroom.timetable.solve import solve
from stillroom.timetable.ways import ways

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
DAY = 1440
ANN = Worker("Ann", (Span(480, 1200), Span(DAY + 480, DAY + 1200)))
CANNER = (Demand("canner", 1),)


def task(
    key: str, minutes: int, attention: Attention, hours: tuple[int, int], *, due: int | None = None, group: str = ""
) -> Task:
    return Task(key, key, group or key, (Mode(minutes),), attention, *hours, due)


def problem(*tasks: Task, lags: tuple[Lag, ...] = (), workers: tuple[Worker, ...] = (ANN,)) -> Problem:
    return Problem(tasks, lags, workers, (Resource("canner", 1), Resource("oven", 4)))


def solved(asked: Problem) -> dict[str, Placed]:
    answer = solve(asked, seconds=10, workers=1)
    assert check(asked, answer) == ()
    assert answer.outcome is Outcome.OPTIMAL
    return {placed.task: placed for placed in answer.placed}


def refuse(asked: Problem) -> None:
    answer = solve(asked, seconds=10, workers=1)
    assert answer.outcome is Outcome.INFEASIBLE
    assert answer.placed == ()


class TestPromise:
    def test_the_order_in_which_nothing_is_late(self) -> None:
        """From 08:00 with one pair of hands: 10 min due at 08:10 and 60 min due at 09:10."""
        short, long = task("short", 10, HANDS, (0, DAY), due=490), task("long", 60, HANDS, (0, DAY), due=550)
        placed = solved(problem(short, long))
        assert (placed["short"].end, placed["long"].end) == (490, 550)

    def test_unavoidable_lateness_is_counted_and_proved(self) -> None:
        three = [task(name, 60, HANDS, (0, DAY), due=540) for name in "abc"]
        answer = solve(problem(*three), seconds=10, workers=1)
        assert answer.is_promise_proved
        assert answer.lateness_min == 0 + 60 + 120

    def test_comfort_never_makes_anything_late(self) -> None:
        """Waiting for the run to be compact would make the early step late."""
        first = task("first", 30, HANDS, (0, DAY), due=510, group="run")
        second = task("second", 30, HANDS, (900, DAY), group="run")
        placed = solved(problem(first, second, lags=(Lag("first", "second", 0, None),)))
        assert placed["first"].end == 510
        assert placed["second"].start == 900

    def test_a_dough_stands_over_night_but_hands_do_not_work(self) -> None:
        mix, prove = task("mix", 20, HANDS, (1100, 2 * DAY)), task("prove", 600, FREE, (0, 2 * DAY))
        shape = task("shape", 20, HANDS, (0, 2 * DAY))
        lags = (Lag("mix", "prove", 0, 0), Lag("prove", "shape", 0, 120))
        placed = solved(problem(mix, prove, shape, lags=lags))
        assert placed["prove"].end > DAY
        assert placed["shape"].start >= DAY + 480

    def test_the_quicker_person_of_two_ways(self) -> None:
        tom = Worker("Tom", ANN.presence)
        peel = Task("peel", "peel", "peel", (Mode(60, (), ("Ann",)), Mode(30, (), ("Tom",))), HANDS, 0, DAY, 510)
        placed = solved(problem(peel, workers=(ANN, tom)))
        assert placed["peel"] == Placed("peel", 480, 510, 1, "Tom")


class TestComfort:
    def test_a_dish_is_done_when_it_is_due(self) -> None:
        placed = solved(problem(task("roast", 60, NEAR, (0, DAY), due=1100)))
        assert placed["roast"].end == 1100

    def test_a_run_is_not_left_standing(self) -> None:
        peel, boil = task("peel", 30, HANDS, (0, DAY), group="run"), task("boil", 30, NEAR, (900, DAY), group="run")
        placed = solved(problem(peel, boil, lags=(Lag("peel", "boil", 0, None),)))
        assert placed["peel"].end == placed["boil"].start == 900

    def test_the_day_ends_early(self) -> None:
        placed = solved(problem(*(task(name, 60, HANDS, (0, DAY)) for name in "abc")))
        assert max(job.end for job in placed.values()) == 480 + 180


class TestImpossible:
    def test_hours_shorter_than_the_task(self) -> None:
        fine = task("fine", 10, HANDS, (0, DAY))
        refuse(problem(fine, task("long", 100, FREE, (0, 90))))

    def test_equipment_that_has_too_few_places(self) -> None:
        big = Task("big", "big", "big", (Mode(10, (Demand("oven", 5),)),), FREE, 0, DAY)
        refuse(problem(task("fine", 10, HANDS, (0, DAY)), big))

    def test_more_hands_than_hours(self) -> None:
        """720 min of presence; 400 + 400 is too much."""
        tasks = (task("small", 10, HANDS, (0, DAY)), task("a", 400, HANDS, (0, DAY)), task("b", 400, HANDS, (0, DAY)))
        refuse(problem(*tasks))

    def test_runs_that_want_one_canner_at_once(self) -> None:
        loads = [Task(name, name, name, (Mode(300, CANNER),), NEAR, 480, 1000) for name in ("beans", "beef")]
        later = Task("soup", "soup", "soup", (Mode(300, CANNER),), NEAR, DAY, 2 * DAY)
        refuse(problem(*loads, later))

    def test_waits_that_contradict_each_other(self) -> None:
        tasks = (task("a", 10, FREE, (0, DAY)), task("b", 10, FREE, (0, DAY)), task("c", 10, FREE, (0, DAY)))
        lags = (Lag("a", "b", 0, None), Lag("b", "a", 0, None))
        refuse(problem(*tasks, lags=lags))

    def test_no_time_is_not_impossible(self) -> None:
        answer = solve(problem_of("maxlag/j30_psp156.sch"), seconds=0.01)
        assert answer.outcome is Outcome.OUT_OF_TIME
        assert answer.placed == ()


@pytest.mark.parametrize(("seed", "tasks", "days"), [(3, 80, 1), (2, 140, 2), (1, 60, 7), (1, 200, 7), (3, 250, 7)])
def test_made_up_weeks(seed: int, tasks: int, days: int) -> None:
    week = kitchen_week(seed, tasks, days)
    answer = solve(week, seconds=3)
    assert answer.outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE)
    assert check(week, answer) == ()
    assert answer.is_promise_proved


def test_the_same_question_has_the_same_answer() -> None:
    week = kitchen_week(2, 100, 2)

    def answer() -> Timetable:
        return replace(solve(week, seconds=1, workers=1, seed=7), seconds=0.0)

    assert answer() == answer()


def test_days_that_share_nothing_are_apart() -> None:
    asked = problem(task("a", 10, HANDS, (0, DAY)), task("b", 10, HANDS, (DAY, 2 * DAY)), task("c", 10, NEAR, (0, DAY)))
    assert len(components(asked, ways(asked))) == 3
    linked = replace(asked, lags=(Lag("a", "b", 0, None),))
    assert len(components(linked, ways(linked))) == 2


def test_nothing_to_do_is_done() -> None:
    assert solve(problem(), seconds=1).outcome is Outcome.OPTIMAL


def test_the_solver_library_is_loaded_late() -> None:
    code = "import sys, stillroom.timetable.solve, stillroom.timetable.check; sys.exit('ortools' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
