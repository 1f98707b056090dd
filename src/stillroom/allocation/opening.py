"""What can be done at all: each activity on each day with the largest level that lots, capacities and pools allow.

The solver only gets variables for these, with bounds as tight as cheap sums make them.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.allocation.problem import Activity, Output, Problem

SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Opening:
    """An activity that may be done on a day, at levels `smallest` … `largest` in units of the recipe."""

    activity: Activity
    day: int
    smallest: float
    largest: float
    loads_most: int

    @property
    def key(self) -> tuple[str, int]:
        """(activity, day), the name of a run."""
        return self.activity.key, self.day


def openings(problem: Problem) -> tuple[Opening, ...]:
    """Every run that could be part of an answer, in the order of the problem."""
    possible = {
        (activity.key, day): _level_by_day(problem, activity, day)
        for activity in problem.activities
        for day in activity.days
        if is_inside(problem, activity, day)
    }
    for _ in range(4):  # a carcass, its part, a product of it, and once more to be sure: each round only tightens
        supply = _supply_g(problem, possible)
        possible = {
            (activity.key, day): min(possible[activity.key, day], _level_by_inputs(activity, day, supply))
            for activity in problem.activities
            for day in activity.days
            if (activity.key, day) in possible
        }
    found = []
    for activity in problem.activities:
        for day in sorted(set(activity.days)):
            opening = _opening(activity, day, possible.get((activity.key, day), 0.0))
            if opening is not None:
                found.append(opening)
    return tuple(found)


def is_inside(problem: Problem, activity: Activity, day: int) -> bool:
    """Whether the day and every day on which the run takes a capacity lie in the horizon."""
    return all(0 <= day + offset < problem.days for offset in (0, *(usage.day_offset for usage in activity.usages)))


def loads_of(activity: Activity, level: float) -> int:
    """Loads of a run: ceil(level / level_per_load), and 1 where the activity has no loads."""
    if activity.level_per_load <= 0:
        return 1
    return max(1, math.ceil(level / activity.level_per_load - SLACK))


def window(output: Output, day: int, *, delayed: bool = False) -> tuple[int, int]:
    """First and last day on which the output of a run on `day` is usable."""
    first = day + output.ready_after
    return (max(first, day + 1) if delayed else first), first + output.keeps_days


def circular(activities: Iterable[Activity]) -> frozenset[str]:
    """Activities that could feed each other in a ring within one day (a starter that feeds itself).

    What they make counts from the next day on, otherwise food could be made from nothing.
    """
    known = tuple(activities)
    takers: dict[str, set[str]] = defaultdict(set)
    for activity in known:
        for needed in activity.inputs:
            for item in needed.items:
                takers[item].add(activity.key)
    after = {
        activity.key: {
            key for output in activity.outputs if output.ready_after == 0 for key in takers.get(output.item, ())
        }
        for activity in known
    }
    return frozenset(key for key in after if key in _reachable(key, after))


def _reachable(key: str, after: dict[str, set[str]]) -> set[str]:
    seen: set[str] = set()
    todo = list(after[key])
    while todo:
        other = todo.pop()
        if other not in seen:
            seen.add(other)
            todo.extend(after[other])
    return seen


def _opening(activity: Activity, day: int, largest: float) -> Opening | None:
    smallest = activity.smallest
    if activity.level_step > 0:
        smallest = math.ceil(smallest / activity.level_step - SLACK) * activity.level_step
        largest = math.floor(largest / activity.level_step + SLACK) * activity.level_step
    if largest < smallest * (1 - SLACK) or largest <= SLACK:
        return None
    largest = max(largest, smallest)
    return Opening(activity, day, smallest, largest, loads_of(activity, largest))


def _level_by_day(problem: Problem, activity: Activity, day: int) -> float:
    """The largest level by the capacities of its days and by the pools that nothing refills."""
    offered = {(c.name, d): amount for c in problem.capacities for d, amount in enumerate(c.per_day)}
    level = activity.largest
    for usage in activity.usages:
        free = offered.get((usage.capacity, day + usage.day_offset), 0.0) - usage.fixed
        slope = usage.per_level
        if activity.level_per_load > 0:
            slope += usage.per_load / activity.level_per_load
        else:
            free -= usage.per_load
        if free < -SLACK:
            return 0.0
        if slope > 0:
            level = min(level, max(0.0, free) / slope)
    refilled = {back.pool for lot in problem.lots for back in lot.gives_back}
    refilled |= {back.pool for other in problem.activities for output in other.outputs for back in output.gives_back}
    amounts = {pool.name: pool.amount for pool in problem.pools}
    for use in activity.pools:
        if use.per_level > 0 and use.pool not in refilled:
            level = min(level, amounts.get(use.pool, 0.0) / use.per_level)
    return max(0.0, level)


def _supply_g(problem: Problem, possible: dict[tuple[str, int], float]) -> dict[str, list[float]]:
    """Grams of each item that could be usable on each day at most."""
    supply: dict[str, list[float]] = defaultdict(lambda: [0.0] * problem.days)
    for lot in problem.lots:
        for day in range(max(0, lot.first_day), min(lot.last_day + 1, problem.days)):
            supply[lot.item][day] += lot.amount_g
    for activity in problem.activities:
        for output in activity.outputs:
            for made in activity.days:
                grams = possible.get((activity.key, made), 0.0) * output.grams_per_level
                first, last = window(output, made)
                for day in range(max(0, first), min(last + 1, problem.days)):
                    supply[output.item][day] += grams
    return supply


def _level_by_inputs(activity: Activity, day: int, supply: dict[str, list[float]]) -> float:
    level = activity.largest
    for needed in activity.inputs:
        if needed.grams_per_level > 0:
            grams = sum(supply[item][day] for item in dict.fromkeys(needed.items) if item in supply)
            level = min(level, grams / needed.grams_per_level)
    return level
