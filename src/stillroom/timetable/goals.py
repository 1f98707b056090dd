"""What makes a timetable better: first the promise (nothing late), then comfort.

The weights are common practice, no source: a minute of a dish waiting counts most.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from stillroom.model.work import Attention
from stillroom.timetable.problem import Lag, Placed, Problem, Task
from stillroom.timetable.ways import Way

DAY_MIN = 24 * 60
EVENING_MIN = 20 * 60  # work for hands after this hour of the day is unwelcome
EARLY_WEIGHT = 5  # a minute that a dish stands before it is due
EVENING_WEIGHT = 4  # a minute of hands in the late evening
FINISH_WEIGHT = 3  # a minute that a day's work ends later
WAIT_WEIGHT = 2  # a minute that a run stands still

Ways = Mapping[str, Sequence[Way]]


@dataclass(frozen=True, slots=True)
class Mark:
    """A minute; each one by which the last end of some tasks passes it costs `weight`."""

    keys: tuple[str, ...]
    minute: int
    weight: int

    def over(self, placed: Mapping[str, Placed]) -> int:
        """Minutes past it in a timetable."""
        return max(0, max(placed[key].end for key in self.keys) - self.minute)


def first_end(ways: Sequence[Way]) -> int:
    """The earliest minute at which a task can end."""
    return min(way.starts[0][0] + way.minutes for way in ways)


def last_end(ways: Sequence[Way]) -> int:
    """The latest minute at which a task can end."""
    return max(way.starts[-1][1] + way.minutes for way in ways)


def promise(problem: Problem, ways: Ways) -> tuple[Mark, ...]:
    """When each task is due that can be late."""
    return tuple(
        Mark((task.key,), task.due, 1)
        for task in problem.tasks
        if task.due is not None and last_end(ways[task.key]) > task.due
    )


def comfort(problem: Problem, ways: Ways) -> tuple[Mark, ...]:
    """Early ends of days and no hands in the evening, for tasks that stay within one day."""
    by_day: dict[int, list[Task]] = {}
    for task in problem.tasks:
        day = first_end(ways[task.key]) // DAY_MIN
        if task.attention is not Attention.FREE and (last_end(ways[task.key]) - 1) // DAY_MIN == day:
            by_day.setdefault(day, []).append(task)
    found = []
    for day, tasks in sorted(by_day.items()):
        keys = tuple(task.key for task in tasks)
        found.append(Mark(keys, min(first_end(ways[key]) for key in keys), FINISH_WEIGHT))
        evening = day * DAY_MIN + EVENING_MIN
        found.extend(
            Mark((task.key,), evening, EVENING_WEIGHT)
            for task in tasks
            if task.attention is Attention.HANDS and last_end(ways[task.key]) > evening
        )
    return tuple(found)


def inner_lags(problem: Problem) -> tuple[Lag, ...]:
    """The waits within a run."""
    groups = {task.key: task.group for task in problem.tasks}
    return tuple(lag for lag in problem.lags if groups[lag.before] == groups[lag.after])


def discomfort(problem: Problem, marks: Sequence[Mark], placed: Mapping[str, Placed]) -> int:
    """What the search for comfort makes small; `marks` are those of `comfort`."""
    waits = sum(placed[lag.after].start - placed[lag.before].end - lag.min_lag for lag in inner_lags(problem))
    early = sum(max(0, task.due - placed[task.key].end) for task in problem.tasks if task.due is not None)
    over = sum(mark.weight * mark.over(placed) for mark in marks)
    return WAIT_WEIGHT * waits + EARLY_WEIGHT * early + over
