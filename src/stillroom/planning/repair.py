"""What changes when days can't be kept: the split is solved again around them, the rest stays as it was."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stillroom.allocation.problem import Allocation, Cut, Problem


def around(problem: Problem, allocation: Allocation, cuts: Iterable[Cut]) -> Problem:
    """The problem with everything as it was but for the days of the cuts and their neighbours, and giving away."""
    kept = {(run.activity, run.day) for run in allocation.runs}
    open_days = {day + shift for cut in cuts for _, day, _ in cut.choices for shift in (-1, 0, 1)}
    activities = (
        replace(activity, days=tuple(d for d in activity.days if d in open_days or (activity.key, d) in kept))
        if activity.use != "give away"
        else activity
        for activity in problem.activities
    )
    return replace(problem, activities=tuple(activity for activity in activities if activity.days))
