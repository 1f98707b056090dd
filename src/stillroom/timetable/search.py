"""The search in one part of a timetable: the promise first, then comfort from there.

Drafts are fast and prove little, the solver is slow at first and proves: each starts from what the other found.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor

from stillroom.timetable.allowance import Allowance
from stillroom.timetable.drafts import Drafts
from stillroom.timetable.effort import LAY_OUT_S_A_TASK, Effort
from stillroom.timetable.goals import comfort, discomfort, first_end, inner_lags, promise
from stillroom.timetable.model import Model
from stillroom.timetable.problem import Outcome, Placed, Problem
from stillroom.timetable.ways import Way, within_lateness

FIRST_SECONDS = 0.2  # for a first draft, mostly done in hundredths
STOP_SECONDS = 0.002
REORDER_SHARE = 0.5  # of the time for the promise
SHAKE_SHARE = 0.4  # of the time for comfort, but no more than pays:
SHAKE_SECONDS_A_TASK = 0.008


Drawing = Callable[[Allowance, Callable[[], bool]], None]


class Search:
    """One part of a timetable, and the best timetable found so far."""

    def __init__(self, problem: Problem, ways: Mapping[str, Sequence[Way]]) -> None:
        self.problem = problem
        self.outcome = Outcome.OUT_OF_TIME
        self.is_promise_proved = False
        self.is_comfort_proved = False
        self.placed: Mapping[str, Placed] = {}
        self._is_drafted = False
        self._ways: Mapping[str, Sequence[Way]] = {task.key: ways[task.key] for task in problem.tasks}
        self._marks = comfort(problem, ways)
        self._promise = promise(problem, ways)

    @property
    def lateness_min(self) -> int:
        """Minutes past due over all tasks of the timetable found."""
        return sum(mark.over(self.placed) for mark in self._promise)

    @property
    def has_comfort(self) -> bool:
        """Whether two timetables with the same lateness can differ in comfort."""
        can_be_early = any(
            task.due is not None and first_end(self._ways[task.key]) < task.due for task in self.problem.tasks
        )
        return can_be_early or bool(self._marks) or bool(inner_lags(self.problem))

    def place(self, effort: Effort, seconds: float) -> None:
        """Places all tasks, late or not; asked again, the solver goes on where drafts have failed."""
        if not self._is_drafted:
            self._draft(effort, seconds)
        if not self.placed:
            self._solve(effort, seconds, Model(self.problem, self._ways))

    def keep_promise(self, effort: Effort, seconds: float) -> None:
        """Places all tasks with as little lateness as can be found; proved if time allows."""
        until = effort.seconds - seconds
        if not self._is_drafted:
            self._draft(effort, seconds)
        if not self.placed:
            model = Model(self.problem, self._ways)
            model.aim_at_promise()
            self._solve(effort, seconds, model)
        if not self.placed:
            return
        drafts = self._narrowed(effort)
        self.is_promise_proved = self.outcome is Outcome.OPTIMAL or drafts.is_least_late
        if not self.is_promise_proved and effort.seconds > until:
            model = Model(self.problem, self._ways)
            model.aim_at_promise()
            share = (effort.seconds - until) * REORDER_SHARE
            is_proved = drafts.is_of_use and self._search(effort, share, model, drafts, drafts.reorder)
            self.is_promise_proved = is_proved or self._finish(effort, until, model)
            self._narrowed(effort)

    def improve(self, effort: Effort, seconds: float) -> None:
        """Seeks comfort, without giving up any of the promise, from the best timetable so far on."""
        until = effort.seconds - seconds
        drafts = self._drafts
        self.is_comfort_proved = drafts.is_most_comfortable
        if not self.is_comfort_proved:
            model = Model(self.problem, self._ways)
            model.aim_at_comfort(self._marks, self.lateness_min)
            share = min(seconds * SHAKE_SHARE, SHAKE_SECONDS_A_TASK * len(self.problem.tasks))
            is_proved = drafts.is_of_use and self._search(effort, share, model, drafts, drafts.shake)
            self.is_comfort_proved = is_proved or drafts.is_most_comfortable or self._finish(effort, until, model)
            drafts.adopt(self.placed)

    def _draft(self, effort: Effort, seconds: float) -> None:
        self._is_drafted = True
        drafts = Drafts(self.problem, self._ways, self._marks, effort.seed)
        effort.use(LAY_OUT_S_A_TASK * len(self.problem.tasks))
        if not drafts.is_of_use:
            return
        allowance = effort.allowance(drafts.draft, min(seconds, FIRST_SECONDS))
        if drafts.first(allowance):
            self.outcome, self.placed = Outcome.FEASIBLE, drafts.placed()
        effort.charge(allowance)

    def _solve(self, effort: Effort, seconds: float, model: Model) -> None:
        self.outcome = model.solve(effort, seconds)
        self.placed = model.placed

    def _search(self, effort: Effort, seconds: float, model: Model, drafts: Drafts, draw: Drawing) -> bool:
        """Drafts, with the solver at work beside where there is a second worker; true when the solver has proved."""
        allowance = effort.allowance(drafts.draft, seconds)
        if effort.workers == 1:
            draw(allowance, lambda: False)
            effort.charge(allowance)
            self._take(drafts.placed())
            return False
        model.begin_at(self.placed)
        with ThreadPoolExecutor(1) as beside:
            solving = beside.submit(model.solve, effort, seconds, effort.workers - 1)
            draw(allowance, solving.done)
            while not solving.done():
                model.stop()  # which is not heard before the search has begun
                time.sleep(STOP_SECONDS)
        self._take(drafts.placed())
        self._take(model.placed)
        return solving.result() is Outcome.OPTIMAL

    def _finish(self, effort: Effort, until: float, model: Model) -> bool:
        """The solver alone, until so many seconds are left; true when it has proved."""
        if effort.seconds <= until:
            return False
        model.begin_at(self.placed)
        is_proved = model.solve(effort, effort.seconds - until) is Outcome.OPTIMAL
        self._take(model.placed)
        return is_proved

    def _take(self, placed: Mapping[str, Placed]) -> None:
        """Keeps the better of two timetables."""
        if placed and self._cost(placed) < self._cost(self.placed):
            self.placed = placed

    def _cost(self, placed: Mapping[str, Placed]) -> tuple[int, int]:
        late = sum(mark.over(placed) for mark in self._promise)
        return late, discomfort(self.problem, self._marks, placed)

    def _narrowed(self, effort: Effort) -> Drafts:
        """Leaves out whatever would be later than all that is late now; drafts go on from the best timetable."""
        narrow = within_lateness(self.problem, self.lateness_min)
        self._ways = narrow
        self._drafts = Drafts(self.problem, self._ways, self._marks, effort.seed)
        self._drafts.adopt(self.placed)
        return self._drafts
