"""When each task can start, by whom and in which mode, before any search."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.model.work import Attention
from stillroom.timetable.problem import Lag, Mode, Problem, Span, Task


@dataclass(frozen=True, slots=True)
class Way:
    """One mode by one worker (None: nobody's hands), and the ranges of start minutes, both ends included."""

    mode: int
    minutes: int
    worker: str | None
    starts: tuple[tuple[int, int], ...]


def ways(problem: Problem) -> Mapping[str, tuple[Way, ...]]:
    """All ways of doing each task, narrowed by the waits between tasks; a task without a way can't be done.

    The minimum and maximum waits are carried along all chains (longest paths); when they contradict each other, the
    tasks in the contradiction are left without a way.
    """
    found = {task.key: _ways_alone(problem, task) for task in problem.tasks}
    if not all(found.values()):
        return found
    earliest = {key: min(way.starts[0][0] for way in chosen) for key, chosen in found.items()}
    latest = {key: max(way.starts[-1][1] + way.minutes for way in chosen) for key, chosen in found.items()}
    _carry(problem.lags, found, earliest, latest)
    return {
        key: tuple(narrowed for way in chosen if (narrowed := _clip(way, earliest[key], latest[key])).starts)
        for key, chosen in found.items()
    }


def within_lateness(problem: Problem, late_min: int) -> Mapping[str, tuple[Way, ...]]:
    """The ways that are left when no task is more than so many minutes late."""
    tasks = tuple(
        task if task.due is None else replace(task, latest_end=min(task.latest_end, task.due + late_min))
        for task in problem.tasks
    )
    return ways(replace(problem, tasks=tasks))


def presence(problem: Problem, names: Iterable[str]) -> tuple[Span, ...]:
    """Spans in which at least one of the workers named is in the kitchen; spans that touch are one."""
    wanted = set(names)
    joined: list[Span] = []
    for span in sorted(
        (span for worker in problem.workers if worker.name in wanted for span in worker.presence),
        key=lambda span: (span.start, span.end),
    ):
        if joined and span.start <= joined[-1].end:
            joined[-1] = Span(joined[-1].start, max(joined[-1].end, span.end))
        else:
            joined.append(span)
    return tuple(joined)


def demands_of(mode: Mode) -> Mapping[str, int]:
    """Amounts taken of each resource."""
    total: dict[str, int] = {}
    for demand in mode.demands:
        total[demand.resource] = total.get(demand.resource, 0) + demand.amount
    return total


def _ways_alone(problem: Problem, task: Task) -> tuple[Way, ...]:
    resources = {resource.name: resource for resource in problem.resources}
    found = []
    for number, mode in enumerate(task.modes):
        if any(
            amount > resources[name].capacity and (mode.minutes > 0 or resources[name].is_used_up)
            for name, amount in demands_of(mode).items()
        ):
            continue
        for worker, spans in _people(problem, task, mode):
            starts = _starts(task, mode.minutes, spans)
            if starts:
                found.append(Way(number, mode.minutes, worker, starts))
    return tuple(found)


def _people(problem: Problem, task: Task, mode: Mode) -> list[tuple[str | None, Sequence[Span]]]:
    names = mode.workers or tuple(worker.name for worker in problem.workers)
    if task.attention is Attention.HANDS:
        return [(name, presence(problem, (name,))) for name in names]
    if task.attention is Attention.NEAR:
        is_minded = problem.near_limit > 0 or mode.minutes == 0
        return [(None, presence(problem, names))] if is_minded else []
    return [(None, (Span(task.earliest, max(task.earliest, task.latest_end)),))]


def _starts(task: Task, minutes: int, spans: Sequence[Span]) -> tuple[tuple[int, int], ...]:
    found = []
    for span in spans:
        first, last = max(span.start, task.earliest), min(span.end, task.latest_end) - minutes
        if first <= last:
            found.append((first, last))
    return tuple(found)


def _carry(
    lags: Sequence[Lag], found: Mapping[str, Sequence[Way]], earliest: dict[str, int], latest: dict[str, int]
) -> None:
    """Narrows earliest starts and latest ends until nothing moves, or a window is empty."""
    shortest = {key: min(way.minutes for way in chosen) for key, chosen in found.items()}
    longest = {key: max(way.minutes for way in chosen) for key, chosen in found.items()}
    moved: set[str] = set()
    for _ in range(len(found) + 1):
        moved = set()
        for lag in lags:
            before, after = lag.before, lag.after
            _raise(earliest, after, earliest[before] + shortest[before] + lag.min_lag, moved)
            _lower(latest, before, latest[after] - shortest[after] - lag.min_lag, moved)
            if lag.max_lag is not None:
                _raise(earliest, before, earliest[after] - lag.max_lag - longest[before], moved)
                _lower(latest, after, latest[before] + lag.max_lag + longest[after], moved)
        if not moved or any(latest[key] - earliest[key] < shortest[key] for key in moved):
            return
    for key in moved:  # waits that push each other on for ever
        earliest[key], latest[key] = 1, 0


def _raise(earliest: dict[str, int], key: str, minute: int, moved: set[str]) -> None:
    if minute > earliest[key]:
        earliest[key] = minute
        moved.add(key)


def _lower(latest: dict[str, int], key: str, minute: int, moved: set[str]) -> None:
    if minute < latest[key]:
        latest[key] = minute
        moved.add(key)


def _clip(way: Way, earliest: int, latest_end: int) -> Way:
    clipped = ((max(first, earliest), min(last, latest_end - way.minutes)) for first, last in way.starts)
    return Way(way.mode, way.minutes, way.worker, tuple((first, last) for first, last in clipped if first <= last))
