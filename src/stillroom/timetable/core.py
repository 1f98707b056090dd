"""The core of an impossible timetable: work and rules that can't all be kept, each proved to matter."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TypeVar

from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import Block, Rule, blocks_of, rules_of, with_blocks, with_only

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Core:
    """Blocks and rules that can't all be kept.

    `is_smallest`: the solver has proved that without any one of them the others can be kept. `is_smallest_by_kind`:
    that is proved of every block, and of the rules of each kind together; single rules of a kind may be to spare.
    Otherwise time was too short to try them all; that they can't all be kept is proved in any case.
    """

    blocks: tuple[Block, ...]
    rules: tuple[Rule, ...]
    is_smallest: bool
    is_smallest_by_kind: bool = False


def core(
    problem: Problem,
    prover: Prover,
    deadline: float,
    *,
    own: Collection[str] = (),
    asked: str = "",
    likely: Collection[str] = (),
) -> Core | None:
    """The core of a problem, found until the moment `deadline` of the prover's clock; None if it can be kept.

    Blocks are left out first, with all rules in force, then rules are given up: a smallest set in both. What lies far
    in time from the group `asked` about is left out first. What is the household's `own` is kept throughout. `likely`
    are groups that are tried by themselves before anything else.
    """
    part = prover.verdict(problem).part
    if part is None:
        return None
    if prover.verdict(with_blocks(problem, (), own)).outcome is Outcome.INFEASIBLE:
        return Core((), (), True, True)
    shrinking = _Shrinking(prover, deadline)
    keys = {task.key for task in part.tasks}
    found = [block for block in blocks_of(problem, own) if keys.intersection(block.keys)]
    few = [block for block in found if block.group in likely]
    if few and prover.verdict(with_blocks(problem, few, own)).outcome is Outcome.INFEASIBLE:
        found = few
    nearest_last = _far_first(problem, found, asked)
    blocks = shrinking.smallest([nearest_last], lambda kept: with_blocks(problem, kept, own), needed=True)

    def with_rules(kept: Sequence[Rule]) -> Problem:
        return with_only(problem, blocks, kept, own)

    by_kind = [list(rules) for _, rules in groupby(rules_of(problem, blocks), key=lambda rule: rule.kind)]
    kinds = shrinking.needed(by_kind, with_rules)
    is_smallest_by_kind = shrinking.is_smallest
    rules = shrinking.smallest(kinds, with_rules, needed=True)
    return Core(tuple(blocks), tuple(rules), shrinking.is_smallest, is_smallest_by_kind)


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
    """Takes away what the contradiction does not need: all of a sort at once, then halves of it, then single things."""

    def __init__(self, prover: Prover, deadline: float) -> None:
        self._prover, self._deadline = prover, deadline
        self.is_smallest = True

    def needed(
        self, sorts: Iterable[Sequence[T]], problem_of: Callable[[Sequence[T]], Problem]
    ) -> Sequence[Sequence[T]]:
        """The sorts of which not all can go; the first are given up first."""
        kept = list(sorts)
        for sort in tuple(kept):
            rest = [other for other in kept if other is not sort]
            outcome = self._try(problem_of, [thing for other in rest for thing in other])
            if outcome is Outcome.INFEASIBLE:
                kept = rest
            self.is_smallest = self.is_smallest and outcome is not Outcome.OUT_OF_TIME
        return kept

    def smallest(
        self, sorts: Iterable[Sequence[T]], problem_of: Callable[[Sequence[T]], Problem], *, needed: bool = False
    ) -> Sequence[T]:
        """As few of the things as still contradict each other; the first are given up first.

        What is needed once stays needed while others go, so each thing is tried alone at most once. `needed`: it is
        known that not all of a sort can go.
        """
        sorts = list(sorts)
        kept = [thing for sort in sorts for thing in sort]
        for sort in sorts:
            kept = self._without(sort, kept, problem_of, is_needed=needed)
        return kept

    def _without(
        self, chunk: Sequence[T], kept: list[T], problem_of: Callable[[Sequence[T]], Problem], *, is_needed: bool
    ) -> list[T]:
        """What is left of `kept` when as much as can be of a chunk is taken away."""
        rest = [thing for thing in kept if thing not in chunk]
        if not is_needed:
            outcome = self._try(problem_of, rest)
            if outcome is Outcome.INFEASIBLE:
                return rest
            self.is_smallest = self.is_smallest and (len(chunk) > 1 or outcome is Outcome.FEASIBLE)
        if len(chunk) == 1 or self._prover.clock.now_s > self._deadline:
            self.is_smallest = self.is_smallest and len(chunk) == 1
            return kept
        half = len(chunk) // 2
        left = self._without(chunk[:half], kept, problem_of, is_needed=False)
        first_is_gone = len(left) == len(kept) - half
        return self._without(chunk[half:], left, problem_of, is_needed=first_is_gone)

    def _try(self, problem_of: Callable[[Sequence[T]], Problem], things: Sequence[T]) -> Outcome:
        if self._prover.clock.now_s > self._deadline:
            return Outcome.OUT_OF_TIME
        return self._prover.verdict(problem_of(things)).outcome
