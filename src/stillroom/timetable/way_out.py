"""Ways out of an impossible timetable: small changes with their price, each proved by a timetable that keeps it.

A change never touches a wait, a mode or anything else that keeps food safe: one that does is dropped (`untouched`).
"""

from __future__ import annotations

import heapq
import math
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Generic, TypeVar

from stillroom.timetable.check import check
from stillroom.timetable.core import Core, core
from stillroom.timetable.problem import Outcome, Problem, Task, Timetable
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import blocks_of, with_blocks
from stillroom.timetable.words import Names

S = TypeVar("S")
LEAVE_OUT = "leave out"
EVERYBODY = "everybody"  # stays longer: most often enough by itself, and tried first
DEEPEST = 3  # changes in one way out
CORE_SECONDS = 0.15
MOST_CHANGES = 5  # more is no help to anybody
MANY_AFTER = 0.5  # of the time: if two ways out are not found by then, many runs are left out
SAME_KIND = 2  # of the ways out that are told


@dataclass(frozen=True, slots=True)
class Change(Generic[S]):
    """One thing that a household might do about it; `kind` and `subject` tell like changes apart.

    `price` only ranks changes; `price_words` says it in the cook's terms. To leave something out can be applied to any
    state, other changes to the one they were made for.
    """

    kind: str
    subject: str
    words: str
    price: float
    price_words: str
    apply: Callable[[S], S]


@dataclass(frozen=True, slots=True)
class WayOut:
    """Changes under which the timetable can be kept: `timetable` keeps `problem`, checked without the solver."""

    steps: tuple[str, ...]
    kinds: tuple[str, ...]
    price: float
    price_words: tuple[str, ...]
    problem: Problem
    timetable: Timetable


@dataclass(frozen=True, slots=True)
class Question(Generic[S]):
    """What can't be done: a state, the timetable problem it makes, and the changes that might help a core.

    `own` are the groups that are the household's own (meals, rests), `asked` is a group that the question is about.
    No way out is dearer than `most_price`: what costs more than it brings is none.
    """

    state: S
    problem_of: Callable[[S], Problem]
    changes: Callable[[S, Problem, Core], Sequence[Change[S]]]
    names: Names = field(default_factory=Names)
    own: frozenset[str] = frozenset()
    asked: str = ""
    most_price: float = math.inf


@dataclass(frozen=True, slots=True)
class _Node(Generic[S]):
    steps: tuple[Change[S], ...]
    state: S
    problem: Problem

    @property
    def price(self) -> float:
        return sum(step.price for step in self.steps)


class WaysOut(Generic[S]):
    """One search for ways out: kinds of changes in turn, the cheapest of each first."""

    def __init__(self, question: Question[S], prover: Prover, deadline: float) -> None:
        self._question, self._prover, self._deadline = question, prover, deadline
        self._before = question.problem_of(question.state)
        self._found: list[WayOut] = []
        self._told: list[frozenset[tuple[str, str]]] = []
        self._numbers = count()  # of two changes at one price the first goes first

    def search(self, first: Core, wanted: int) -> tuple[WayOut, ...]:
        """About `wanted` ways out, of at least two kinds if there are such and time allows; cheapest first."""
        begun = self._prover.clock.now_s
        root: _Node[S] = _Node((), self._question.state, self._before)
        self._everybody(root, first)
        self._in_turn(root, first, wanted, begun + MANY_AFTER * (self._deadline - begun))
        kept: str | None = ""
        while kept is not None and len(self._found) < min(wanted, 2) and self._prover.clock.now_s < self._deadline:
            kept = self._leave_out_many(root, kept)
        return tuple(sorted(self._found, key=lambda way: way.price))

    def _everybody(self, root: _Node[S], first: Core) -> None:
        changes = [c for c in self._question.changes(root.state, root.problem, first) if c.kind == EVERYBODY]
        for change in sorted(changes, key=lambda change: change.price):
            node = self._after(root, (change,)) if change.price <= self._question.most_price else None
            if node is not None and self._take(node):
                return

    def _in_turn(self, root: _Node[S], first: Core, wanted: int, until: float) -> None:
        queues: dict[tuple[str, ...], list[tuple[float, int, _Node[S], Change[S], Core]]] = {}
        self._queue(queues, root, first)
        while self._prover.clock.now_s < until and not self._is_enough(wanted):
            waiting = [queue for queue in queues.values() if queue]
            if not waiting:
                return
            for queue in waiting:
                _, _, parent, change, here = heapq.heappop(queue)
                if self._is_told((*parent.steps, change)) or self._prover.clock.now_s > until:
                    continue
                node = self._after(parent, (change,))
                if node is None or not self._helps(node, here) or self._take(node) or len(node.steps) >= DEEPEST:
                    continue
                left = self._core(node)
                if left is not None:
                    self._queue(queues, node, left)

    def _queue(
        self,
        queues: dict[tuple[str, ...], list[tuple[float, int, _Node[S], Change[S], Core]]],
        node: _Node[S],
        here: Core,
    ) -> None:
        for change in self._question.changes(node.state, node.problem, here):
            if node.price + change.price > self._question.most_price:
                continue
            queue = queues.setdefault((*(step.kind for step in node.steps), change.kind), [])
            heapq.heappush(queue, (node.price + change.price, next(self._numbers), node, change, here))

    def _leave_out_many(self, root: _Node[S], kept: str) -> str | None:
        """Leaves out runs, the cheapest first, until the rest can be kept, and takes back what need not be left out.

        The run of the subject `kept` stays. The dearest of those left out is returned, to be kept the next time.
        """
        everything = Core(blocks_of(root.problem, self._question.own), (), is_smallest=False)
        offered = (c for c in self._question.changes(root.state, root.problem, everything) if c.kind == LEAVE_OUT)
        changes = sorted((c for c in offered if c.subject != kept), key=lambda change: change.price)
        low, high = 1, len(changes)
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if self._fits(root, changes[:middle]) else (middle + 1, high)
        chosen = changes[:low]
        if not chosen or not self._fits(root, chosen):
            return None
        for change in reversed(changes[:low]):
            rest = [other for other in chosen if other is not change]
            if self._prover.clock.now_s < self._deadline and self._fits(root, rest):
                chosen = rest
        is_help = len(chosen) <= MOST_CHANGES and sum(change.price for change in chosen) <= self._question.most_price
        node = self._after(root, chosen) if is_help else None
        return chosen[-1].subject if node is not None and self._take(node) else None

    def _fits(self, root: _Node[S], changes: Sequence[Change[S]]) -> bool:
        node = self._after(root, changes)
        return node is not None and self._prover.verdict(node.problem).outcome is Outcome.FEASIBLE

    def _core(self, node: _Node[S]) -> Core | None:
        return core(node.problem, self._prover, self._prover.clock.now_s + CORE_SECONDS, own=self._question.own)

    def _after(self, node: _Node[S], changes: Sequence[Change[S]]) -> _Node[S] | None:
        """After more changes; None if they would cut a corner."""
        state = node.state
        for change in changes:
            state = change.apply(state)
        problem = self._question.problem_of(state)
        is_safe = untouched(self._before, problem, self._question.own)
        return _Node((*node.steps, *changes), state, problem) if is_safe else None

    def _helps(self, node: _Node[S], here: Core) -> bool:
        """Whether at least the core can be kept after the last step."""
        part = with_blocks(node.problem, here.blocks, self._question.own)
        return self._prover.verdict(part).outcome is Outcome.FEASIBLE

    def _take(self, node: _Node[S]) -> bool:
        """Keeps the node as a way out if there is a timetable for all of it, which a check without solver confirms."""
        verdict = self._prover.verdict(node.problem)
        if verdict.outcome is not Outcome.FEASIBLE or check(node.problem, verdict.timetable):
            return False
        steps = node.steps
        mine = frozenset((step.kind, step.subject) for step in steps)
        if mine not in self._told:
            kinds, words = tuple(step.kind for step in steps), tuple(step.words for step in steps)
            prices = tuple(step.price_words for step in steps)
            self._found.append(WayOut(words, kinds, node.price, prices, node.problem, verdict.timetable))
            self._told.append(mine)
        return True

    def _is_told(self, steps: Sequence[Change[S]]) -> bool:
        """Whether less of the same is a way out already, or that kind is told often enough."""
        mine = frozenset((step.kind, step.subject) for step in steps)
        kinds = [frozenset(way.kinds) for way in self._found]
        most = SAME_KIND if len(set(kinds)) > 1 else 1
        return kinds.count(frozenset(step.kind for step in steps)) >= most or any(told <= mine for told in self._told)

    def _is_enough(self, wanted: int) -> bool:
        return len(self._found) >= wanted and len({frozenset(way.kinds) for way in self._found}) >= min(wanted, 2)


def untouched(before: Problem, after: Problem, own: Collection[str] = ()) -> bool:
    """Whether every run that is left is one that was asked for: the same steps, minutes, people and waits.

    Runs may be gone, and may stand at another hour or day; nothing else may have changed about them. What is the
    household's own follows from hours and dishes.
    """
    asked, left = Counter(_shapes(before, own)), Counter(_shapes(after, own))
    keys = {task.key for task in after.tasks}
    waits = set(after.lags)
    return (
        left <= asked
        and before.near_limit == after.near_limit
        and all(lag in waits for lag in before.lags if lag.before in keys and lag.after in keys)
    )


def _shapes(problem: Problem, own: Collection[str]) -> Iterator[tuple[object, ...]]:
    """Each run without its place in time."""
    groups: dict[str, list[Task]] = {}
    for task in problem.tasks:
        if task.group not in own:
            groups.setdefault(task.group, []).append(task)
    for tasks in groups.values():
        number = {task.key: count for count, task in enumerate(tasks)}
        waits = tuple(
            (number[lag.before], number[lag.after], lag.min_lag, lag.max_lag, lag.reason, lag.is_safety)
            for lag in problem.lags
            if lag.before in number and lag.after in number
        )
        yield tuple((task.label, task.modes, task.attention) for task in tasks), waits
