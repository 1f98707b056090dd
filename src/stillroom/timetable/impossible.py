"""Timetables that can't be, seen without a search, and runs that can't be done together."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence

from stillroom.model.work import Attention
from stillroom.timetable.components import components, restricted
from stillroom.timetable.problem import Outcome, Problem, Span, Task
from stillroom.timetable.search import Effort, Search
from stillroom.timetable.ways import Way, presence, ways

CONFLICT_SECONDS = 2.0
ONE_TRY_SECONDS = 0.5


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


def smallest_conflict(problem: Problem, groups: Sequence[str], seed: int) -> tuple[str, ...]:
    """Groups that can't be done together, without any that is not needed as far as two seconds allow.

    Each group in turn, many at first, is left out; it stays out when the rest is still proved impossible.
    """
    deadline = time.perf_counter() + CONFLICT_SECONDS
    kept = list(groups)
    size = max(1, len(kept) // 2)
    while size:
        position = 0
        while position < len(kept) and len(kept) > 1:
            if time.perf_counter() > deadline:
                return tuple(kept)
            rest = kept[:position] + kept[position + size :]
            if rest and _is_impossible(problem, rest, seed):
                kept = rest
            else:
                position += size
        size //= 2
    return tuple(kept)


def _is_impossible(problem: Problem, groups: Sequence[str], seed: int) -> bool:
    part = restricted(problem, {task.key for task in problem.tasks if task.group in groups})
    found = ways(part)
    if not all(found.values()) or _too_few_hands(part, found):
        return True
    for piece in components(part, found):
        search = Search(piece, found)
        search.place(Effort(ONE_TRY_SECONDS, seed, 1), ONE_TRY_SECONDS)
        if search.outcome is Outcome.INFEASIBLE:
            return True
    return False


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
