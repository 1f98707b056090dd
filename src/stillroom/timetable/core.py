"""The core of an impossible timetable: work and rules that can't all be kept, each proved to matter."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from stillroom.timetable.components import restricted
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import Block, Rule, blocks_of, rules_of, with_only

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Core:
    """Blocks and rules that can't all be kept.

    `is_smallest`: the solver has proved that without any one of them the others can be kept. Otherwise time was too
    short to try them all; that they can't all be kept is proved in any case.
    """

    blocks: tuple[Block, ...]
    rules: tuple[Rule, ...]
    is_smallest: bool


def core(problem: Problem, prover: Prover, deadline: float, asked: str = "") -> Core | None:
    """The core of a problem, found until the moment `deadline` of time.perf_counter(); None if it can be kept.

    Blocks are left out first, with all rules in force, then rules are given up: a smallest set in both. What lies far
    in time from the group `asked` about is left out first.
    """
    part = prover.verdict(problem).part
    if part is None:
        return None
    shrinking = _Shrinking(prover, deadline)
    keys = {task.key for task in part.tasks}
    found = [block for block in blocks_of(problem) if keys.intersection(block.keys)]
    blocks = shrinking.smallest(
        _far_first(problem, found, asked),
        lambda kept: restricted(problem, {key for block in kept for key in block.keys}),
    )
    rules = shrinking.smallest(rules_of(problem, blocks), lambda kept: with_only(problem, blocks, kept))
    return Core(tuple(blocks), tuple(rules), shrinking.is_smallest)


def _far_first(problem: Problem, blocks: Sequence[Block], asked: str) -> Sequence[Block]:
    tasks = {task.key: task for task in problem.tasks}
    windows = [(task.earliest, task.latest_end) for task in problem.tasks if task.group == asked]
    if not windows:
        return blocks
    begin, end = min(first for first, _ in windows), max(last for _, last in windows)

    def nearness(block: Block) -> tuple[bool, int]:
        shared = (min(tasks[key].latest_end, end) - max(tasks[key].earliest, begin) for key in block.keys)
        return block.group == asked, max(shared)

    return sorted(blocks, key=nearness)


class _Shrinking:
    """Takes away what is not needed for the contradiction, many things at first, then one by one."""

    def __init__(self, prover: Prover, deadline: float) -> None:
        self._prover, self._deadline = prover, deadline
        self.is_smallest = True

    def smallest(self, things: Sequence[T], problem_of: Callable[[Sequence[T]], Problem]) -> Sequence[T]:
        """As few of the things as still contradict each other; the first are given up first."""
        kept, position, size = list(things), 0, max(1, len(things) // 2)
        while position < len(kept):
            if time.perf_counter() > self._deadline:
                self.is_smallest = False
                return kept
            rest = kept[:position] + kept[position + size :]
            outcome = self._prover.verdict(problem_of(rest)).outcome
            if outcome is Outcome.INFEASIBLE:
                kept = rest
                size = min(2 * size, max(1, len(kept) - position))
            elif size > 1:
                size = size // 2
            else:
                self.is_smallest = self.is_smallest and outcome is Outcome.FEASIBLE
                position += 1
        return kept
