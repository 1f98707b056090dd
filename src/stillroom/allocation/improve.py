"""Makes a found split better: all days but a few stay as they are, and the few are split again to the best."""

from __future__ import annotations

import itertools
import time
from datetime import timedelta
from typing import TYPE_CHECKING

from stillroom.allocation.variables import Variables

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import SolverType, Variable

FREE_DAYS = 3
SLICE_S = 0.7
LEAST_SLICE_S = 0.05

Values = dict["Variable", float]


def improve(
    variables: Variables, values: Values, objective: float, *, good_enough: float, until: float, solver: SolverType
) -> tuple[Values, float]:
    """Goes round the windows of neighbouring days until none gives more, it is good enough, or the time is up.

    `until` is on the clock of `time.perf_counter`.
    """
    days = range(variables.problem.days)
    windows = [set(days[first : first + FREE_DAYS]) for first in range(max(1, len(days) - FREE_DAYS + 1))]
    idle = 0
    for window in itertools.cycle(windows):
        left = until - time.perf_counter()
        if idle >= len(windows) or objective >= good_enough or left < LEAST_SLICE_S:
            break
        found = _split_again(variables, values, window, min(SLICE_S, left), solver)
        if found is not None and found[1] > objective + 1e-6:
            (values, objective), idle = found, 0
        else:
            idle += 1
    return values, objective


def _split_again(
    variables: Variables, values: Values, window: set[int], seconds: float, solver: SolverType
) -> tuple[Values, float] | None:
    from ortools.math_opt.python import mathopt

    fixed = [
        variable
        for group in (variables.done, variables.steps, variables.loads)
        for (_, day), variable in group.items()
        if day not in window
    ]
    bounds = [(variable, variable.lower_bound, variable.upper_bound) for variable in fixed]
    for variable in fixed:
        variable.lower_bound = variable.upper_bound = round(values[variable])
    parameters = mathopt.SolveParameters(time_limit=timedelta(seconds=seconds), relative_gap_tolerance=1e-3)
    result = mathopt.solve(variables.model, solver, params=parameters)
    for variable, lower, upper in bounds:
        variable.lower_bound, variable.upper_bound = lower, upper
    if not result.has_primal_feasible_solution():
        return None
    return dict(result.variable_values()), float(result.objective_value())
