"""What changes when days can't be kept: only what stood in the way is planned anew."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stillroom.allocation.problem import Allocation, Cut, Problem, Run, made_by
from stillroom.model.wish import GIVE_AWAY
from stillroom.planning.wishes import wished


def around(problem: Problem, allocation: Allocation, cuts: Iterable[Cut], *, is_late: bool = False) -> Problem:
    """The problem with what was chosen before, any dish on the days of the cuts, and giving away.

    What was cut may be done on other days, and other activities that take the same food may step in on the days of the
    cuts and the days beside them. When it is late, nothing new is started but dishes: something is left out, so
    that a plan with fewer runs is found rather than none.
    """
    choices = {(key, day) for cut in cuts for key, day, _ in cut.choices}
    kept = {(run.activity, run.day) for run in allocation.runs}
    items = {activity.key: {name for i in activity.inputs for name in i.items} for activity in problem.activities}
    wanted = {name for key, _ in choices for name in items[key]}
    cut_keys = {key for key, _ in choices}
    days = {day for _, day in choices}
    near = {day + shift for day in days for shift in (-1, 0, 1)}
    activities = []
    for activity in problem.activities:
        if activity.use == GIVE_AWAY or (activity.key in cut_keys and (activity.servings or not is_late)):
            activities.append(activity)
            continue
        open_days: set[int] = set()
        if activity.servings:
            open_days = days
        elif not is_late and wanted & items[activity.key]:
            open_days = near
        left = tuple(day for day in activity.days if day in open_days or (activity.key, day) in kept)
        if left:
            activities.append(replace(activity, days=left))
    return replace(problem, activities=tuple(activities))


def just(problem: Problem, runs: Iterable[Run]) -> Problem:
    """The problem with nothing but these runs, at most at their levels, and giving away."""
    levels: dict[str, dict[int, float]] = {}
    for run in runs:
        levels.setdefault(run.activity, {})[run.day] = run.level
    activities = (
        activity
        if activity.use == GIVE_AWAY
        else replace(
            activity,
            days=tuple(levels.get(activity.key, {})),
            largest=max(levels.get(activity.key, {}).values(), default=activity.largest),
        )
        for activity in problem.activities
    )
    return replace(problem, activities=tuple(activity for activity in activities if activity.days))


def with_more(problem: Problem, allocation: Allocation) -> Problem:
    """The problem with what was chosen before, what is wished, and every way of using what was given away or lost."""
    kept = {(run.activity, run.day) for run in allocation.runs}
    uses = {activity.key: activity.use for activity in problem.activities}
    item_of = {lot.key: lot.item for lot in problem.lots}
    lost = {taken.item for run in allocation.runs if uses[run.activity] == GIVE_AWAY for taken in run.taken}
    lost |= {item_of[key] if key in item_of else made_by(key)[2] for key, _ in allocation.spoiled}
    activities, wishes = [], wished(problem)
    for activity in problem.activities:
        takes_lost = activity.key in wishes or any(name in lost for needed in activity.inputs for name in needed.items)
        days = tuple(day for day in activity.days if takes_lost or (activity.key, day) in kept)
        if days:
            activities.append(replace(activity, days=days))
    return replace(problem, activities=tuple(activities))
