"""What has happened of a timetable so far."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from stillroom.timetable.network import in_order
from stillroom.timetable.problem import Placed, Problem, Span, Timetable
from stillroom.timetable.spread import Spread, still_needed, usual


@dataclass(frozen=True, slots=True)
class Progress:
    """The minute it is, when finished tasks began and ended, and when those going on began and are expected to end.

    `who` names those who do it in place of whoever was planned. Tasks that are in neither have not begun.
    ValueError for a task that is in both, has begun or ended after now, or is going on and expected to end before now.
    """

    now: int
    finished: Mapping[str, Span] = field(default_factory=dict)
    going_on: Mapping[str, Span] = field(default_factory=dict)
    who: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if both := self.finished.keys() & self.going_on.keys():
            raise ValueError(f"{min(both)} can't be finished and going on.")
        for key, span in (*self.finished.items(), *self.going_on.items()):
            if span.start > self.now or (key in self.finished and span.end > self.now):
                raise ValueError(f"{key} can't have happened at {max(span.start, span.end)}: it is {self.now}.")
        for key, span in self.going_on.items():
            if span.end < self.now:
                raise ValueError(f"{key} is going on and can't have ended at {span.end}.")


def progress(
    problem: Problem,
    timetable: Timetable,
    *,
    now: int,
    started: Mapping[str, int],
    finished: Mapping[str, int],
    who: Mapping[str, str] | None = None,
    spreads: Mapping[str, Spread] | None = None,
) -> Progress:
    """From the minutes at which tasks have begun and ended; how long those going on still take is estimated.

    A task of which only the end is known took its planned minutes. What must come before something begun is done.
    """
    started, finished = _with_what_came_before(problem, timetable, started, finished)
    tasks = {task.key: task for task in problem.tasks}
    minutes = {item.task: tasks[item.task].modes[item.mode].minutes for item in timetable.placed}
    done = {key: Span(min(started.get(key, end - minutes[key]), end), end) for key, end in finished.items()}
    going_on = {}
    for key, start in started.items():
        if key not in finished:
            spread = (spreads or {}).get(key) or usual(tasks[key])
            left = still_needed(minutes[key], spread, max(0, now - start))
            going_on[key] = Span(start, max(now, start) + left)
    return Progress(now, done, going_on, who or {})


def _with_what_came_before(
    problem: Problem, timetable: Timetable, started: Mapping[str, int], finished: Mapping[str, int]
) -> tuple[dict[str, int], dict[str, int]]:
    planned = {item.task: item for item in timetable.placed}
    began = {**{key: end for key, end in finished.items() if key not in started}, **started}
    started, finished = dict(started), dict(finished)
    open_ = list(began)
    while open_:
        after = open_.pop()
        for lag in problem.lags:
            if lag.after == after and lag.before not in began:
                item = planned[lag.before]
                # Nobody said when it ended: as planned, or as near to that as the wait after it allows.
                soonest = began[after] - lag.max_lag if lag.max_lag is not None else item.end
                end = min(max(item.end, soonest), began[after] - lag.min_lag)
                began[lag.before] = started[lag.before] = min(item.start, end)
                finished[lag.before] = end
                open_.append(lag.before)
    return started, finished


def as_it_went(problem: Problem, timetable: Timetable, seen: Progress) -> tuple[Placed, ...]:
    """What is finished, what is going on, then what is to come in the order planned; times of what happened are real.

    Where one person would be doing two things at once, somebody else who may do it and is free is taken to do one.
    """
    planned = {item.task: item for item in in_order(problem, timetable.placed)}
    happened = {**seen.finished, **seen.going_on}
    found = [
        replace(planned[key], start=span.start, end=span.end, worker=seen.who.get(key, planned[key].worker))
        for part in (seen.finished, seen.going_on)
        for key, span in sorted(part.items(), key=lambda item: (item[1].end, item[1].start))
    ]
    going_on = [item for item in found if item.task in seen.going_on]
    done = [item for item in found if item.task in seen.finished]
    return (
        *done,
        *_each_by_one(problem, going_on),
        *(item for key, item in planned.items() if key not in happened),
    )


def _each_by_one(problem: Problem, going_on: Sequence[Placed]) -> list[Placed]:
    tasks = {task.key: task for task in problem.tasks}
    busy: set[str | None] = set()
    found = []
    for item in going_on:
        if item.worker in busy:
            allowed = tasks[item.task].modes[item.mode].workers or tuple(worker.name for worker in problem.workers)
            taken = busy | {other.worker for other in going_on}
            item = replace(item, worker=next((name for name in allowed if name not in taken), item.worker))  # noqa: PLW2901
        busy |= {item.worker} - {None}
        found.append(item)
    return found
