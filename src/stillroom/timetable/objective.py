"""The goals as variables of the solver's model."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.timetable.goals import EARLY_WEIGHT, WAIT_WEIGHT, Mark, inner_lags
from stillroom.timetable.problem import Problem
from stillroom.timetable.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


@dataclass(frozen=True, slots=True)
class Excess:
    """Minutes by which the last end of some tasks passes a mark (at least 0)."""

    variable: cp_model.IntVar
    mark: Mark


def excesses(variables: Variables, marks: Sequence[Mark]) -> tuple[Excess, ...]:
    """The variable of each mark."""
    return tuple(_excess(variables, mark) for mark in marks)


def waiting(problem: Problem, variables: Variables, late: Sequence[Excess]) -> cp_model.LinearExpr:
    """Weighted minutes that runs stand still between their steps, and that dishes stand before they are due."""
    from ortools.sat.python import cp_model

    waits = [variables.start(lag.after) - variables.end(lag.before) - lag.min_lag for lag in inner_lags(problem)]
    early = [task.due - variables.end(task.key) for task in problem.tasks if task.due is not None]
    early.extend(excess.variable + 0 for excess in late)
    return WAIT_WEIGHT * cp_model.LinearExpr.sum(waits) + EARLY_WEIGHT * cp_model.LinearExpr.sum(early)


def _excess(variables: Variables, mark: Mark) -> Excess:
    top = max(0, max(map(variables.last_end, mark.keys)) - mark.minute)
    variable = variables.model.new_int_var(0, top, "over")
    for key in mark.keys:
        variables.model.add(variable >= variables.end(key) - mark.minute)
    return Excess(variable, mark)
