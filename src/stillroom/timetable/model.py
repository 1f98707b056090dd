"""The solver's model of one part of a timetable, for one goal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stillroom.timetable.constraints import Constraints
from stillroom.timetable.effort import Effort
from stillroom.timetable.goals import Mark, promise
from stillroom.timetable.objective import Excess, excesses, waiting
from stillroom.timetable.problem import Outcome, Placed, Problem
from stillroom.timetable.variables import Variables
from stillroom.timetable.ways import Way

Placement = Mapping[str, Placed]


class Model:
    """All hard rules; without a goal any timetable will do."""

    def __init__(self, problem: Problem, ways: Mapping[str, Sequence[Way]]) -> None:
        from ortools.sat.python import cp_model

        self.problem = problem
        self.placed: dict[str, Placed] = {}
        self._model = cp_model.CpModel()
        self._solver = cp_model.CpSolver()
        self._variables = Variables(self._model, problem, {task.key: ways[task.key] for task in problem.tasks})
        Constraints(problem, self._variables).add()
        self._late = excesses(self._variables, promise(problem, ways))
        self._excesses: tuple[Excess, ...] = self._late

    def aim_at_promise(self) -> None:
        """As little lateness as can be."""
        if self._late:
            self._model.minimize(sum(excess.variable for excess in self._late))

    def aim_at_comfort(self, marks: Sequence[Mark], most_late: int) -> None:
        """As much comfort as can be with so many minutes of lateness at most."""
        from ortools.sat.python import cp_model

        if self._late:
            self._model.add(sum(excess.variable for excess in self._late) <= most_late)
        added = excesses(self._variables, marks)
        self._excesses = (*self._late, *added)
        self._model.minimize(
            waiting(self.problem, self._variables, self._late)
            + cp_model.LinearExpr.weighted_sum([item.variable for item in added], [item.mark.weight for item in added])
        )

    def begin_at(self, placed: Placement) -> None:
        """Hands a whole timetable to the solver: an incomplete hint is not taken."""
        values = self._variables.values(placed)
        values |= {excess.variable.index: excess.mark.over(placed) for excess in self._excesses}
        self._model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in values.items():
            self._model.add_hint(self._model.get_int_var_from_proto_index(index), value)

    def solve(self, effort: Effort, seconds: float, workers: int = 0) -> Outcome:
        """Searches; what is found is `placed`. `workers` where not all of them."""
        outcome = effort.run(self._model, self._solver, seconds, workers)
        if outcome in (Outcome.OPTIMAL, Outcome.FEASIBLE):
            self.placed = {task.key: self._variables.placed(task, self._solver) for task in self.problem.tasks}
        return outcome

    @property
    def objective(self) -> int:
        """What the timetable found costs."""
        return round(self._solver.objective_value)

    def stop(self) -> None:
        """Ends a search that goes on in another thread."""
        self._solver.stop_search()
