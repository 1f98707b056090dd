"""How much of a run a day holds at most, when nothing else is done: proved by the timetable, for bounds on plans."""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import replace

from alike_days import AlikeDays, RunId

from stillroom.allocation.constraints import CUT_STEP_SHARE
from stillroom.allocation.opening import Opening
from stillroom.allocation.problem import Cut, Run
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches_of_run
from stillroom.planning.split import Split
from stillroom.planning.tasks import timetable_problem
from stillroom.timetable.problem import Outcome, Problem, Task
from stillroom.timetable.proof import Prover

HALVINGS = 3
SLICES = 6  # of the levels of one number of loads


def _apart(problem: Problem) -> Problem:
    """So that a canner load which is shared with a longer one is right too.

    The guest's heating and cooling may be shorter than the host's, and its jars are lifted out later: so there is no
    longest wait after them.
    """
    cycle = {task.key for task in problem.tasks if task.key.endswith((":heat", ":cool"))}
    return replace(
        problem,
        lags=tuple(replace(lag, max_lag=None) if lag.before in cycle else lag for lag in problem.lags),
    )


class Limits:
    """Asks about each run alone, from which level on no timetable holds it.

    Why what is ruled out is in no plan. Take a plan in which the run is done at some level x in [low, high] by the same
    number of loads. Without all other tasks its timetable still keeps every rule. Let each task of the run begin
    where it did and take its minutes at `low`: they are no more than at x, nor are its places. So it ends no later, and
    least waits, hours, hands and places are kept. A longest wait from the end of a task may grow, by no more than that
    task is shorter, that is at most its longest minutes at `high` less its shortest at `low`; by so much every longest
    wait is lengthened. A dish may begin earlier the longer it takes, so the earlier of both beginnings is taken. So
    the plan's timetable is one of the changed problem (`_between`). Where that is proved to have none, no plan does the
    run at any such level. Levels are ruled out from the largest down, one number of loads after the other.
    """

    def __init__(self, task: Split, folder: Folder, prover: Prover) -> None:
        self._task, self._folder, self._prover = task, folder, prover
        self._alike = AlikeDays(task, folder)
        self._known: dict[Hashable, float] = {}

    def cuts(self, openings: Iterable[Opening]) -> Iterator[Cut]:
        """A cut for each run that its day does not hold at its largest level; only what is proved is cut off.

        A cut moves a level without steps by a share, so it is set that much higher.
        """
        for opening in openings:
            level = self.too_much(opening) if opening.activity.key in self._task.variants else math.inf
            if level < math.inf:
                if opening.activity.level_step <= 0 and level > opening.smallest:
                    level /= 1 - CUT_STEP_SHARE
                yield Cut(((*opening.key, level),))

    def too_much(self, opening: Opening) -> float:
        """The level from which on no timetable holds the run; the smallest level where none is held, else infinity.

        Days with the same hours are asked about once, the first of them first.
        """
        variant = self._task.variants[opening.activity.key]
        work = variant.jar_work
        way = (variant.recipe.key, variant.meal, (work.jar.name, work.canner.name) if work else None)
        question = (way, self._alike.hours(*opening.key), opening.smallest, opening.largest)
        if question not in self._known:
            self._known[question] = self._too_much(opening)
        return self._known[question]

    def _too_much(self, opening: Opening) -> float:
        limit = math.inf
        for loads in range(opening.loads_most, 0, -1):
            slices = _slices(*_levels(opening, loads), opening.activity.level_step)
            for low, high in slices:
                if not self._is_impossible(opening, loads, low, high):
                    return limit if limit == math.inf else self._halved(opening, loads, low, limit)
                limit = low
        return limit

    def _halved(self, opening: Opening, loads: int, low: float, high: float) -> float:
        """Nearer to the least level that is ruled out, between one that is not and one that is."""
        step = opening.activity.level_step
        for _ in range(HALVINGS):
            middle = (low + high) / 2 if step <= 0 else math.ceil((low + high) / 2 / step) * step
            if not low < middle < high:
                break
            if self._is_impossible(opening, loads, middle, high):
                high = middle
            else:
                low = middle
        return high

    def _is_impossible(self, opening: Opening, loads: int, low: float, high: float) -> bool:
        problem = self._alone(opening.key, loads, low)
        if high > low:
            problem = _between(problem, self._alone(opening.key, loads, high))
        return self._prover.verdict(_apart(problem)).outcome is Outcome.INFEASIBLE

    def _alone(self, run_id: RunId, loads: int, level: float) -> Problem:
        folder, run = self._folder, Run(*run_id, level, loads, ())
        work = batches_of_run(run, self._task.variants[run.activity], folder)
        days = self._task.problem.days
        return timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, days)[0]


def _levels(opening: Opening, loads: int) -> tuple[float, float]:
    """The lowest and the highest level that take so many loads; without steps, the lowest is the one it stays above."""
    each, step = opening.activity.level_per_load, opening.activity.level_step
    if opening.loads_most == 1 or each <= 0:
        return opening.smallest, opening.largest
    low = (loads - 1) * each + (step if loads > 1 else 0.0)
    return max(opening.smallest, low), min(opening.largest, loads * each)


def _slices(low: float, high: float, step: float) -> Iterator[tuple[float, float]]:
    """The levels from the highest down in a few parts, whole steps each; narrow parts prove more."""
    width = (high - low) / SLICES
    if step > 0:
        width = math.ceil(width / step) * step
    while high > low:
        below = max(low, high - width)
        yield below, high
        high = below - step if step > 0 else below
    if (high == low and step > 0) or width == 0:
        yield low, low


def _between(low: Problem, high: Problem) -> Problem:
    """A problem that every timetable of a run at a level between two is right for; see `Limits`."""
    above = {task.key: task for task in high.tasks}
    longer = {task.key: _most_min(above[task.key]) - _least_min(task) for task in low.tasks}
    return replace(
        low,
        tasks=tuple(
            replace(
                task,
                earliest=min(task.earliest, above[task.key].earliest),
                latest_end=max(task.latest_end, above[task.key].latest_end),
            )
            for task in low.tasks
        ),
        lags=tuple(
            lag if lag.max_lag is None else replace(lag, max_lag=lag.max_lag + longer[lag.before]) for lag in low.lags
        ),
    )


def _least_min(task: Task) -> int:
    return min(mode.minutes for mode in task.modes)


def _most_min(task: Task) -> int:
    return max(mode.minutes for mode in task.modes)
