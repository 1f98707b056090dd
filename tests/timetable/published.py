"""Published instances as timetable problems: FREE tasks, the last due at 0, so that lateness is the makespan.

Read with the PyPI package `psplib`.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import psplib

from stillroom.model.work import Attention
from stillroom.timetable.problem import Demand, Lag, Mode, Problem, Resource, Task

DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Known:
    """What is known of an instance; both None: proved impossible."""

    name: str
    kind: str  # the folder: j30, j60, j120, multimode, maxlag
    lower_bound: int | None
    best: int | None


def known() -> dict[str, Known]:
    """All instances, in the order of the table."""
    return {name: _known(row) for name, row in rows().items()}


def instance(name: str) -> psplib.ProjectInstance.ProjectInstance:
    """The instance as it was published."""
    return psplib.parse(DATA / name, instance_format=rows()[name]["format"])


def problem_of(name: str) -> Problem:
    """The instance in our words; a wait from start to start is one from end to start, less what the first takes."""
    read = instance(name)
    resources = tuple(
        Resource(f"R{number}", resource.capacity, is_used_up=not resource.renewable)
        for number, resource in enumerate(read.resources)
    )
    horizon = sum(max(mode.duration for mode in activity.modes) for activity in read.activities)
    horizon += sum(max(0, delay) for activity in read.activities for delay in activity.delays or ())
    tasks, lags = [], []
    last = len(read.activities) - 1
    for number, activity in enumerate(read.activities):
        modes = tuple(
            Mode(
                mode.duration, tuple(Demand(f"R{place}", amount) for place, amount in enumerate(mode.demands) if amount)
            )
            for mode in activity.modes
        )
        key, due = str(number), 0 if number == last else None
        tasks.append(Task(key, f"job {key}", f"job {key}", modes, Attention.FREE, 0, horizon, due))
        waits = [delay - modes[0].minutes for delay in activity.delays or ()] or [0] * len(activity.successors)
        lags.extend(Lag(key, str(after), wait, None) for after, wait in zip(activity.successors, waits, strict=True))
    return Problem(tuple(tasks), tuple(lags), (), resources)


def rows() -> dict[str, dict[str, str]]:
    """The table of best-known values by file."""
    with (DATA / "best_known.csv").open(newline="") as file:
        return {row["file"]: row for row in csv.DictReader(file)}


def _known(row: dict[str, str]) -> Known:
    bound, best = (int(row[column]) if row[column] else None for column in ("lower_bound", "best_known"))
    return Known(row["file"], row["file"].split("/")[0], bound, best)
