"""The split as a mixed-integer programme: build, solve, read."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from stillroom.allocation.answer import runs_of, spoiled_of, tightness_of, unmet_of, worth_of
from stillroom.allocation.constraints import add_constraints
from stillroom.allocation.objective import add_objective
from stillroom.allocation.problem import Allocation, Outcome, Problem, Run, validate
from stillroom.allocation.variables import Variables, make_variables

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import SolveResult, SolverType

GAP = 0.005  # closer than this is not worth the waiting: the worths themselves are rougher

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
    parameters = mathopt.SolveParameters(
        time_limit=timedelta(seconds=left), relative_gap_tolerance=GAP, random_seed=seed
    )
    result = mathopt.solve(variables.model, solver, params=parameters)
    answer = _read(variables, result, begun)
    if progress is not None and answer.outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        progress(answer.seconds, answer.objective)
    return answer


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
    return Allocation(
        Outcome.OPTIMAL if reason is mathopt.TerminationReason.OPTIMAL else Outcome.FEASIBLE,
        runs,
        spoiled,
        unmet,
        tightness_of(problem, runs),
        objective=objective,
        bound=max(objective, result.best_objective_bound()),
        seconds=time.perf_counter() - begun,
    )
