"""The repair rule: what a careful cook does when minutes turn out otherwise. Many days are worked out at once.

Everyone keeps to the order of the timetable and to their own tasks. Nothing starts before its planned minute, unless a
clock would run out before (the jars are full, the pot is hot). Whoever is about to start a clock looks ahead by the
planned minutes of what is in the way, and waits if the clock could not be kept. Nobody starts what does not fit into
their hours and a little beyond.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from stillroom.timetable.network import Network, Node
from stillroom.timetable.problem import Span
from stillroom.timetable.spread import Spread, Whole, quantile

LOOK_AHEAD_MIN = 240  # longer clocks are not looked after: nothing in a kitchen stands in the way for so long
CARE_SHARE = 0.01  # of all times are shorter than a careful cook counts on when a clock must not run out
STAY_MIN = 120  # somebody stays so long past their hours to end what was planned within them (common practice)
FAR = 10**7


@dataclass(frozen=True, slots=True)
class Days:
    """Start and end minutes, one row for each task of the network and one column for each day."""

    starts: Whole
    ends: Whole
    persons: Sequence[str]
    who: Whole  # position in `persons`; -1: nobody's hands


class Repair:
    """The rule for one network; `spreads` [by task key] say how much sooner than planned a task may end."""

    def __init__(self, net: Network, spreads: Mapping[str, Spread]) -> None:
        self._net = net
        self._guards = [_guard(node, spreads[node.task.key]) for node in net.nodes]
        self._chains = [_chain(net, number) for number in range(len(net.nodes))]

    def days(self, minutes: Whole, *, fixed: Mapping[int, tuple[int, int]] | None = None, now: int = 0) -> Days:
        """Starts and ends when the tasks take `minutes` (tasks × days) [min].

        `fixed` holds start and end of what has happened, by position; nothing else starts before `now`.
        """
        return _Run(self._net, self._guards, self._chains, minutes, now).days(fixed or {})


@dataclass(frozen=True, slots=True)
class _Chain:
    """Tasks that follow by clocks (`members`) and all that must come before them (`window`), in order."""

    members: tuple[int, ...]
    window: tuple[int, ...]


class _Run:
    def __init__(self, net: Network, guards: Sequence[int], chains: Sequence[_Chain], minutes: Whole, now: int) -> None:
        self._nodes, self._guards, self._chains = net.nodes, guards, chains
        self._minutes, self._now = minutes, now
        self._fixed: Mapping[int, tuple[int, int]] = {}
        names = (name for node in net.nodes if node.placed.worker for name in (node.placed.worker, *node.others))
        self._persons = tuple(dict.fromkeys(names))
        self._who = np.full_like(minutes, -1)
        self._free = {name: np.zeros(minutes.shape[1], dtype=np.int64) for name in self._persons}
        self._starts = np.zeros_like(minutes)
        self._ends = np.zeros_like(minutes)

    def days(self, fixed: Mapping[int, tuple[int, int]]) -> Days:
        self._fixed = fixed
        for number, node in enumerate(self._nodes):
            if number in fixed:
                self._starts[number], self._ends[number] = fixed[number]
                if node.placed.worker is not None:
                    self._who[number] = self._persons.index(node.placed.worker)
            else:
                self._starts[number] = self._start(number, node)
                self._ends[number] = self._starts[number] + self._minutes[number]
                self._hold(node)
            self._occupy(number, node)
        return Days(self._starts, self._ends, self._persons, self._who)

    def _start(self, number: int, node: Node) -> Whole:
        runs_out = self._runs_out(node)
        begin = np.minimum(node.placed.start, np.maximum(runs_out, node.task.earliest))
        begin = np.maximum(begin, self._now)
        for link in node.links:
            if not link.by_person:
                begin = np.maximum(begin, self._ends[link.before] + link.least)
        begin = self._with_hands(number, node, begin, runs_out)
        if self._chains[number].members:
            awaited = np.minimum(self._awaited(number, begin), runs_out)  # its own clock runs already
            begin = self._with_hands(number, node, np.maximum(begin, awaited), runs_out)
        return begin

    def _with_hands(self, number: int, node: Node, begin: Whole, runs_out: Whole) -> Whole:
        """When whoever is to do it is there and free; somebody else, if a clock would run out and they are sooner."""
        planned = node.placed.worker
        if planned is None:
            return _in_hours(node.hours, node.minutes, begin)
        best = _in_hours(node.hours, node.minutes, np.maximum(begin, self._free[planned]))
        self._who[number] = self._persons.index(planned)
        is_short = best > runs_out
        for name, hours in node.others.items() if is_short.any() else ():
            start = _in_hours(hours, node.minutes, np.maximum(begin, self._free[name]))
            is_sooner = is_short & (start < best)
            best = np.where(is_sooner, start, best)
            self._who[number] = np.where(is_sooner, self._persons.index(name), self._who[number])
        return best

    def _occupy(self, number: int, node: Node) -> None:
        if node.placed.worker is None or node.minutes == 0:
            return
        for place, name in enumerate(self._persons):
            is_busy = self._who[number] == place
            self._free[name] = np.where(is_busy, np.maximum(self._free[name], self._ends[number]), self._free[name])

    def _runs_out(self, node: Node) -> Whole:
        """The minute at which the first of its clocks runs out."""
        soonest = np.full(self._minutes.shape[1], FAR, dtype=np.int64)
        for clock in node.clocks:
            soonest = np.minimum(soonest, self._ends[clock.before] + clock.most)
        return soonest

    def _hold(self, node: Node) -> None:
        """What could be stretched ends when this takes over."""
        for clock in node.clocks:
            before = self._nodes[clock.before]
            if before.stretch and clock.before not in self._fixed:
                longest = self._starts[clock.before] + self._minutes[clock.before] + before.stretch
                held = np.minimum(self._starts[clock.after], longest)
                self._ends[clock.before] = np.maximum(self._ends[clock.before], held)

    def _awaited(self, number: int, begin: Whole) -> Whole:
        """The earliest minute from which all clocks started by this task can be kept, by what is known at `begin`."""
        seen: dict[int, Whole] = {number: begin + self._nodes[number].minutes}
        reached: dict[int, Whole] = {}
        members = self._chains[number].members
        for ahead in self._chains[number].window:
            node = self._nodes[ahead]
            least = self._now if ahead in members else max(self._now, node.placed.start)
            start = np.full_like(begin, least)
            for link in node.links:
                start = np.maximum(start, self._expected_end(link.before, begin, seen) + link.least)
            reached[ahead] = start = _in_hours(node.hours, node.minutes, start)
            seen[ahead] = start + node.minutes
        return self._latest_needed(number, reached)

    def _expected_end(self, number: int, now: Whole, seen: dict[int, Whole]) -> Whole:
        """Of what is done by `now` the real end; of what goes on or comes, the planned minutes from its start."""
        if number not in seen:
            end = self._ends[number]
            going_on = np.maximum(self._starts[number] + self._nodes[number].minutes, now)
            seen[number] = end if number in self._fixed else np.where(end <= now, end, going_on)
        return seen[number]

    def _latest_needed(self, number: int, reached: Mapping[int, Whole]) -> Whole:
        needed = dict(reached)
        for member in reversed((number, *self._chains[number].members)):
            for clock in self._nodes[member].opens:
                if clock.after in reached:
                    wait = max(clock.lag.min_lag, clock.most - self._guards[member])
                    least = needed[clock.after] - wait - self._nodes[member].minutes
                    needed[member] = np.maximum(needed[member], least) if member in needed else least
        return needed[number]


def _chain(net: Network, number: int) -> _Chain:
    """What follows by short clocks, and what lies between."""
    members: set[int] = set()
    open_ = [number]
    while open_:
        for clock in net.nodes[open_.pop()].opens:
            if clock.most <= LOOK_AHEAD_MIN and clock.after not in members:
                members.add(clock.after)
                open_.append(clock.after)
    window: set[int] = set()
    open_ = list(members)
    while open_:
        here = open_.pop()
        if here > number and here not in window:
            window.add(here)
            open_.extend(link.before for link in net.nodes[here].links)
    return _Chain(tuple(sorted(members)), tuple(sorted(window)))


def _guard(node: Node, spread: Spread) -> int:
    """Minutes by which the task may end sooner than planned."""
    return node.minutes - int(quantile(node.minutes, spread, CARE_SHARE))


def _in_hours(hours: Sequence[Span] | None, minutes: int, begin: Whole) -> Whole:
    """The first minute from `begin` on at which `minutes` fit into the hours and what is stayed past them."""
    if hours is None:
        return begin
    late = [span.end + STAY_MIN - minutes for span in hours]
    fits = [(span.start, last) for span, last in zip(hours, late, strict=True) if last >= span.start]
    if not fits:
        return begin
    firsts = np.array([first for first, _ in fits] + [FAR])
    place = np.searchsorted(np.array([last for _, last in fits]), begin)
    return np.where(place < len(fits), np.maximum(begin, firsts[place]), begin)
