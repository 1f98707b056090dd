"""What changes when a day can't be kept: the runs in conflict are cut, and the split is solved again around them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from stillroom.allocation.problem import Allocation, Cut, Problem
from stillroom.planning.tasks import Batch
from stillroom.timetable.problem import Timetable


def cut_for(
    allocation: Allocation, batches: Sequence[Batch], timetable: Timetable, day_name: Callable[[int], str]
) -> Cut:
    """The runs in conflict may not all be done again at these levels; without a known conflict, all of the plan."""
    blamed = {batch.run for batch in batches if not timetable.conflict or batch.key in timetable.conflict}
    names = {batch.run: batch.variant.recipe.name for batch in batches}
    chosen = [run for run in allocation.runs if (run.activity, run.day) in blamed]
    words = ", ".join(f"{names[run.activity, run.day]} ({day_name(run.day)})" for run in chosen)
    return Cut(tuple((run.activity, run.day, run.level) for run in chosen), words)


def around(problem: Problem, allocation: Allocation, cut: Cut) -> Problem:
    """The problem with everything as it was but for the days of the cut and their neighbours, and giving away."""
    kept = {(run.activity, run.day) for run in allocation.runs}
    open_days = {day + shift for _, day, _ in cut.choices for shift in (-1, 0, 1)}
    activities = (
        replace(activity, days=tuple(d for d in activity.days if d in open_days or (activity.key, d) in kept))
        if activity.use != "give away"
        else activity
        for activity in problem.activities
    )
    return replace(problem, activities=tuple(activity for activity in activities if activity.days))
