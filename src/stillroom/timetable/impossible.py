"""Runs that can't be done together, for a planner that has to leave one of them out."""

from __future__ import annotations

from stillroom.timetable.components import restricted
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import Prover, of_groups
from stillroom.work_clock import WorkClock

CONFLICT_SECONDS = 0.6


def conflicts(problem: Problem, part: Problem, seed: int, clock: WorkClock) -> tuple[tuple[str, ...], ...]:
    """Sets of groups that can't be done together, none with a group to spare as far as a moment allows.

    `part` is a part of the problem that is proved impossible; it gives the first conflict. The first group of each
    conflict is taken out before the next is looked for, so that the sets differ.
    """
    deadline = clock.now_s + CONFLICT_SECONDS
    prover = Prover(seed, clock=clock)
    found: list[tuple[str, ...]] = []
    rest = problem
    impossible: Problem | None = part
    while impossible is not None:
        found.append(_smallest(impossible, prover, deadline))
        rest = restricted(rest, {task.key for task in rest.tasks if task.group != found[-1][0]})
        impossible = prover.verdict(rest).part if clock.now_s < deadline else None
    return tuple(found)


def _smallest(part: Problem, prover: Prover, deadline: float) -> tuple[str, ...]:
    """Each group in turn, many at first, is left out; it stays out when the rest is still proved impossible."""
    kept = list(dict.fromkeys(task.group for task in part.tasks))
    size = max(1, len(kept) // 2)
    while size:
        position = 0
        while position < len(kept) and len(kept) > 1:
            if prover.clock.now_s > deadline:
                return tuple(kept)
            rest = kept[:position] + kept[position + size :]
            if rest and prover.verdict(of_groups(part, rest)).outcome is Outcome.INFEASIBLE:
                kept = rest
            else:
                position += size
        size //= 2
    return tuple(kept)
