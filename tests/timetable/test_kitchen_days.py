"""The made-up days that tests and benchmarks share."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from kitchen_days import kitchen_day

from stillroom.timetable.check import check


@pytest.mark.parametrize(("tasks", "days"), [(10, 1), (40, 1), (80, 1), (150, 2)])
@pytest.mark.parametrize("seed", range(5))
def test_the_witness_keeps_every_rule_and_nothing_is_late(seed: int, tasks: int, days: int) -> None:
    day = kitchen_day(seed, tasks, days)
    assert len(day.problem.tasks) == tasks
    assert check(day.problem, day.witness) == ()
    due = {task.key: task.due for task in day.problem.tasks if task.due is not None}
    assert due
    assert all(placed.end <= due[placed.task] for placed in day.witness.placed if placed.task in due)


def test_a_seed_makes_the_same_day_in_every_process() -> None:
    code = "from kitchen_days import kitchen_day; print(kitchen_day(3, 80))"
    for salt in ("1", "2"):
        made = subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            cwd=Path(__file__).parent,
            env={**os.environ, "PYTHONHASHSEED": salt},
        )
        assert made.stdout == f"{kitchen_day(3, 80)}\n"


def test_seeds_differ() -> None:
    assert len({kitchen_day(seed, 20) for seed in range(5)}) == 5
