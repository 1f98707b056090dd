"""A search around a timetable: meals on time, then little moved, then days that end soon."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.model.work import Attention
from stillroom.timetable.constraints import Constraints
from stillroom.timetable.effort import Effort
from stillroom.timetable.problem import Lag, Outcome, Placed, Problem
from stillroom.timetable.variables import Variables
from stillroom.timetable.ways import ways

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

DAY_MIN = 24 * 60
# Prices: common practice, no source. A minute that a meal is late outweighs everything else.
LATE_PRICE = 100
FAR_MIN = 5  # a task that moves by more is told to the cook
FAR_PRICE = 20
MOVED_PRICE = 1  # a minute that a task moves
OTHER_PRICE = 10  # a task that somebody else does
FINISH_PRICE = 3  # a minute that a day's work ends later than planned
MOST_MIN = 100_000


@dataclass(frozen=True, slots=True)
class Found:
    """A timetable, its price, and a price below which there is none."""

    outcome: Outcome
    placed: tuple[Placed, ...]
    bound: float


@dataclass(frozen=True, slots=True)
class Wishes:
    """Where tasks were planned [by key] and should stay, and clocks that ought to be kept although they need not."""

    planned: Mapping[str, Placed]
    clocks: Sequence[Lag] = ()


def price(problem: Problem, wishes: Wishes, placed: Mapping[str, Placed]) -> int:
    """What a timetable costs."""
    planned = wishes.planned
    late = sum(_wait(lag, placed) for lag in wishes.clocks)
    late += sum(max(0, placed[t.key].end - t.due) for t in problem.tasks if t.due is not None)
    moves = [abs(placed[key].start - item.start) for key, item in planned.items()]
    ends = sum(max(0, max(placed[key].end for key in keys) - mark) for keys, mark in _days(problem, planned))
    far = sum(move > FAR_MIN for move in moves)
    other = sum(placed[key].worker != item.worker for key, item in planned.items())
    stirred = FAR_PRICE * far + MOVED_PRICE * sum(moves) + OTHER_PRICE * other
    return LATE_PRICE * late + stirred + FINISH_PRICE * ends


def search_near(
    problem: Problem, wishes: Wishes, placed: Sequence[Placed] | None, effort: Effort, seconds: float
) -> Found:
    """The best timetable found in `seconds` [s], from a right one that is handed over whole, if there is one."""
    return _Near(problem, wishes, placed).search(effort, seconds)


class _Near:
    def __init__(self, problem: Problem, wishes: Wishes, placed: Sequence[Placed] | None) -> None:
        from ortools.sat.python import cp_model

        self._problem, self._planned, self._clocks = problem, wishes.planned, wishes.clocks
        self._placed = None if placed is None else {item.task: item for item in placed}
        self._model = cp_model.CpModel()
        self._ways = ways(problem)
        self._terms: list[cp_model.LinearExpr] = []
        self._hint: dict[int, int] = {}

    def search(self, effort: Effort, seconds: float) -> Found:
        from ortools.sat.python import cp_model

        if not all(self._ways.values()):
            return Found(Outcome.INFEASIBLE, (), float("inf"))
        self._variables = Variables(self._model, self._problem, self._ways)
        Constraints(self._problem, self._variables).add()
        if self._placed is not None:
            self._hint |= self._variables.values(self._placed)
        self._late()
        self._moves()
        self._finishes()
        self._model.minimize(cp_model.LinearExpr.sum(self._terms))
        for index, value in self._hint.items():
            self._model.add_hint(self._model.get_int_var_from_proto_index(index), value)
        solver = cp_model.CpSolver()
        outcome = effort.run(self._model, solver, seconds)
        if outcome not in (Outcome.OPTIMAL, Outcome.FEASIBLE):
            return Found(outcome, (), float("-inf"))
        placed = tuple(self._variables.placed(task, solver) for task in self._problem.tasks)
        return Found(outcome, placed, solver.best_objective_bound)

    def _late(self) -> None:
        for task in self._problem.tasks:
            if task.due is not None:
                self._terms.append(LATE_PRICE * self._over((task.key,), task.due))
        for lag in self._clocks:
            wait = self._variables.start(lag.after) - self._variables.end(lag.before)
            over = self._model.new_int_var(0, MOST_MIN, "wait")
            self._model.add(over >= wait - (lag.max_lag or 0))
            self._terms.append(LATE_PRICE * over)
            if self._placed is not None:
                self._hint[over.index] = _wait(lag, self._placed)

    def _finishes(self) -> None:
        self._terms.extend(FINISH_PRICE * self._over(keys, mark) for keys, mark in _days(self._problem, self._planned))

    def _moves(self) -> None:
        from ortools.sat.python import cp_model

        for key, item in self._planned.items():
            start, variable = item.start, self._variables.start(key)
            last = self._variables.last_end(key)
            first = min(way.starts[0][0] for way in self._ways[key])
            moved = self._model.new_int_var(0, max(abs(first - start), abs(last - start)), "moved")
            self._model.add_abs_equality(moved, variable - start)
            far = self._model.new_bool_var("far")
            self._model.add(moved <= FAR_MIN).only_enforce_if(~far)
            self._terms.extend((MOVED_PRICE * moved, FAR_PRICE * far))
            if item.worker is not None:
                self._terms.append(
                    OTHER_PRICE * (1 - cp_model.LinearExpr.sum(self._variables.done_by(key, item.worker)))
                )
            if self._placed is not None:
                has = abs(self._placed[key].start - start)
                self._hint |= {moved.index: has, far.index: int(has > FAR_MIN)}

    def _over(self, keys: Sequence[str], mark: int) -> cp_model.IntVar:
        """Minutes by which the last end passes the mark, at least 0."""
        top = max(0, max(map(self._variables.last_end, keys)) - mark)
        over = self._model.new_int_var(0, top, "over")
        for key in keys:
            self._model.add(over >= self._variables.end(key) - mark)
        if self._placed is not None:
            self._hint[over.index] = max(0, max(self._placed[key].end for key in keys) - mark)
        return over


def _wait(lag: Lag, placed: Mapping[str, Placed]) -> int:
    """Minutes by which a clock runs over."""
    return max(0, placed[lag.after].start - placed[lag.before].end - (lag.max_lag or 0))


def _days(problem: Problem, planned: Mapping[str, Placed]) -> list[tuple[tuple[str, ...], int]]:
    """Open tasks of each planned day that take somebody, and the last planned end of them."""
    by_day: dict[int, list[str]] = {}
    for task in problem.tasks:
        if task.key in planned and task.attention is not Attention.FREE:
            by_day.setdefault(planned[task.key].start // DAY_MIN, []).append(task.key)
    return [(tuple(keys), max(planned[key].end for key in keys)) for _, keys in sorted(by_day.items())]
