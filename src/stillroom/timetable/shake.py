"""More comfort by taking a few units off the board and laying each where it costs least: a local search with annealing.

Ruin and recreate (G. Schrimpf and others, Journal of Computational Physics 159 (2000) 139–171). The numbers below are
ours, tuned on made-up days.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator

from stillroom.timetable.draft import Draft, Laid
from stillroom.timetable.tally import Tally
from stillroom.timetable.work import Work

MOST_UNITS = 6  # taken off at once
HEAT = (30.0, 1.0)  # a worsening that is taken once in e times, at first and at last
NEAR_BY = 0.5  # the share of neighbours that are the next in time, not just any
NEAR_MIN = 60  # minutes by which the distance in time is blurred
SPOTS = 3  # places tried for a unit
LOOSE = 0.1  # the share of places at which a unit is not closed up


class Shake:
    """The search from a whole draft on."""

    def __init__(self, draft: Draft, tally: Tally, chance: random.Random) -> None:
        self._draft, self._tally, self._chance = draft, tally, chance
        self._units = range(len(draft.work.units))
        self._costs = [tally.of_unit(draft, unit) for unit in self._units]
        self._cost = self.cost = sum(self._costs) + tally.shared(draft)
        self.best: Laid = draft.laid()
        self._free_until = _free_until(draft.work)

    def step(self, share: float) -> None:
        """Takes some units off and lays them again; `share` is that of the search which is over, from 0 to 1."""
        heat = HEAT[0] * (HEAT[1] / HEAT[0]) ** min(1.0, share)
        draft, costs = self._draft, list(self._costs)
        units = self._chosen()
        tasks = [task for unit in units for task in draft.work.units[unit]]
        lifted = draft.lift(tasks)
        for task in tasks:  # of equal rooms the first is taken, so another hand gets a turn
            if len(draft.rooms[task]) > 1:
                draft.rooms[task] = self._chance.sample(draft.rooms[task], len(draft.rooms[task]))
        if all(self._lay_best(unit) for unit in units):
            cost = sum(self._costs) + self._tally.shared(draft)
            worse = cost - self._cost
            if worse <= 0 or self._chance.random() < math.exp(-worse / heat):
                self._cost = cost
                if cost < self.cost:
                    self.cost, self.best = cost, draft.laid()
                return
        draft.lift(tasks)
        draft.put_back(lifted)
        self._costs = costs

    def _chosen(self) -> list[int]:
        """A unit, mostly one that costs something, and some others."""
        chance, work = self._chance, self._draft.work
        unit = chance.randrange(len(work.units))
        if chance.random() < 0.5:
            unit = chance.choices(self._units, [cost + 1 for cost in self._costs])[0]
        others = [other for other in self._units if other != unit]
        number = min(chance.randint(0, MOST_UNITS - 1), len(others))
        if chance.random() < NEAR_BY:
            return [unit, *self._next_in_time(unit, others)[:number]]
        return [unit, *chance.sample(others, number)]

    def _next_in_time(self, unit: int, others: list[int]) -> list[int]:
        """The others by their distance in time from one of the unit's tasks, roughly."""
        chance, work, start = self._chance, self._draft.work, self._draft.start
        task = chance.choice(work.units[unit])
        far = [min([abs(start[other] - start[task]) for other in tasks]) for tasks in work.units]
        return sorted(others, key=lambda other: far[other] + chance.uniform(0, NEAR_MIN))

    def _lay_best(self, unit: int) -> bool:
        """Lays a unit at the best of some places; False, with nothing laid, where there is none."""
        draft, tasks = self._draft, self._draft.work.units[unit]
        best: tuple[int, int, Laid] | None = None
        for _ in self._spots(unit):
            own = self._tally.of_unit(draft, unit)
            cost = own + self._tally.shared(draft)
            laid = draft.lift(tasks)
            if best is None or cost < best[0]:
                best = cost, own, laid
        if best is None:
            return False
        draft.put_back(best[2])
        self._costs[unit] = best[1]
        return True

    def _spots(self, unit: int) -> Iterator[None]:
        """Lays the unit at one place after the other; who asks for the next lifts it first."""
        draft, work = self._draft, self._draft.work
        tasks = work.units[unit]
        due = [work.due[task] for task in tasks]
        last = [work.last_end[task] for task in tasks]
        if any(minute is not None for minute in due):
            until = [end if minute is None else min(end, minute) for minute, end in zip(due, last, strict=True)]
            if draft.lay_late(tasks, until):
                yield
        first = min(work.first[task] for task in tasks)
        latest = max(work.rooms[tasks[0]][0].last, first)
        for spot in range(SPOTS):
            since = first if spot == 0 else self._chance.randint(first, latest)
            if draft.lay_early(tasks, since):
                if self._chance.random() >= LOOSE:
                    self._close_up(unit)
                yield

    def _close_up(self, unit: int) -> None:
        """Lays a unit just laid again, late, so that its steps wait less; it ends as it did, or when it is due."""
        draft, work = self._draft, self._draft.work
        tasks = work.units[unit]
        until = [max(draft.end[task], self._free_until[task]) for task in tasks]
        cost = self._tally.of_unit(draft, unit)
        laid = draft.lift(tasks)
        if not draft.lay_late(tasks, until):
            draft.put_back(laid)
        elif self._tally.of_unit(draft, unit) > cost:
            draft.lift(tasks)
            draft.put_back(laid)


def _free_until(work: Work) -> list[int]:
    """Until when a task may be moved on without more lateness and without a later end of its run."""
    found = []
    for task, due in enumerate(work.due):
        is_followed = any(work.unit_of[other] == work.unit_of[task] for other, _, _ in work.after[task])
        last = work.last_end[task] if is_followed else 0
        found.append(last if due is None else min(due, last) if is_followed else due)
    return found
