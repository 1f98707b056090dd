"""The split as a mixed-integer programme: build, solve, read."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from stillroom.allocation.answer import runs_of, spoiled_of, tightness_of, unmet_of, worth_of
from stillroom.allocation.constraints import add_constraints
from stillroom.allocation.objective import add_objective, doing_nothing, penalties, unavoidable
from stillroom.allocation.problem import Allocation, Outcome, Problem, Run, validate
from stillroom.allocation.variables import Variables, make_variables

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import SolveResult, SolverType

GAP = 0.005  # closer than this is not worth the waiting: the worths themselves are rougher
HEURISTIC_EFFORT = 0.6  # measured: the bound is tight early, good answers are what takes time
STAKE_SHARE = 0.9  # the stake of whole runs is a little less than that of the relaxed programme
LEAST_WORTH = 1e-4  # of money; less than rounding

Progress = Callable[[float, float], None]


def solve(
    problem: Problem, *, seconds: float, seed: int = 1, workers: int = 2, progress: Progress | None = None
) -> Allocation:
    """The best split found in about `seconds`, with the bound on how much better any split could be.

    OPTIMAL: proved to be within 0.5 % of the best. FEASIBLE: the best when the time was up. Doing nothing is always
    an answer unless a pool is overdrawn from the start, so INFEASIBLE means that. `progress` hears
    (seconds, objective) at least once, with the answer.

    Raises ValueError when the problem contradicts itself (see `problem.validate`).
    """
    from ortools.math_opt.python import mathopt

    return _solve(problem, seconds, seed, workers, progress, mathopt.SolverType.HIGHS)


def _solve(
    problem: Problem, seconds: float, seed: int, workers: int, progress: Progress | None, solver: SolverType
) -> Allocation:
    from ortools.math_opt.python import mathopt

    begun = time.perf_counter()
    validate(problem)
    variables = make_variables(problem, mathopt.Model())
    add_constraints(variables)
    add_objective(variables)
    left = max(0.05, seconds - (time.perf_counter() - begun))
    worth_most = _stake_at_most(variables, solver)
    parameters = mathopt.SolveParameters(
        time_limit=timedelta(seconds=left),
        relative_gap_tolerance=0.0,
        absolute_gap_tolerance=max(LEAST_WORTH / 2, GAP * STAKE_SHARE * worth_most),
        random_seed=seed,
    )
    if solver is mathopt.SolverType.HIGHS:
        parameters.highs.double_options["mip_heuristic_effort"] = HEURISTIC_EFFORT
    result = mathopt.solve(variables.model, solver, params=parameters)
    answer = _read(variables, result, begun)
    if progress is not None and answer.outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        progress(answer.seconds, answer.objective)
    return answer


def _stake_at_most(variables: Variables, solver: SolverType) -> float:
    """About the most that doing anything could be worth: the stake of the relaxed programme, in which runs and loads
    need not be whole.
    """
    from ortools.math_opt.python import mathopt

    whole = [variable for variable in variables.model.variables() if variable.integer]
    for variable in whole:
        variable.integer = False
    result = mathopt.solve(variables.model, solver)
    for variable in whole:
        variable.integer = True
    if not result.has_primal_feasible_solution():
        return 0.0
    values = result.variable_values()
    meals = variables.problem.meals
    missed = sum(meals[place].penalty * values[portions] for place, portions in variables.unmet.items())
    return max(0.0, float(result.objective_value() + missed))


def _read(variables: Variables, result: SolveResult, begun: float) -> Allocation:
    from ortools.math_opt.python import mathopt

    reason = result.termination.reason
    if not result.has_primal_feasible_solution():
        failed = reason in (
            mathopt.TerminationReason.INFEASIBLE,
            mathopt.TerminationReason.INFEASIBLE_OR_UNBOUNDED,
        )
        outcome = Outcome.INFEASIBLE if failed else Outcome.OUT_OF_TIME
        return Allocation(outcome, (), (), (), (), seconds=time.perf_counter() - begun)
    values: dict[Any, float] = result.variable_values()
    problem = variables.problem
    runs: tuple[Run, ...] = runs_of(variables, lambda variable: values[variable])
    spoiled, unmet = spoiled_of(variables, runs), unmet_of(problem, runs)
    objective = worth_of(problem, runs, spoiled, unmet)
    answer = Allocation(
        Outcome.FEASIBLE,
        runs,
        spoiled,
        unmet,
        tightness_of(problem, runs),
        objective=objective,
        bound=max(objective, result.best_objective_bound() + unavoidable(variables)),
        seconds=time.perf_counter() - begun,
        stake=objective + penalties(problem, unmet) - doing_nothing(problem),
    )
    is_best = answer.gap <= GAP or answer.bound - answer.objective <= LEAST_WORTH
    return replace(answer, outcome=Outcome.OPTIMAL) if is_best else answer
