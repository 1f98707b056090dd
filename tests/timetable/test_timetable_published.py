"""Published instances with known optima (see data/README.md)."""

from __future__ import annotations

import pytest
from published import read_sch, read_sm

from stillroom.timetable.check import check
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.solve import solve


def makespan_is_proved(problem: Problem, expected: int) -> None:
    answer = solve(problem, seconds=15)
    assert check(problem, answer) == ()
    assert answer.is_promise_proved
    assert answer.lateness_min == expected
    assert max(placed.end for placed in answer.placed) == expected


@pytest.mark.parametrize(("name", "makespan"), [("j301_1.sm", 43), ("j3021_2.sm", 59), ("j3041_3.sm", 85)])
def test_shortest_makespan_of_psplib(name: str, makespan: int) -> None:
    """Kolisch and Sprecher 1996, set j30."""
    problem = read_sm(name)
    assert len(problem.tasks) == 32
    assert len(problem.resources) == 4
    makespan_is_proved(problem, makespan)


def test_shortest_makespan_with_maximum_waits() -> None:
    """ProGen/max, PSP43."""
    problem = read_sch("j30_psp43.sch")
    assert len(problem.tasks) == 32
    assert any(lag.max_lag is not None for lag in problem.lags)
    makespan_is_proved(problem, 66)


def test_impossible_maximum_waits() -> None:
    """ProGen/max, PSP156: no timetable exists."""
    problem = read_sch("j30_psp156.sch")
    answer = solve(problem, seconds=15)
    assert answer.outcome is Outcome.INFEASIBLE
    assert answer.placed == ()
    assert len(answer.conflict) > 1
