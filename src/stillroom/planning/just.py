"""Only these runs: what a split is when its runs are chosen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stillroom.allocation.constraints import CUT_STEP_SHARE
from stillroom.allocation.problem import Activity, Cut, Problem, Run
from stillroom.model.wish import GIVE_AWAY


def just(problem: Problem, runs: Iterable[Run]) -> Problem:
    """The problem with nothing but these runs, at most at their levels, and giving away."""
    levels: dict[str, dict[int, float]] = {}
    for run in runs:
        levels.setdefault(run.activity, {})[run.day] = run.level
    activities, cuts = list[Activity](), list[Cut]()
    for activity in problem.activities:
        if activity.use == GIVE_AWAY:
            activities.append(activity)
        elif activity.key in levels:
            largest = max(levels[activity.key].values())
            activities.append(replace(activity, days=tuple(levels[activity.key]), largest=largest))
            cuts.extend(
                Cut(((activity.key, day, _above(activity, level)),))
                for day, level in levels[activity.key].items()
                if level < largest * (1 - 1e-6)
            )
    return replace(problem, activities=tuple(activities), cuts=(*problem.cuts, *cuts))


def _above(activity: Activity, level: float) -> float:
    """The level of a cut that leaves room for just this level."""
    return level + activity.level_step if activity.level_step > 0 else level * (1 + 1e-6) / (1 - CUT_STEP_SHARE)
