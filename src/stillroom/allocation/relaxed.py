"""The split with runs and loads that need not be whole: solved in a moment, and a bound on every real answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stillroom.allocation.objective import unavoidable
from stillroom.allocation.opening import Opening
from stillroom.allocation.problem import Problem
from stillroom.work_clock import WorkClock

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import SolverType

    from stillroom.allocation.variables import Variables

LEAST_PART = 1e-6
NEXT_CHEAPEST = 140  # measured on random weeks: with fewer the best is often left out, with more it is found later
RELAX_S_AN_ITERATION = 1e-4


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What the relaxed programme says.

    `done` holds the (activity, day) pairs of which it uses any part, `cheapest` all others, by what doing the least of
    each would cost (reduced costs); `bound` is the most any split can be worth; `stake` about the most that doing
    anything can be better than doing nothing.
    """

    done: frozenset[tuple[str, int]]
    cheapest: tuple[tuple[str, int], ...]
    bound: float
    stake: float


def relax(variables: Variables, solver: SolverType, clock: WorkClock | None = None) -> Relaxed | None:
    """The relaxed programme, solved; None when not even that has an answer."""
    from ortools.math_opt.python import mathopt

    whole = [variable for variable in variables.model.variables() if variable.integer]
    for variable in whole:
        variable.integer = False
    result = mathopt.solve(variables.model, solver)
    if clock is not None:
        clock.charge(RELAX_S_AN_ITERATION * result.solve_stats.simplex_iterations)
    for variable in whole:
        variable.integer = True
    if not result.has_primal_feasible_solution():
        return None
    values: dict[Any, float] = result.variable_values()
    meals = variables.problem.meals
    missed = sum(meals[place].penalty * values[portions] for place, portions in variables.unmet.items())
    done = frozenset(key for key, is_done in variables.done.items() if values[is_done] > LEAST_PART)
    by_cost = _by_cost(variables, result.reduced_costs()) if result.has_dual_feasible_solution() else []
    return Relaxed(
        done,
        tuple(key for key in by_cost if key not in done),
        float(result.objective_value()) + unavoidable(variables),
        max(0.0, float(result.objective_value() + missed)),
    )


def _by_cost(variables: Variables, price: Mapping[Any, float]) -> list[tuple[str, int]]:
    """Runs by what their smallest level costs in the relaxed programme, cheapest first."""

    def cost(opening: Opening) -> float:
        level, smallest = variables.level[opening.key], opening.smallest
        if opening.key in variables.steps:
            level, smallest = variables.steps[opening.key], smallest / opening.activity.level_step
        return -price[variables.done[opening.key]] - price[level] * smallest

    return [opening.key for opening in sorted(variables.openings, key=cost)]


def promising(problem: Problem, relaxed: Relaxed, *, next_cheapest: int = NEXT_CHEAPEST) -> Problem:
    """The problem with what the relaxed programme uses, some of the next cheapest, and every dish on every day.

    Dishes stay because a meal is served whole or not at all, which the relaxed programme does not see.
    """
    chosen = relaxed.done.union(relaxed.cheapest[:next_cheapest])
    activities = (
        activity
        if activity.servings
        else replace(activity, days=tuple(day for day in activity.days if (activity.key, day) in chosen))
        for activity in problem.activities
    )
    return replace(problem, activities=tuple(activity for activity in activities if activity.days))
