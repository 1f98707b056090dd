"""Whether a timetable can be kept: proved by a placement that was found, or by a search that left nothing open."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.timetable.components import components, restricted
from stillroom.timetable.effort import ASK_S_A_TASK, Effort
from stillroom.timetable.overload import seen_at_once
from stillroom.timetable.problem import Outcome, Placed, Problem, Timetable
from stillroom.timetable.search import Search
from stillroom.timetable.ways import Way, ways
from stillroom.work_clock import WorkClock

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

ONE_TRY_SECONDS = 1.0  # by the search's own count of steps; most answers come in hundredths
QUICK_SECONDS = 0.15


@dataclass(frozen=True, slots=True)
class Verdict:
    """FEASIBLE with a timetable, INFEASIBLE with a part that is impossible by itself, or OUT_OF_TIME."""

    outcome: Outcome
    placed: tuple[Placed, ...] = ()
    part: Problem | None = None

    @property
    def timetable(self) -> Timetable:
        """The placement found, as a timetable that can be checked."""
        return Timetable(self.outcome, self.placed)


class Prover:
    """Gives verdicts and remembers those on parts, since most of a week stays as it is while one thing changes."""

    def __init__(self, seed: int = 1, seconds: float = ONE_TRY_SECONDS, clock: WorkClock | None = None) -> None:
        self._seed, self._seconds = seed, seconds
        self.clock = clock or WorkClock()
        self._known: dict[Hashable, Verdict] = {}

    def verdict(self, problem: Problem, seconds: float | None = None) -> Verdict:
        """The verdict on all parts of a problem, each searched for at most so many seconds."""
        seconds = seconds or self._seconds
        self.clock.charge(ASK_S_A_TASK * len(problem.tasks))
        found = ways(problem)
        if plain := seen_at_once(problem, found):
            return Verdict(Outcome.INFEASIBLE, part=of_groups(problem, plain))
        if not all(found.values()):
            return Verdict(Outcome.INFEASIBLE, part=problem)
        placed: list[Placed] = []
        is_open = False
        for part in components(problem, found):
            ways_here = tuple(found[task.key] for task in part.tasks)
            key = (part.tasks, part.lags, part.resources, part.near_limit, ways_here)
            if key not in self._known:
                self._known[key] = self._search(part, found, seconds)
            known = self._known[key]
            if known.outcome is Outcome.INFEASIBLE:
                return known
            is_open = is_open or known.outcome is Outcome.OUT_OF_TIME
            placed.extend(known.placed)
        return Verdict(Outcome.OUT_OF_TIME) if is_open else Verdict(Outcome.FEASIBLE, tuple(placed))

    def _search(self, part: Problem, found: Mapping[str, Sequence[Way]], seconds: float) -> Verdict:
        """Quickly first; with all that the solver can do if that does not settle it and there is time."""
        quick = min(seconds, QUICK_SECONDS)
        search = Search(part, found)
        search.place(_Quick(quick, self._seed, 1, self.clock), quick)
        if search.outcome is Outcome.OUT_OF_TIME and seconds > quick:
            search.place(Effort(seconds, self._seed, 1, self.clock), seconds)
        return _verdict(search)


class _Quick(Effort):
    """For many small questions: to simplify the model first costs more than it saves (measured: half of the time)."""

    def run(self, model: cp_model.CpModel, solver: cp_model.CpSolver, seconds: float, workers: int = 0) -> Outcome:
        """Solves within `seconds` and takes what was used off the budget."""
        solver.parameters.cp_model_presolve = False
        solver.parameters.linearization_level = 0
        return super().run(model, solver, seconds, workers)


def of_groups(problem: Problem, groups: Collection[str]) -> Problem:
    """The same problem with the tasks of these groups only."""
    return restricted(problem, {task.key for task in problem.tasks if task.group in groups})


def _verdict(search: Search) -> Verdict:
    if search.outcome is Outcome.INFEASIBLE:
        return Verdict(Outcome.INFEASIBLE, part=search.problem)
    if search.outcome is Outcome.OUT_OF_TIME:
        return Verdict(Outcome.OUT_OF_TIME)
    return Verdict(Outcome.FEASIBLE, tuple(search.placed.values()))
