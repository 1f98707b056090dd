"""More work than there is time for, seen by adding up: no search, and numbers that a cook can check.

Work counts within some hours when it can't be done outside them: energetic reasoning in its simplest form, only tasks
that lie in the hours whole. Source, named from memory: Baptiste, Le Pape, Nuijten, Constraint-Based Scheduling (2001).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from stillroom.model.work import Attention
from stillroom.timetable.components import restricted
from stillroom.timetable.problem import Problem, Span, Task
from stillroom.timetable.ways import Way, demands_of, presence, ways


class Of(StrEnum):
    """What there is too little of."""

    HANDS = "hands"  # of everybody
    PERSON = "person"  # hands of one person, for what only they can do
    PLACES = "places"  # minutes of one place of an equipment
    TIME = "time"  # steps that follow each other


@dataclass(frozen=True, slots=True)
class Overload:
    """Within [begin, end) `needed_min` are wanted and `there_min` are there; `subject` names person or equipment."""

    of: Of
    subject: str
    begin: int
    end: int
    needed_min: int
    there_min: int
    keys: tuple[str, ...]  # of the tasks that want it


@dataclass(frozen=True, slots=True)
class _Load:
    """A task within its window, and how much it takes."""

    key: str
    first: int
    last: int
    amount: int


def seen_at_once(problem: Problem, found: Mapping[str, Sequence[Way]]) -> tuple[str, ...]:
    """Groups that plainly can't be done together; empty when nothing is plain.

    A task that fits nowhere even alone, or more minutes of hands within some hours than people are there.
    """
    group = {task.key: task.group for task in problem.tasks}
    for task in problem.tasks:
        if not found[task.key] and not ways(restricted(problem, {task.key}))[task.key]:
            return (task.group,)
    if not all(found.values()):
        return ()
    overload = next(_of_hands(problem, found), None)
    return _heaviest(overload, problem, group) if overload else ()


def largest_overload(problem: Problem) -> Overload | None:
    """The overload with the largest part too much; None where adding up shows none."""
    found = ways(problem)
    if not all(found.values()):
        chain = _of_time(problem)
        if chain is not None:
            return chain
        found = ways(replace(problem, lags=()))
    part = restricted(problem, {key for key, chosen in found.items() if chosen})
    every = (*_of_hands(part, found, is_first=False), *_of_places(part, found))
    return max(every, key=lambda over: over.needed_min / max(1, over.there_min), default=None)


def load_of_hands(problem: Problem) -> Overload | None:
    """All work by hand and the hands that are there while it may be done, over or not; None without such work."""
    found = ways(replace(problem, lags=()))
    hands = _loads([t for t in problem.tasks if t.attention is Attention.HANDS and found[t.key]], found)
    if not hands:
        return None
    begin, end = min(load.first for load in hands), max(load.last for load in hands)
    spans = [span for worker in problem.workers for span in presence(problem, (worker.name,))]
    there = sum(max(0, min(span.end, end) - max(span.start, begin)) for span in spans)
    return Overload(Of.HANDS, "", begin, end, sum(load.amount for load in hands), there, tuple(h.key for h in hands))


def _of_hands(problem: Problem, found: Mapping[str, Sequence[Way]], *, is_first: bool = True) -> Iterator[Overload]:
    """Of one person, then of all."""
    hands = [task for task in problem.tasks if task.attention is Attention.HANDS]
    for name in (worker.name for worker in problem.workers):
        only = [task for task in hands if all(way.worker == name for way in found[task.key])]
        spans = presence(problem, (name,))
        yield from _overfull(Of.PERSON, name, _loads(only, found), spans, is_first=is_first)
    spans = tuple(span for worker in problem.workers for span in presence(problem, (worker.name,)))
    yield from _overfull(Of.HANDS, "", _loads(hands, found), spans, is_first=is_first)


def _of_places(problem: Problem, found: Mapping[str, Sequence[Way]]) -> Iterator[Overload]:
    """Minutes of places; a task takes what its leanest way does."""
    for resource in problem.resources:
        loads = []
        for task in problem.tasks:
            least = min(way.minutes * demands_of(task.modes[way.mode]).get(resource.name, 0) for way in found[task.key])
            if least > 0:
                loads.extend(_loads([task], found, least))
        if loads:
            first, last = min(load.first for load in loads), max(load.last for load in loads)
            spans = (Span(first, last),) * resource.capacity
            yield from _overfull(Of.PLACES, resource.name, loads, spans, is_first=False)


def _loads(tasks: Sequence[Task], found: Mapping[str, Sequence[Way]], amount: int | None = None) -> list[_Load]:
    return [
        _Load(
            task.key,
            min(way.starts[0][0] for way in found[task.key]),
            max(way.starts[-1][1] + way.minutes for way in found[task.key]),
            min(way.minutes for way in found[task.key]) if amount is None else amount,
        )
        for task in tasks
    ]


def _overfull(
    of: Of, subject: str, loads: Sequence[_Load], spans: Sequence[Span], *, is_first: bool
) -> Iterator[Overload]:
    """The first overload, or the one with the largest part too much."""
    worst: Overload | None = None
    by_end = sorted(loads, key=lambda load: load.last)
    until = _minutes_until(spans, {minute for load in loads for minute in (load.first, load.last)})
    for begin in sorted({load.first for load in loads}):
        total, count = 0, 0
        for load in by_end:
            if load.first < begin:
                continue
            total, count = total + load.amount, count + 1
            there = until[load.last] - until[begin]
            if total > there and (worst is None or total * worst.there_min > worst.needed_min * there):
                keys = tuple(other.key for other in by_end if other.first >= begin)[:count]
                worst = Overload(of, subject, begin, load.last, total, there, keys)
                if is_first:
                    yield worst
                    return
    if worst is not None:
        yield worst


def _minutes_until(spans: Sequence[Span], minutes: Iterable[int]) -> Mapping[int, int]:
    """Minutes of all spans before each of the minutes given."""
    return {
        minute: sum(min(span.end, minute) - span.start for span in spans if span.start < minute) for minute in minutes
    }


def _of_time(problem: Problem) -> Overload | None:
    """Steps that follow each other and take longer than from the first start to the last end there is."""
    alone = ways(replace(problem, lags=()))
    if not all(alone.values()):
        return None
    first = {key: min(way.starts[0][0] for way in chosen) for key, chosen in alone.items()}
    last = {key: max(way.starts[-1][1] + way.minutes for way in chosen) for key, chosen in alone.items()}
    least = {key: min(way.minutes for way in chosen) for key, chosen in alone.items()}
    start, before = _one_after_the_other(problem, first, least)
    late = [key for key in start if start[key] + least[key] > last[key]]
    if not late:
        return None
    end = max(late, key=lambda key: start[key] + least[key] - last[key])
    chain = [end]
    while chain[-1] in before and len(chain) <= len(start):
        chain.append(before[chain[-1]])
    begin = first[chain[-1]]
    needed = start[end] + least[end] - begin
    return Overload(Of.TIME, "", begin, last[end], needed, last[end] - begin, tuple(reversed(chain)))


def shortest_min(problem: Problem) -> int:
    """Minutes from the first start to the last end of work if nothing but the order of its steps held it up."""
    least = {task.key: min(mode.minutes for mode in task.modes) for task in problem.tasks}
    start, _ = _one_after_the_other(problem, dict.fromkeys(least, 0), least)
    return max((start[key] + least[key] for key in start), default=0)


def _one_after_the_other(
    problem: Problem, first: Mapping[str, int], least: Mapping[str, int]
) -> tuple[dict[str, int], dict[str, str]]:
    """The earliest start of each task by the least waits alone, and the task that it waits for."""
    start, before = dict(first), dict[str, str]()
    for _ in problem.tasks:
        moved = False
        for lag in problem.lags:
            after = start[lag.before] + least[lag.before] + lag.min_lag
            if after > start[lag.after]:
                start[lag.after], before[lag.after], moved = after, lag.before, True
        if not moved:
            break
    return start, before


def _heaviest(overload: Overload, problem: Problem, group: Mapping[str, str]) -> tuple[str, ...]:
    """As few groups as make more minutes than there are, the heaviest first."""
    least = {task.key: min(mode.minutes for mode in task.modes) for task in problem.tasks}
    by_group: dict[str, int] = {}
    for key in overload.keys:
        by_group[group[key]] = by_group.get(group[key], 0) + least[key]
    chosen: list[str] = []
    total = 0
    for name, minutes in sorted(by_group.items(), key=lambda item: -item[1]):
        chosen.append(name)
        total += minutes
        if total > overload.there_min:
            break
    return tuple(chosen)
