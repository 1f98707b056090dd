"""Verifies an allocation without the solver, from the problem alone. Shares no code with what finds it.

Every rule is checked at the rounding of a kitchen scale, not at the solver's: see `TOLERANCE`.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stillroom.allocation.check_food import check_food
from stillroom.allocation.check_pools import inside_by_day
from stillroom.allocation.check_worth import check_report
from stillroom.allocation.problem import Activity, Allocation, Outcome, Problem, Run

TOLERANCE = 1e-5  # of a level, a capacity, a pool; relative above 1


def check(problem: Problem, allocation: Allocation) -> tuple[str, ...]:
    """Sentences for everything that is wrong; empty when the allocation keeps every rule and reports itself truly.

    An allocation that says it found nothing must hold no runs.
    """
    if allocation.outcome not in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        return ("No answer was found, yet there are runs.",) if allocation.runs else ()
    faults = check_runs(problem, allocation.runs)
    return faults if faults and _strange(problem, allocation.runs) else (*faults, *check_report(problem, allocation))


def check_runs(problem: Problem, runs: Sequence[Run]) -> tuple[str, ...]:
    """Sentences for every rule that runs break, whatever is reported about them."""
    if strange := _strange(problem, runs):
        return tuple(f"{run.activity} is not an activity of the problem." for run in strange)
    activities = {activity.key: activity for activity in problem.activities}
    known = tuple(_Known(run, activities[run.activity]) for run in runs)
    return tuple(
        sentence
        for found in (
            _limits(problem, known),
            _variety(known),
            _capacities(problem, known),
            _pools(problem, known),
            _cuts(problem, known),
            check_food(problem, runs),
        )
        for sentence in found
    )


def _strange(problem: Problem, runs: Sequence[Run]) -> list[Run]:
    keys = {activity.key for activity in problem.activities}
    return [run for run in runs if run.activity not in keys]


@dataclass(frozen=True, slots=True)
class _Known:
    """A run beside its activity."""

    run: Run
    activity: Activity

    @property
    def name(self) -> str:
        return f"{self.activity.key} on day {self.run.day}"


def exceeds(amount: float, most: float) -> bool:
    """Whether an amount is more than allowed by more than rounding."""
    return amount > most + TOLERANCE * max(1.0, abs(most)) or math.isnan(amount)


def _limits(problem: Problem, runs: tuple[_Known, ...]) -> Iterator[str]:
    for known in runs:
        run, activity = known.run, known.activity
        if run.day not in activity.days:
            yield f"{known.name}: not allowed on that day."
        days = [run.day, *(run.day + usage.day_offset for usage in activity.usages)]
        if min(days) < 0 or max(days) >= problem.days:
            yield f"{known.name}: works on a day outside the {problem.days} days."
        if run.level <= 0 or exceeds(activity.smallest, run.level) or exceeds(run.level, activity.largest):
            yield f"{known.name}: level {run.level:g} is not within {activity.smallest:g} to {activity.largest:g}."
        if activity.level_step > 0:
            steps = run.level / activity.level_step
            if abs(steps - round(steps)) > TOLERANCE:
                yield f"{known.name}: level {run.level:g} is not a multiple of {activity.level_step:g}."
        loads = 1
        if activity.level_per_load > 0:
            loads = max(1, math.ceil(run.level / activity.level_per_load - TOLERANCE))
        if run.loads != loads:
            yield f"{known.name}: says {run.loads} loads, needs {loads}."


def _variety(runs: tuple[_Known, ...]) -> Iterator[str]:
    for (key, day), count in Counter((known.run.activity, known.run.day) for known in runs).items():
        if count > 1:
            yield f"{key} on day {day}: listed {count} times."
    for name in dict.fromkeys(k.activity.family or k.activity.key for k in runs):
        same = [k for k in runs if (k.activity.family or k.activity.key) == name]
        most, span = min(k.activity.at_most for k in same), max(k.activity.within_days for k in same)
        for first in sorted({k.run.day for k in same}):
            days = {k.run.day for k in same if 0 <= k.run.day - first < span}
            if len(days) > most:
                yield f"{name}: on {len(days)} days from day {first} on, at most {most} are allowed."
    families = Counter((k.activity.family, k.run.day) for k in runs if k.activity.family)
    for (family, day), count in families.items():
        if count > 1:
            yield f"{family} on day {day}: {count} variants at once."


def _capacities(problem: Problem, runs: tuple[_Known, ...]) -> Iterator[str]:
    use: dict[tuple[str, int], float] = defaultdict(float)
    for known in runs:
        for u in known.activity.usages:
            amount = u.fixed + u.per_level * known.run.level + u.per_load * known.run.loads
            use[u.capacity, known.run.day + u.day_offset] += amount
    offers = {(c.name, day): offer for c in problem.capacities for day, offer in enumerate(c.per_day)}
    for (name, day), amount in use.items():
        if exceeds(amount, offers.get((name, day), 0.0)):
            yield f"{name} on day {day}: {amount:.6g} used of {offers.get((name, day), 0.0):.6g}."


def _pools(problem: Problem, runs: tuple[_Known, ...]) -> Iterator[str]:
    """On no day may more be in a pool than it holds."""
    holds = {pool.name: pool.amount for pool in problem.pools}
    names = set(holds) | {use.pool for known in runs for use in known.activity.pools}
    for name in sorted(names):
        for day, inside in enumerate(inside_by_day(problem, [known.run for known in runs], name)):
            if exceeds(inside, holds.get(name, 0.0)):
                yield f"{name}: {inside:.6g} needed by day {day}, {holds.get(name, 0.0):.6g} there."


def _cuts(problem: Problem, runs: tuple[_Known, ...]) -> Iterator[str]:
    levels = {(known.run.activity, known.run.day): known.run.level for known in runs}
    for cut in problem.cuts:
        again = [levels.get((key, day), 0.0) >= level * (1 - TOLERANCE) for key, day, level in cut.choices]
        if again and all(again):
            what = ", ".join(f"{key} on day {day}" for key, day, _ in cut.choices)
            yield f"Chosen again although the days did not hold it: {what}."
