"""The split as a mixed-integer programme: build, solve, read.

First with what the relaxed programme uses and the next cheapest runs, which is small and nearly always holds a good
answer; then, when that leaves a gap and there is time, with everything.
"""

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
from stillroom.allocation.relaxed import NEXT_CHEAPEST, Relaxed, promising, relax
from stillroom.allocation.variables import Variables, make_variables
from stillroom.work_clock import WorkClock, wall_s

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import SolveResult, SolverType

GAP = 0.005  # closer than this is not worth the waiting: the worths themselves are rougher
HEURISTIC_EFFORT = 0.6  # measured: the bound is tight early, good answers are what takes time
FIRST_SHARE = 0.8  # of the time
WHOLE_LEAST_S = 1.5  # measured on a week of 230 activities: in less, the whole has not even found its meals
WIDE_LEAST_S = 2.0  # in less, as in the rounds of a plan, a smaller search finds more: the demo week lost a dish
STAKE_SHARE = 0.9  # the stake of whole runs is a little less than that of the relaxed programme
LEAST_WORTH = 1e-4  # of money; less than rounding
NODES_PER_SECOND = 20  # of the search tree; few, since most of the work is done before it grows
BUILD_S_A_VARIABLE = 4e-5
SEARCH_S, ITERATION_S, ITERATION_S_A_RULE = 0.01, 1.2e-4, 7e-8  # measured on weeks of the demo household

Progress = Callable[[float, float], None]


def solve(
    problem: Problem,
    *,
    seconds: float,
    seed: int = 1,
    workers: int = 2,
    progress: Progress | None = None,
    clock: WorkClock | None = None,
) -> Allocation:
    """The best split found in about `seconds`, with the bound on how much better any split could be.

    OPTIMAL: proved to be within 0.5 % of the best, as a share of `stake`. FEASIBLE: the best when the time was up.
    Doing nothing is always an answer unless a pool is overdrawn from the start, so INFEASIBLE means that.
    First only what the relaxed programme uses and, given seconds, the next cheapest runs are searched, which nearly
    always hold a good answer at once; what time that leaves, if it is more than a moment, goes to the whole.
    With a `clock` the seconds are of counted work, so that the same question has the same answer everywhere.
    `progress` hears (seconds, objective) of the answer once: HiGHS tells nothing on its way, and it works on one
    thread whatever `workers` says. Measured on random weeks it leaves a smaller gap than SCIP at equal time.

    Raises ValueError when the problem contradicts itself (see `problem.validate`).
    """
    from ortools.math_opt.python import mathopt

    solver = mathopt.SolverType.HIGHS
    begun = time.perf_counter()
    now = time.perf_counter if clock is None else lambda: clock.now_s
    deadline = now() + seconds
    validate(problem)
    relaxed = relax(make_model(problem, clock), solver, clock)
    if relaxed is None:
        return search(problem, 0.0, None, seconds=seconds, seed=seed, solver=solver, clock=clock)
    few = promising(problem, relaxed, next_cheapest=NEXT_CHEAPEST if seconds >= WIDE_LEAST_S else 0)
    stake, bound = relaxed.stake, relaxed.bound
    is_short = (1 - FIRST_SHARE) * seconds <= WHOLE_LEAST_S  # nothing would be left for the whole
    first_s = max(0.0, deadline - now()) if is_short and seconds >= WIDE_LEAST_S else FIRST_SHARE * seconds
    answer = search(few, stake, bound, seconds=first_s, seed=seed, solver=solver, clock=clock)
    left = max(0.0, deadline - now())
    if answer.outcome is not Outcome.OPTIMAL and (left > WHOLE_LEAST_S or answer.outcome is not Outcome.FEASIBLE):
        stake = answer.stake or stake
        whole = search(problem, stake, None, seconds=left, seed=seed, solver=solver, clock=clock)
        answer = _better(answer, whole)
    answer = replace(answer, seconds=time.perf_counter() - begun)
    if progress is not None and answer.outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        progress(answer.seconds, answer.objective)
    return answer


def look(problem: Problem, clock: WorkClock | None = None) -> Relaxed | None:
    """What a split will most likely be made of and the most it can be worth, in a moment; None if there is no split."""
    from ortools.math_opt.python import mathopt

    return relax(make_model(problem, clock), mathopt.SolverType.HIGHS, clock)


def make_model(problem: Problem, clock: WorkClock | None = None) -> Variables:
    """The whole programme."""
    from ortools.math_opt.python import mathopt

    variables = make_variables(problem, mathopt.Model())
    add_constraints(variables)
    add_objective(variables)
    if clock is not None:
        clock.charge(BUILD_S_A_VARIABLE * variables.model.get_num_variables())
    return variables


def search(
    problem: Problem,
    stake: float,
    bound: float | None,
    *,
    seconds: float,
    seed: int,
    solver: SolverType | None = None,
    clock: WorkClock | None = None,
) -> Allocation:
    """One search in whole numbers, until it is within the gap of about `stake`, by HiGHS unless told otherwise.

    `bound` is given when `problem` is a part of a whole: what the part proves says nothing about the whole.
    """
    from ortools.math_opt.python import mathopt

    begun = time.perf_counter()
    solver = solver or mathopt.SolverType.HIGHS
    variables = make_model(problem, clock)
    parameters = mathopt.SolveParameters(
        node_limit=None if clock is None else max(1, round(NODES_PER_SECOND * seconds)),
        time_limit=timedelta(seconds=max(0.05, begun + seconds - time.perf_counter()))
        if clock is None
        else timedelta(seconds=wall_s(seconds)),
        relative_gap_tolerance=0.0,
        absolute_gap_tolerance=max(LEAST_WORTH / 2, GAP * STAKE_SHARE * stake),
        random_seed=seed,
    )
    if solver is mathopt.SolverType.HIGHS:
        parameters.highs.double_options["mip_heuristic_effort"] = HEURISTIC_EFFORT
        parameters.highs.string_options["parallel"] = "off"  # otherwise answers differ a little from run to run
    result = mathopt.solve(variables.model, solver, params=parameters)
    if clock is not None:
        an_iteration = ITERATION_S + ITERATION_S_A_RULE * variables.model.get_num_linear_constraints()
        clock.charge(SEARCH_S + an_iteration * result.solve_stats.simplex_iterations)
    return _read(variables, result, begun, bound)


def _better(one: Allocation, other: Allocation) -> Allocation:
    """The better of two answers with the tighter of their bounds."""
    found = [answer for answer in (one, other) if answer.outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE)]
    if not found:
        return other
    best = max(found, key=lambda answer: answer.objective)
    best = replace(best, bound=max(best.objective, min(answer.bound for answer in found)))
    return replace(best, outcome=Outcome.OPTIMAL) if _is_best(best) else best


def _is_best(answer: Allocation) -> bool:
    return answer.gap <= GAP or answer.bound - answer.objective <= LEAST_WORTH


def _read(variables: Variables, result: SolveResult, begun: float, bound: float | None) -> Allocation:
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
        bound=max(objective, result.best_objective_bound() + unavoidable(variables) if bound is None else bound),
        seconds=time.perf_counter() - begun,
        stake=objective + penalties(problem, unmet) - doing_nothing(problem),
    )
    return replace(answer, outcome=Outcome.OPTIMAL) if _is_best(answer) else answer
