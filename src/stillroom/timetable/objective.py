"""What makes a timetable better: first the promise (nothing late), then comfort.

The weights are common practice, no source: a minute of a dish waiting counts most.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.model.work import Attention
from stillroom.timetable.problem import Placed, Problem, Task
from stillroom.timetable.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

DAY_MIN = 24 * 60
EVENING_MIN = 20 * 60  # work for hands after this hour of the day is unwelcome
EARLY_WEIGHT = 5  # a minute that a dish stands before it is due
EVENING_WEIGHT = 4  # a minute of hands in the late evening
FINISH_WEIGHT = 3  # a minute that a day's work ends later
WAIT_WEIGHT = 2  # a minute that a run stands still


@dataclass(frozen=True, slots=True)
class Excess:
    """Minutes by which the last end of some tasks passes a mark (at least 0)."""

    variable: cp_model.IntVar
    keys: tuple[str, ...]
    mark: int
    weight: int


def lateness(problem: Problem, variables: Variables) -> tuple[Excess, ...]:
    """Minutes past due, for each task that can be late."""
    return tuple(
        _excess(variables, (task.key,), task.due, 1)
        for task in problem.tasks
        if task.due is not None and variables.last_end(task.key) > task.due
    )


def discomforts(problem: Problem, variables: Variables) -> tuple[Excess, ...]:
    """Late ends of days and hands in the evening, for tasks that stay within one day."""
    by_day: dict[int, list[Task]] = {}
    for task in problem.tasks:
        day = variables.first_end(task.key) // DAY_MIN
        if task.attention is not Attention.FREE and (variables.last_end(task.key) - 1) // DAY_MIN == day:
            by_day.setdefault(day, []).append(task)
    found = []
    for day, tasks in sorted(by_day.items()):
        keys = tuple(task.key for task in tasks)
        found.append(_excess(variables, keys, min(map(variables.first_end, keys)), FINISH_WEIGHT))
        evening = day * DAY_MIN + EVENING_MIN
        found.extend(
            _excess(variables, (task.key,), evening, EVENING_WEIGHT)
            for task in tasks
            if task.attention is Attention.HANDS and variables.last_end(task.key) > evening
        )
    return tuple(found)


def waiting(problem: Problem, variables: Variables, late: Sequence[Excess]) -> cp_model.LinearExpr:
    """Weighted minutes that runs stand still between their steps, and that dishes stand before they are due."""
    from ortools.sat.python import cp_model

    groups = {task.key: task.group for task in problem.tasks}
    waits = [
        variables.start(lag.after) - variables.end(lag.before) - lag.min_lag
        for lag in problem.lags
        if groups[lag.before] == groups[lag.after]
    ]
    early = [task.due - variables.end(task.key) for task in problem.tasks if task.due is not None]
    early.extend(excess.variable + 0 for excess in late)
    return WAIT_WEIGHT * cp_model.LinearExpr.sum(waits) + EARLY_WEIGHT * cp_model.LinearExpr.sum(early)


def minutes_over(excess: Excess, placed: Mapping[str, Placed]) -> int:
    """The value of an excess in a timetable."""
    return max(0, max(placed[key].end for key in excess.keys) - excess.mark)


def _excess(variables: Variables, keys: tuple[str, ...], mark: int, weight: int) -> Excess:
    top = max(0, max(map(variables.last_end, keys)) - mark)
    variable = variables.model.new_int_var(0, top, "over")
    for key in keys:
        variables.model.add(variable >= variables.end(key) - mark)
    return Excess(variable, keys, mark, weight)
