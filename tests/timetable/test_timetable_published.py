"""Published instances with known optima (see data/README.md)."""

from __future__ import annotations

import pytest
from published import known, problem_of

from stillroom.timetable.check import check
from stillroom.timetable.problem import Outcome
from stillroom.timetable.solve import solve

# proved in moments on any machine; benchmarks/timetable_instances.py runs all of them
SOON_PROVED = (
    *("j30/j301_1.sm", "j30/j3021_2.sm", "j30/j3041_3.sm", "j60/j601_1.sm", "j120/j12043_2.sm"),
    *("multimode/j3050_4.mm", "multimode/j3010_1.mm", "multimode/J5050_2.mm"),
    *("maxlag/j30_psp43.sch", "maxlag/j30_psp240.sch", "maxlag/ubo50_psp28.sch"),
)


@pytest.mark.parametrize("name", SOON_PROVED)
def test_shortest_makespan(name: str) -> None:
    """Kolisch and Sprecher 1996; Van Peteghem and Vanhoucke 2014 (J50); ProGen/max."""
    expected = known()[name]
    assert expected.best == expected.lower_bound
    problem = problem_of(name)
    answer = solve(problem, seconds=15)
    assert check(problem, answer) == ()
    assert answer.is_promise_proved
    assert answer.lateness_min == expected.best
    assert max(placed.end for placed in answer.placed) == expected.best


@pytest.mark.parametrize("name", ["maxlag/ubo50_psp38.sch", "maxlag/ubo100_psp31.sch"])
def test_impossible_waits(name: str) -> None:
    """ProGen/max: no timetable exists."""
    assert known()[name].best is None
    answer = solve(problem_of(name), seconds=15)
    assert answer.outcome is Outcome.INFEASIBLE
    assert answer.placed == ()
