"""What stands in the way of doing more of an activity on a day, beside what is done already. No solver."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from stillroom.allocation.opening import SLACK, loads_of
from stillroom.allocation.problem import Activity, Allocation, Capacity, Lot, Pool, Problem, lot_made
from stillroom.allocation.returns import came_back


@dataclass(frozen=True, slots=True)
class Shortage:
    """A capacity on a day, or a pool, of which `short` more would be needed; `free` is what is left of it."""

    name: str
    day: int | None
    short: float
    free: float


@dataclass(frozen=True, slots=True)
class Attempt:
    """Doing more of an activity on a day: what it lacks, and the rules that forbid it whatever there is."""

    activity: Activity
    day: int
    shortages: tuple[Shortage, ...]
    rules: tuple[str, ...]

    @property
    def is_possible(self) -> bool:
        return not self.shortages and not self.rules


class Ledger:
    """What an allocation uses and leaves, day by day."""

    def __init__(self, problem: Problem, allocation: Allocation) -> None:
        self.problem = problem
        self.allocation = allocation
        self.activities = {activity.key: activity for activity in problem.activities}
        self.levels = {(run.activity, run.day): run.level for run in allocation.runs}
        self.capacities: dict[str, Capacity] = {capacity.name: capacity for capacity in problem.capacities}
        self.pools: dict[str, Pool] = {pool.name: pool for pool in problem.pools}
        self.lots: dict[str, Lot] = {lot.key: lot for lot in problem.lots}
        self._free = {(c.name, day): offer for c in problem.capacities for day, offer in enumerate(c.per_day)}
        put_in: dict[str, list[float]] = defaultdict(lambda: [0.0] * problem.days)
        for run in allocation.runs:
            for name, day, amount in uses(self.activities[run.activity], run.day, run.level):
                self._free[name, day] = self._free.get((name, day), 0.0) - amount
            for pool in self.activities[run.activity].pools:
                put_in[pool.pool][run.day] += pool.per_level * run.level
        self._left = {lot.key: (lot.item, lot.first_day, lot.last_day, lot.amount_g) for lot in problem.lots}
        for run in allocation.runs:
            for output in self.activities[run.activity].outputs:
                ready = run.day + output.ready_after
                made = (output.item, ready, ready + output.keeps_days, output.grams_per_level * run.level)
                self._left[lot_made(run.activity, run.day, output.item)] = made
        for run in allocation.runs:
            for part in run.taken:
                item, first, last, grams = self._left[part.lot]
                self._left[part.lot] = (item, first, last, grams - part.grams)
        back = came_back(problem, allocation.runs)
        self._pool_free = {
            name: self._least_free(pool.amount, put_in[name], back[name]) for name, pool in self.pools.items()
        }

    @staticmethod
    def _least_free(amount: float, put_in: Sequence[float], back: Sequence[float]) -> list[float]:
        """Free from each day to the end: the least on any later day."""
        free = [amount - sum(put_in[: day + 1]) + back[day] for day in range(len(put_in))]
        return [min(free[day:]) for day in range(len(free))]

    @property
    def made(self) -> tuple[str, ...]:
        """Lots that the runs make."""
        return tuple(key for key in self._left if key not in self.lots)

    def left_g(self, lot: str) -> float:
        """Grams left of a lot."""
        return self._left[lot][3]

    def item_of(self, lot: str) -> str:
        """What a lot is of."""
        return self._left[lot][0]

    def left_on(self, day: int) -> dict[str, float]:
        """Grams left of each lot that is good on a day, what goes off first first."""
        there = {key: left for key, left in self._left.items() if left[1] <= day <= left[2] and left[3] > 0}
        return {key: there[key][3] for key in sorted(there, key=lambda key: (there[key][2], key))}

    def spoiled(self) -> tuple[tuple[str, float], ...]:
        """Grams left of each lot, not in store, whose last day ends in the plan."""
        return tuple((key, grams) for key, (_, _, _, grams) in self._left.items() if grams > 0 and self.spoils(key))

    def spoils(self, lot: str) -> bool:
        """Whether what is left of a lot is lost in the plan: it is not in store, and its last day ends in the plan."""
        is_store = lot in self.lots and self.lots[lot].is_store
        return not is_store and self._left[lot][2] < self.problem.days

    def free(self, name: str, day: int) -> float:
        """What is left of a capacity on a day."""
        return self._free.get((name, day), 0.0)

    def pool_free(self, name: str, day: int) -> float:
        """What may still be put into a pool on a day and stay there."""
        return self._pool_free[name][day] if name in self._pool_free else 0.0

    def used_share(self, name: str, day: int) -> float:
        """Share of a day's capacity that is used; 1 where there is none."""
        offered = self.capacities[name].per_day[day] if name in self.capacities else 0.0
        return 1.0 if offered <= 0 else (offered - self.free(name, day)) / offered

    def attempt(self, activity: Activity, day: int, grams: float, item: str) -> Attempt:
        """Using `grams` more of an item in an activity on a day, as far as one run takes them."""
        before = self.levels.get((activity.key, day), 0.0)
        per_level = sum(needed.grams_per_level for needed in activity.inputs if item in needed.items)
        wanted = before + grams / per_level if per_level > 0 else activity.largest
        level = max(activity.smallest, min(wanted, activity.largest))
        if activity.level_step > 0:
            level = (
                max(
                    math.ceil(activity.smallest / activity.level_step - SLACK),
                    math.floor(level / activity.level_step + SLACK),
                )
                * activity.level_step
            )
        rules = (*self._rules(activity, day, before, level), *self._missing(activity, day, level - before, item))
        return Attempt(activity, day, self.shortages(activity, day, before, level), rules)

    def _missing(self, activity: Activity, day: int, more: float, item: str) -> tuple[str, ...]:
        """Other inputs of which not enough is left on the day."""
        found = []
        for needed in activity.inputs:
            if item in needed.items or not needed.items:
                continue
            left = sum(self._left_on(other, day) for other in dict.fromkeys(needed.items))
            if left + 1.0 < needed.grams_per_level * more:
                found.append(f"not enough {needed.items[0].rsplit(',', 1)[0]} is left for {activity.label}")
        return tuple(found)

    def _left_on(self, item: str, day: int) -> float:
        """Grams of an item that are left and usable on a day."""
        return sum(grams for name, first, last, grams in self._left.values() if name == item and first <= day <= last)

    def shortages(self, activity: Activity, day: int, before: float, level: float) -> tuple[Shortage, ...]:
        """What is lacking to do an activity at a level instead of `before`."""
        more: dict[tuple[str, int], float] = defaultdict(float)
        for name, on, amount in uses(activity, day, level):
            more[name, on] += amount
        for name, on, amount in uses(activity, day, before) if before > 0 else ():
            more[name, on] -= amount
        found = [_shortage(name, on, amount, self.free(name, on)) for (name, on), amount in more.items()]
        found.extend(
            _shortage(use.pool, None, use.per_level * (level - before), self.pool_free(use.pool, day))
            for use in activity.pools
        )
        return tuple(shortage for shortage in found if shortage is not None)

    def _rules(self, activity: Activity, day: int, before: float, level: float) -> tuple[str, ...]:
        found = []
        if before > 0 and level <= before + SLACK:
            found.append(f"{activity.label} is already done in the largest amount")
        name = activity.family or activity.key
        days = {on for key, on in self.levels if (self.activities[key].family or key) == name}
        within = activity.within_days
        spans = [{on for on in days if 0 <= on - first < within} for first in range(day - within + 1, day + 1)]
        if before == 0 and max(len(span) for span in spans) >= activity.at_most:
            found.append(f"{activity.label} is done often enough")
        for key, on in self.levels:
            other = self.activities[key]
            if activity.family and other.family == activity.family and on == day and key != activity.key:
                found.append(f"{other.label} is already done that day in another way")
        return tuple(dict.fromkeys(found))


def uses(activity: Activity, day: int, level: float) -> tuple[tuple[str, int, float], ...]:
    """(capacity, day, amount) of a run."""
    loads = loads_of(activity, level)
    return tuple(
        (use.capacity, day + use.day_offset, use.fixed + use.per_level * level + use.per_load * loads)
        for use in activity.usages
    )


def _shortage(name: str, day: int | None, needed: float, free: float) -> Shortage | None:
    short = needed - max(0.0, free)
    return Shortage(name, day, short, max(0.0, free)) if needed > 0 and short > SLACK * max(1.0, needed) else None
