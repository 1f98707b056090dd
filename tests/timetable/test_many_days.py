"""Made-up days of all sizes; benchmarks/timetable_checks.py does the same with thousands."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from kitchen_days import kitchen_day
from unlucky import unlucky

from stillroom.timetable.check import check
from stillroom.timetable.replan import replan
from stillroom.timetable.solve import solve

SIZES = ((10, 1, 0.0), (20, 1, 0.7), (40, 1, 0.3), (60, 2, 0.7), (80, 1, 0.3), (150, 2, 0.3))


@pytest.mark.parametrize(("tasks", "days", "windows"), SIZES)
def test_every_timetable_and_every_new_plan_keeps_all_rules(tasks: int, days: int, windows: float) -> None:
    for seed in range(100, 108):
        problem = kitchen_day(seed, tasks, days, windows).problem
        answer = solve(problem, seconds=0.05, seed=seed, workers=1)
        assert answer.placed
        assert answer.lateness_min == 0  # each day is built around a timetable in which nothing is late
        assert check(problem, answer) == ()
        rest = replan(problem, answer, unlucky(problem, answer, seed), seconds=0.05, workers=1)
        assert check(rest.problem, rest.timetable) == ()


def test_one_worker_and_one_seed_make_the_same_timetable_byte_for_byte() -> None:
    code = (
        "from kitchen_days import kitchen_day; from stillroom.timetable.solve import solve;"
        "print(*(solve(kitchen_day(3, tasks).problem, seconds=0.3, seed=5, workers=1).placed for tasks in (40, 80)))"
    )
    made = [
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            check=True,
            cwd=Path(__file__).parent,
            env={**os.environ, "PYTHONHASHSEED": salt},
        ).stdout
        for salt in ("1", "2")
    ]
    assert made[0] == made[1]
    assert made[0].count(b"Placed(") == 120
