"""The search in one part of a timetable: the promise first, then comfort from there."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.timetable.constraints import Constraints
from stillroom.timetable.objective import discomforts, lateness, minutes_over, waiting
from stillroom.timetable.problem import Outcome, Placed, Problem
from stillroom.timetable.variables import Variables
from stillroom.timetable.ways import Way

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

STEPS_PER_SECOND = 0.12  # deterministic time of the solver in a second of the clock (measured: 0.12 to 1)


@dataclass(slots=True)
class Effort:
    """How long and how hard to search.

    With one worker the solver's deterministic time is counted instead of the clock, so that the same question has the
    same answer on every machine.
    """

    seconds: float
    seed: int
    workers: int

    def run(self, model: cp_model.CpModel, solver: cp_model.CpSolver, seconds: float) -> Outcome:
        """Solves within `seconds` and takes what was used off the budget."""
        from ortools.sat.python import cp_model

        parameters = solver.parameters
        parameters.random_seed = self.seed
        parameters.num_workers = self.workers
        if self.workers == 1:
            parameters.max_deterministic_time = max(0.01, seconds * STEPS_PER_SECOND)
        else:
            parameters.max_time_in_seconds = max(0.01, seconds)
        begun = time.perf_counter()
        status = solver.solve(model)
        used = time.perf_counter() - begun
        self.seconds -= solver.deterministic_time / STEPS_PER_SECOND if self.workers == 1 else used
        if status == cp_model.MODEL_INVALID:
            raise ValueError(f"The timetable model is invalid: {model.validate()}")
        return {
            cp_model.OPTIMAL: Outcome.OPTIMAL,
            cp_model.FEASIBLE: Outcome.FEASIBLE,
            cp_model.INFEASIBLE: Outcome.INFEASIBLE,
        }.get(status, Outcome.OUT_OF_TIME)


class Search:
    """One part of a timetable, its model, and the best timetable found so far."""

    def __init__(self, problem: Problem, ways: Mapping[str, Sequence[Way]]) -> None:
        from ortools.sat.python import cp_model

        self.problem = problem
        self.outcome = Outcome.OUT_OF_TIME
        self.is_promise_proved = False
        self.is_comfort_proved = False
        self.placed: dict[str, Placed] = {}
        self._model = cp_model.CpModel()
        self._values: list[int] = []
        self._variables = Variables(self._model, problem, {task.key: ways[task.key] for task in problem.tasks})
        Constraints(problem, self._variables).add()
        self._late = lateness(problem, self._variables)

    @property
    def lateness_min(self) -> int:
        """Minutes past due over all tasks of the timetable found."""
        return sum(minutes_over(excess, self.placed) for excess in self._late)

    def place(self, effort: Effort, seconds: float) -> None:
        """Places all tasks, late or not."""
        self.outcome = self._solve(effort, seconds)

    def keep_promise(self, effort: Effort, seconds: float) -> None:
        """Places all tasks with as little lateness as can be found; proved if time allows."""
        if self._late:
            self._model.minimize(sum(excess.variable for excess in self._late))
        self.place(effort, seconds)
        self.is_promise_proved = self.outcome is Outcome.OPTIMAL

    def ask_for_comfort(self) -> None:
        """From now on the search is for comfort, without giving up any of the promise."""
        from ortools.sat.python import cp_model

        self._model.add(sum(excess.variable for excess in self._late) <= self.lateness_min)
        added = discomforts(self.problem, self._variables)
        self._model.minimize(
            waiting(self.problem, self._variables, self._late)
            + cp_model.LinearExpr.weighted_sum([item.variable for item in added], [item.weight for item in added])
        )
        values = dict(enumerate(self._values))
        values.update({item.variable.index: minutes_over(item, self.placed) for item in (*self._late, *added)})
        self._values = [values[index] for index in range(len(values))]

    def improve(self, effort: Effort, seconds: float) -> None:
        """Searches on from the best timetable so far, which is handed over whole: an incomplete hint is not taken."""
        self._model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in enumerate(self._values):
            self._model.add_hint(self._model.get_int_var_from_proto_index(index), value)
        self.is_comfort_proved = self._solve(effort, seconds) is Outcome.OPTIMAL

    def _solve(self, effort: Effort, seconds: float) -> Outcome:
        from ortools.sat.python import cp_model

        solver = cp_model.CpSolver()
        outcome = effort.run(self._model, solver, seconds)
        if outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE):
            self._values = list(solver.response_proto.solution)
            self.placed = {task.key: self._variables.placed(task, solver) for task in self.problem.tasks}
        return outcome
