"""Timetables that can't be, seen without a search, and runs that can't be done together."""

from __future__ import annotations

import time
from collections.abc import Collection, Mapping, Sequence

from stillroom.model.work import Attention
from stillroom.timetable.components import components, restricted
from stillroom.timetable.problem import Outcome, Problem, Span, Task
from stillroom.timetable.search import Effort, Search
from stillroom.timetable.ways import Way, presence, ways

CONFLICT_SECONDS = 1.2
ONE_TRY_SECONDS = 1.0


def seen_at_once(problem: Problem, found: Mapping[str, Sequence[Way]]) -> tuple[str, ...]:
    """Groups that plainly can't be done together; empty when nothing is plain.

    A task that fits nowhere even alone, or more minutes of hands within some hours than people are there.
    """
    for task in problem.tasks:
        alone = restricted(problem, {task.key})
        if not found[task.key] and not ways(alone)[task.key]:
            return (task.group,)
    if not all(found.values()):
        return ()
    return _too_few_hands(problem, found)


def conflicts(problem: Problem, part: Problem, seed: int) -> tuple[tuple[str, ...], ...]:
    """Sets of groups that can't be done together, none with a group to spare as far as about a second allows.

    `part` is a part of the problem that is proved impossible; it gives the first conflict. The first group of each
    conflict is taken out before the next is looked for, so that the sets differ.
    """
    deadline = time.perf_counter() + CONFLICT_SECONDS
    found: list[tuple[str, ...]] = []
    rest = problem
    fine: set[frozenset[str]] = set()
    impossible: Problem | None = part
    while impossible is not None:
        found.append(_smallest(impossible, seed, deadline))
        rest = restricted(rest, {task.key for task in rest.tasks if task.group != found[-1][0]})
        impossible = _impossible_part(rest, seed, fine) if time.perf_counter() < deadline else None
    return tuple(found)


def _smallest(part: Problem, seed: int, deadline: float) -> tuple[str, ...]:
    """Each group in turn, many at first, is left out; it stays out when the rest is still proved impossible."""
    kept = list(dict.fromkeys(task.group for task in part.tasks))
    size = max(1, len(kept) // 2)
    while size:
        position = 0
        while position < len(kept) and len(kept) > 1:
            if time.perf_counter() > deadline:
                return tuple(kept)
            rest = kept[:position] + kept[position + size :]
            if rest and _impossible_part(_of_groups(part, rest), seed, set()) is not None:
                kept = rest
            else:
                position += size
        size //= 2
    return tuple(kept)


def _impossible_part(problem: Problem, seed: int, fine: set[frozenset[str]]) -> Problem | None:
    """A part that is proved impossible within about a second; parts found possible are added to `fine`."""
    found = ways(problem)
    if plain := seen_at_once(problem, found):
        return _of_groups(problem, plain)
    if not all(found.values()):
        return problem
    for part in components(problem, found):
        keys = frozenset(task.key for task in part.tasks)
        if keys in fine:
            continue
        search = Search(part, found)
        search.place(Effort(ONE_TRY_SECONDS, seed, 1), ONE_TRY_SECONDS)
        if search.outcome is Outcome.INFEASIBLE:
            return part
        fine.add(keys)
    return None


def _of_groups(problem: Problem, groups: Collection[str]) -> Problem:
    return restricted(problem, {task.key for task in problem.tasks if task.group in groups})


def _too_few_hands(problem: Problem, found: Mapping[str, Sequence[Way]]) -> tuple[str, ...]:
    """Groups whose hands minutes within some hours exceed the presence in them; of one person, then of all."""
    hands = [task for task in problem.tasks if task.attention is Attention.HANDS]
    for name in (worker.name for worker in problem.workers):
        only = [task for task in hands if all(way.worker == name for way in found[task.key])]
        if groups := _overfull(only, found, presence(problem, (name,))):
            return groups
    spans = tuple(span for worker in problem.workers for span in presence(problem, (worker.name,)))
    return _overfull(hands, found, spans)


def _overfull(tasks: Sequence[Task], found: Mapping[str, Sequence[Way]], spans: Sequence[Span]) -> tuple[str, ...]:
    first = {task.key: min(way.starts[0][0] for way in found[task.key]) for task in tasks}
    last = {task.key: max(way.starts[-1][1] + way.minutes for way in found[task.key]) for task in tasks}
    least = {task.key: min(way.minutes for way in found[task.key]) for task in tasks}
    for begin in sorted(set(first.values())):
        inside: list[Task] = []
        total = 0
        for task in sorted((task for task in tasks if first[task.key] >= begin), key=lambda task: last[task.key]):
            inside.append(task)
            total += least[task.key]
            end = last[task.key]
            there = sum(max(0, min(span.end, end) - max(span.start, begin)) for span in spans)
            if total > there:
                return _heaviest(inside, least, there)
    return ()


def _heaviest(tasks: Sequence[Task], least: Mapping[str, int], there: int) -> tuple[str, ...]:
    """As few groups as make more minutes than there are, the heaviest first."""
    by_group: dict[str, int] = {}
    for task in tasks:
        by_group[task.group] = by_group.get(task.group, 0) + least[task.key]
    chosen: list[str] = []
    total = 0
    for group, minutes in sorted(by_group.items(), key=lambda item: -item[1]):
        chosen.append(group)
        total += minutes
        if total > there:
            break
    return tuple(chosen)
