"""The split with runs and loads that need not be whole: solved in a moment, and a bound on every real answer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stillroom.allocation.objective import unavoidable
from stillroom.allocation.problem import Problem
from stillroom.work_clock import WorkClock

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import SolverType

    from stillroom.allocation.variables import Variables

LEAST_PART = 1e-6
RELAX_S_AN_ITERATION = 1e-4


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What the relaxed programme says.

    `done` holds the (activity, day) pairs of which it uses any part; `bound` is the most any split can be worth;
    `stake` about the most that doing anything can be better than doing nothing.
    """

    done: frozenset[tuple[str, int]]
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
    return Relaxed(
        frozenset(key for key, done in variables.done.items() if values[done] > LEAST_PART),
        float(result.objective_value()) + unavoidable(variables),
        max(0.0, float(result.objective_value() + missed)),
    )


def promising(problem: Problem, relaxed: Relaxed) -> Problem:
    """The problem with only what the relaxed programme uses, and every dish on every day.

    Dishes stay because a meal is served whole or not at all, which the relaxed programme does not see.
    """
    activities = (
        activity
        if activity.servings
        else replace(activity, days=tuple(day for day in activity.days if (activity.key, day) in relaxed.done))
        for activity in problem.activities
    )
    return replace(problem, activities=tuple(activity for activity in activities if activity.days))
