"""The variables of one part of a timetable."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from stillroom.timetable.problem import Placed, Problem, Task
from stillroom.timetable.ways import Way

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


class Variables:
    """A start minute for each task and a literal for each way of doing it; ends and modes follow from them."""

    def __init__(self, model: cp_model.CpModel, problem: Problem, ways: Mapping[str, Sequence[Way]]) -> None:
        self.model = model
        self.ways = ways
        self._always = model.new_constant(1)
        self._starts: dict[str, cp_model.IntVar] = {}
        self._literals: dict[str, list[cp_model.IntVar]] = {}
        self._modes: dict[str, dict[int, cp_model.IntVar]] = {}
        self._intervals: dict[tuple[str, int], cp_model.IntervalVar] = {}
        for task in problem.tasks:
            self._add(task.key, ways[task.key])

    def start(self, key: str) -> cp_model.IntVar:
        """Start minute."""
        return self._starts[key]

    def end(self, key: str) -> cp_model.LinearExpr:
        """End minute."""
        from ortools.sat.python import cp_model

        minutes = {way.mode: way.minutes for way in self.ways[key]}
        if len(set(minutes.values())) == 1:
            return self._starts[key] + next(iter(minutes.values()))
        literals = list(self._modes[key].values())
        return self._starts[key] + cp_model.LinearExpr.weighted_sum(
            literals, [minutes[mode] for mode in self._modes[key]]
        )

    def last_end(self, key: str) -> int:
        """The latest minute at which it can end."""
        return max(way.starts[-1][1] + way.minutes for way in self.ways[key])

    def first_end(self, key: str) -> int:
        """The earliest minute at which it can end."""
        return min(way.starts[0][0] + way.minutes for way in self.ways[key])

    def by_worker(self, key: str, worker: str) -> list[cp_model.IntervalVar]:
        """The task as work of one worker; instants take no time."""
        return [
            self.model.new_optional_fixed_size_interval_var(self._starts[key], way.minutes, literal, f"{key} {worker}")
            for way, literal in zip(self.ways[key], self._literals[key], strict=True)
            if way.worker == worker and way.minutes > 0
        ]

    def in_modes(self, key: str) -> Mapping[int, cp_model.IntervalVar]:
        """The task in each of its modes; instants take no time."""
        minutes = {way.mode: way.minutes for way in self.ways[key]}
        return {mode: self._interval(key, mode, time) for mode, time in minutes.items() if time > 0}

    def chosen_modes(self, key: str) -> Mapping[int, cp_model.IntVar]:
        """Whether each of its modes is chosen."""
        return self._modes[key]

    def done_by(self, key: str, worker: str | None) -> list[cp_model.IntVar]:
        """Whether each way of doing it by a worker (None: nobody's hands) is chosen."""
        return [
            literal for way, literal in zip(self.ways[key], self._literals[key], strict=True) if way.worker == worker
        ]

    def values(self, placed: Mapping[str, Placed]) -> dict[int, int]:
        """The value of every variable, by index, when all is placed like this."""
        found = {self._always.index: 1}
        for key, start in self._starts.items():
            item = placed[key]
            found[start.index] = item.start
            if len(self.ways[key]) > 1:
                for way, literal in zip(self.ways[key], self._literals[key], strict=True):
                    found[literal.index] = int((way.mode, way.worker) == (item.mode, item.worker))
            if len(self._modes[key]) > 1:
                found |= {literal.index: int(mode == item.mode) for mode, literal in self._modes[key].items()}
        return found

    def placed(self, task: Task, solver: cp_model.CpSolver) -> Placed:
        """The task as the solver has placed it."""
        for way, literal in zip(self.ways[task.key], self._literals[task.key], strict=True):
            if solver.boolean_value(literal):
                start = solver.value(self._starts[task.key])
                return Placed(task.key, start, start + way.minutes, way.mode, way.worker)
        raise ValueError(f"The solver chose no way of doing {task.key}.")

    def _add(self, key: str, ways: Sequence[Way]) -> None:
        from ortools.sat.python import cp_model

        model = self.model
        everywhere = cp_model.Domain.from_intervals([list(span) for way in ways for span in way.starts])
        start = self._starts[key] = model.new_int_var_from_domain(everywhere, f"start {key}")
        if len(ways) == 1:
            self._literals[key], self._modes[key] = [self._always], {ways[0].mode: self._always}
            return
        self._literals[key] = [model.new_bool_var(f"{key} way {number}") for number in range(len(ways))]
        model.add_exactly_one(self._literals[key])
        for way, literal in zip(ways, self._literals[key], strict=True):
            here = cp_model.Domain.from_intervals([list(span) for span in way.starts])
            if here.flattened_intervals() != everywhere.flattened_intervals():
                model.add_linear_expression_in_domain(start, here).only_enforce_if(literal)
        self._modes[key] = self._mode_literals(key, ways)

    def _mode_literals(self, key: str, ways: Sequence[Way]) -> dict[int, cp_model.IntVar]:
        by_mode: dict[int, list[cp_model.IntVar]] = {}
        for way, literal in zip(ways, self._literals[key], strict=True):
            by_mode.setdefault(way.mode, []).append(literal)
        if len(by_mode) == 1:
            return dict.fromkeys(by_mode, self._always)
        found = {}
        for mode, literals in by_mode.items():
            found[mode] = literals[0] if len(literals) == 1 else self.model.new_bool_var(f"{key} mode {mode}")
            if len(literals) > 1:
                self.model.add(sum(literals) == found[mode])
        return found

    def _interval(self, key: str, mode: int, minutes: int) -> cp_model.IntervalVar:
        if (key, mode) not in self._intervals:
            literal = self._modes[key][mode]
            self._intervals[key, mode] = self.model.new_optional_fixed_size_interval_var(
                self._starts[key], minutes, literal, f"{key} {mode}"
            )
        return self._intervals[key, mode]
