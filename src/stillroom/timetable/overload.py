"""More work than there is time for, seen by adding up: no search, and numbers that a cook can check.

Work counts within some hours as far as it can't be done outside them (`energy.py`): of everybody's hands, of the hands
of those who alone may do it, of what can be minded, of places of equipment.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial

from stillroom.model.work import Attention
from stillroom.timetable.components import restricted
from stillroom.timetable.energy import Excess, Load, largest_excess
from stillroom.timetable.problem import Mode, Problem, Span, Task
from stillroom.timetable.ways import Way, demands_of, presence, ways


class Of(StrEnum):
    """What there is too little of."""

    HANDS = "hands"  # of everybody
    PERSON = "person"  # hands of some, for what only they can do
    NEAR = "near"  # of what can be minded at once
    PLACES = "places"  # minutes of one place of an equipment
    TIME = "time"  # steps that follow each other


@dataclass(frozen=True, slots=True)
class Overload:
    """Within [begin, end) `needed_min` are wanted and `there_min` are there; `subject` names people or equipment."""

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
    overload = _hands_overfull(problem, found)
    return _heaviest(overload, problem, group) if overload else ()


def largest_overload(problem: Problem) -> Overload | None:
    """The overload with most minutes too many; None where adding up shows none."""
    found = ways(problem)
    if not all(found.values()):
        chain = _of_time(problem)
        if chain is not None:
            return chain
        found = ways(replace(problem, lags=()))
    part = restricted(problem, {key for key, chosen in found.items() if chosen})
    every = (*_of_hands(part, found), *_of_minding(part, found), *_of_places(part, found))
    return max(every, key=lambda over: over.needed_min - over.there_min, default=None)


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


def _of_hands(problem: Problem, found: Mapping[str, Sequence[Way]]) -> Iterator[Overload]:
    """Of everybody, and of each set of people that some work is for alone."""
    hands = [task for task in problem.tasks if task.attention is Attention.HANDS]
    able = {task.key: frozenset(way.worker for way in found[task.key] if way.worker is not None) for task in hands}
    everybody = frozenset(worker.name for worker in problem.workers)
    for names in {everybody, *able.values()}:
        only = [task for task in hands if able[task.key] <= names]
        spans = [span for worker in problem.workers if worker.name in names for span in worker.presence]
        loads = _loads_of(problem, found, {task.key: lambda mode: 1 for task in only})
        subject = (
            ""
            if names == everybody and len(names) > 1
            else " and ".join(w.name for w in problem.workers if w.name in names)
        )
        yield from _told(Of.PERSON if subject else Of.HANDS, subject, largest_excess(loads, spans))


def _of_minding(problem: Problem, found: Mapping[str, Sequence[Way]]) -> Iterator[Overload]:
    """What somebody minds, of which only so much goes on at once, in hours in which somebody is there."""
    spans = presence(problem, [worker.name for worker in problem.workers])
    near = {task.key: lambda mode: 1 for task in problem.tasks if task.attention is Attention.NEAR}
    loads = _loads_of(problem, found, near)
    yield from _told(Of.NEAR, str(problem.near_limit), largest_excess(loads, spans * problem.near_limit))


def _of_places(problem: Problem, found: Mapping[str, Sequence[Way]]) -> Iterator[Overload]:
    """Minutes of places."""
    for resource in (resource for resource in problem.resources if not resource.is_used_up):
        takers = {
            task.key: partial(_taken, resource.name)
            for task in problem.tasks
            if any(_taken(resource.name, mode) for mode in task.modes)
        }
        loads = _loads_of(problem, found, takers)
        if loads:
            first = min(start for load in loads for start, _, _ in load.places)
            last = max(start + minutes for load in loads for start, minutes, _ in load.places)
            yield from _told(Of.PLACES, resource.name, largest_excess(loads, (Span(first, last),) * resource.capacity))


def _taken(resource: str, mode: Mode) -> int:
    return demands_of(mode).get(resource, 0)


def _told(of: Of, subject: str, excess: Excess | None) -> Iterator[Overload]:
    if excess is not None:
        yield Overload(of, subject, excess.begin, excess.end, excess.needed_min, excess.there_min, excess.keys)


def _loads_of(
    problem: Problem, found: Mapping[str, Sequence[Way]], takers: Mapping[str, Callable[[Mode], int]]
) -> list[Load]:
    """What tasks take, those without a break between them together: wherever the first is laid, the others follow."""
    tasks = {task.key: task for task in problem.tasks if task.key in takers}
    before_of = {  # one alone, so that nothing counts in two chains
        lag.after: lag.before
        for lag in problem.lags
        if lag.min_lag == 0 == lag.max_lag and lag.before in tasks and lag.after in tasks
    }
    next_of = {before: after for after, before in before_of.items()}
    follows = set(next_of.values())
    loads = []
    for key in (key for key in tasks if key not in follows):
        chain = [key]
        while chain[-1] in next_of:
            chain.append(next_of[chain[-1]])
        more = [min(way.minutes for way in found[other]) for other in chain[1:]]
        least = [min(takers[other](mode) for mode in tasks[other].modes) for other in chain[1:]]
        places = set[tuple[int, int, int]]()
        for way in found[key]:
            amount = min((takers[key](tasks[key].modes[way.mode]), *least))
            places |= {(start, way.minutes + sum(more), amount) for ends in way.starts for start in ends}
        loads.append(Load(tuple(chain), frozenset(places)))
    return loads


def _hands_overfull(problem: Problem, found: Mapping[str, Sequence[Way]]) -> Overload | None:
    """A quick look, for many small questions: hands of one, then of all, by tasks that lie in some hours whole."""
    hands = [task for task in problem.tasks if task.attention is Attention.HANDS]
    for name in (worker.name for worker in problem.workers):
        only = [task for task in hands if all(way.worker == name for way in found[task.key])]
        overload = _first_overfull(Of.PERSON, name, _loads(only, found), presence(problem, (name,)))
        if overload is not None:
            return overload
    spans = tuple(span for worker in problem.workers for span in presence(problem, (worker.name,)))
    return _first_overfull(Of.HANDS, "", _loads(hands, found), spans)


def _loads(tasks: Sequence[Task], found: Mapping[str, Sequence[Way]]) -> list[_Load]:
    return [
        _Load(
            task.key,
            min(way.starts[0][0] for way in found[task.key]),
            max(way.starts[-1][1] + way.minutes for way in found[task.key]),
            min(way.minutes for way in found[task.key]),
        )
        for task in tasks
    ]


def _first_overfull(of: Of, subject: str, loads: Sequence[_Load], spans: Sequence[Span]) -> Overload | None:
    by_end = sorted(loads, key=lambda load: load.last)
    until = _minutes_until(spans, {minute for load in loads for minute in (load.first, load.last)})
    for begin in sorted({load.first for load in loads}):
        total, count = 0, 0
        for load in by_end:
            if load.first < begin:
                continue
            total, count = total + load.amount, count + 1
            there = until[load.last] - until[begin]
            if total > there:
                keys = tuple(other.key for other in by_end if other.first >= begin)[:count]
                return Overload(of, subject, begin, load.last, total, there, keys)
    return None


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
