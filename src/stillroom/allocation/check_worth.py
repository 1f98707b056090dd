"""Verifies what an allocation says about itself: spoiled food, missed portions, use of capacities, objective."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from stillroom.allocation.check_food import all_food
from stillroom.allocation.check_pools import inside_by_day
from stillroom.allocation.problem import Allocation, Outcome, Problem

GRAMS = 1.0
PORTIONS = 1e-3
SHARE = 1e-4
GAP = 0.005


def check_report(problem: Problem, allocation: Allocation) -> Iterator[str]:
    """Sentences for everything reported that is not so."""
    yield from _spoiled(problem, allocation)
    yield from _unmet(problem, allocation)
    yield from _used(problem, allocation)
    objective = objective_of(problem, allocation)
    near = SHARE * max(1.0, _size(problem, allocation))
    if not abs(objective - allocation.objective) <= near:
        yield f"The objective is {objective:.6g}, reported as {allocation.objective:.6g}."
    if not allocation.bound >= objective - near:
        yield f"The bound {allocation.bound:.6g} is below the objective {objective:.6g}."
    stake = _stake(problem, allocation, objective)
    if abs(stake - allocation.stake) > near:
        yield f"It is better than doing nothing by {stake:.6g}, reported as {allocation.stake:.6g}."
    gap = allocation.bound - objective
    if allocation.outcome is Outcome.OPTIMAL and gap > GAP * max(0.0, stake) + near:
        yield f"Called optimal with {gap:.6g} still open."


def waste_g(problem: Problem, allocation: Allocation) -> dict[str, float]:
    """Grams left, by lot, of food not in store whose last day ends in the plan."""
    food = all_food(problem, allocation.runs)
    left = {key: f.grams for key, f in food.items() if not f.is_store and f.last_day < problem.days}
    for run in allocation.runs:
        for taken in run.taken:
            if taken.lot in left:
                left[taken.lot] -= taken.grams
    return {key: max(0.0, grams) for key, grams in left.items()}


def missed_portions(problem: Problem, allocation: Allocation) -> dict[tuple[str, int], float]:
    """Portions missing, by role and day, over all meals of the day."""
    missing: dict[tuple[str, int], float] = defaultdict(float)
    for meal in problem.meals:
        missing[meal.role, meal.day] += meal.portions
    for activity in problem.activities:
        for run in allocation.runs:
            if run.activity == activity.key:
                for dish in activity.servings:
                    missing[dish.role, run.day + dish.day_offset] -= dish.portions_per_level * run.level
    return {key: max(0.0, missing[key]) for key in {(meal.role, meal.day) for meal in problem.meals}}


def objective_of(problem: Problem, allocation: Allocation) -> float:
    """The worth of an allocation, computed from its runs and the meals it says it misses."""
    food = all_food(problem, allocation.runs)
    total = -sum(food[key].worth_per_g * grams for key, grams in waste_g(problem, allocation).items())
    stock: dict[str, float] = defaultdict(float)
    for activity in problem.activities:
        for run in allocation.runs:
            if run.activity != activity.key:
                continue
            total += activity.value_per_level * run.level - activity.cost_per_run
            for taken in run.taken:
                if taken.lot in food and food[taken.lot].is_store:
                    total -= food[taken.lot].worth_per_g * taken.grams
            for part in activity.targets:
                stock[part.target] += part.amount_per_level * run.level
    for target in problem.targets:
        begin = 0.0
        for units, value in target.steps:
            total += value * max(0.0, min(stock[target.name] - begin, units))
            begin += units
    penalty = {(meal.key, meal.role): meal.penalty for meal in problem.meals}
    return total - sum(penalty.get((key, role), 0.0) * portions for key, role, portions in allocation.unmet)


def _stake(problem: Problem, allocation: Allocation, objective: float) -> float:
    """By how much an allocation is better than doing nothing, missed meals not counted."""
    idle = Allocation(Outcome.FEASIBLE, (), (), (), ())
    food = all_food(problem, ())
    waste = sum(food[key].worth_per_g * grams for key, grams in waste_g(problem, idle).items())
    penalty = {(meal.key, meal.role): meal.penalty for meal in problem.meals}
    missed = sum(penalty.get((key, role), 0.0) * portions for key, role, portions in allocation.unmet)
    return objective + missed + waste


def _size(problem: Problem, allocation: Allocation) -> float:
    """How large the numbers are that add up to the objective."""
    values = {activity.key: activity.value_per_level for activity in problem.activities}
    penalty = max((meal.penalty for meal in problem.meals), default=0.0)
    missed = sum(portions for _, _, portions in allocation.unmet)
    return sum(abs(values[run.activity]) * run.level for run in allocation.runs) + penalty * missed


def _spoiled(problem: Problem, allocation: Allocation) -> Iterator[str]:
    reported = dict(allocation.spoiled)
    true = waste_g(problem, allocation)
    for key in sorted(set(reported) | set(true)):
        said, left = reported.get(key, 0.0), true.get(key, 0.0)
        if abs(said - left) > GRAMS + SHARE * left:
            yield f"{key}: {left:.6g} g spoil, reported as {said:.6g} g."


def _unmet(problem: Problem, allocation: Allocation) -> Iterator[str]:
    wanted = {(meal.key, meal.role): meal for meal in problem.meals}
    reported: dict[tuple[str, int], float] = defaultdict(float)
    for key, role, portions in allocation.unmet:
        meal = wanted.get((key, role))
        if meal is None:
            yield f"{key} ({role}): reported as missed, but nobody wants it."
            continue
        if not -PORTIONS <= portions <= meal.portions + PORTIONS:
            yield f"{key} ({role}): {portions:.6g} of {meal.portions:.6g} portions cannot be missed."
        reported[role, meal.day] += portions
    for (role, day), missing in missed_portions(problem, allocation).items():
        if abs(missing - reported[role, day]) > PORTIONS * max(1.0, missing):
            yield f"{role} on day {day}: {missing:.6g} portions missed, reported as {reported[role, day]:.6g}."


def _used(problem: Problem, allocation: Allocation) -> Iterator[str]:
    reported = {(tight.name, tight.day): tight for tight in allocation.used}
    for capacity in problem.capacities:
        for day, offer in enumerate(capacity.per_day):
            tight = reported.get((capacity.name, day))
            use = _minutes(problem, allocation, capacity.name, day)
            if tight is None or not _near(tight.used, use) or not _near(tight.offered, offer):
                yield f"{capacity.name} on day {day}: {use:.6g} used of {offer:.6g}, which is not what is reported."
    for pool in problem.pools:
        tight = reported.get((pool.name, None))
        use = max(inside_by_day(problem, allocation.runs, pool.name))
        if tight is None or not _near(tight.used, use) or not _near(tight.offered, pool.amount):
            yield f"{pool.name}: {use:.6g} used of {pool.amount:.6g} at its fullest, which is not what is reported."


def _near(said: float, true: float) -> bool:
    return abs(said - true) <= SHARE * max(1.0, abs(true))


def _minutes(problem: Problem, allocation: Allocation, name: str, day: int) -> float:
    activities = {activity.key: activity for activity in problem.activities}
    return sum(
        use.fixed + use.per_level * run.level + use.per_load * run.loads
        for run in allocation.runs
        for use in activities[run.activity].usages
        if use.capacity == name and run.day + use.day_offset == day
    )
