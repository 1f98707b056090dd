"""As much of a plan as leaves slack in the days, so that they can be kept when work takes longer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from stillroom.allocation.problem import Allocation, Outcome, Run, made_by
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.split import Split
from stillroom.planning.tasks import Piece, spreads, timetable_problem
from stillroom.planning.wishes import wished
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.problem import Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.slack import Padding, Slack, usual_slack
from stillroom.work_clock import WorkClock

TRY_SECONDS = 0.5
DISH_FACTORS = (
    1.0,
    0.75,
    0.5,
    0.25,
    0.0,
)  # a dish, or a wish, is never left out: where there is no room it gets less slack

RunId = tuple[str, int]  # activity and day


@dataclass(frozen=True, slots=True)
class Loosened:
    """Runs that fit with slack, and how much of the usual slack those dishes have that have less."""

    runs: tuple[Run, ...]
    factors: Mapping[RunId, float]


def slack_of(problem: Problem, pieces: Mapping[str, Piece], factors: Mapping[RunId, float]) -> Slack:
    """The usual slack; less of it for dishes with a factor."""
    less = {}
    for key, piece in pieces.items():
        if piece.run is not None and piece.run in factors:
            less[key] = factors[piece.run]
    return usual_slack(problem, spreads(problem, pieces)).reduced(less)


class Loosening:
    """Looks for runs that fit into the days with the usual slack and `more`, until `deadline` of the clock."""

    def __init__(
        self,
        task: Split,
        folder: Folder,
        seed: int,
        clock: WorkClock,
        deadline: float,
        *,
        share: bool,
        more: Slack | None = None,
    ) -> None:
        self._task, self._folder, self._clock, self._deadline, self._share = task, folder, clock, deadline, share
        self._more = more or Slack()
        self._prover = Prover(seed, TRY_SECONDS, clock)
        self._factors: dict[RunId, float] = {}

    def keep(self, allocation: Allocation) -> Loosened:
        """Of runs that the days can keep those that leave slack: dishes, wishes, then by worth; each with its makers.

        Halves of the rest are tried, and halves of these; what there was no time to try stays in.
        """
        activities = {activity.key: activity for activity in self._task.problem.activities}
        runs = [run for run in allocation.runs if run.activity in self._task.variants]
        worth = {run: sum(t.grams * self._task.worth.get(t.item, 0.0) for t in run.taken) for run in runs}
        kept: tuple[Run, ...] = ()
        wishes = wished(self._task.problem)
        for dish in (run for run in runs if activities[run.activity].servings or run.activity in wishes):
            kept = self._with_dish(dish, [run for run in _makers_first(runs, [dish]) if run not in kept], kept)
        rest = sorted((run for run in runs if run not in kept), key=lambda run: -worth[run])
        kept = self._with([run for run in _makers_first(runs, rest) if run not in kept], kept)
        return Loosened(kept, {run: factor for run, factor in self._factors.items() if factor < 1})

    def _with_dish(self, dish: Run, more: Sequence[Run], kept: tuple[Run, ...]) -> tuple[Run, ...]:
        for factor in DISH_FACTORS:
            self._factors[dish.activity, dish.day] = factor
            if self._fits((*kept, *more)):
                break
        return (*kept, *more)

    def _with(self, more: Sequence[Run], kept: tuple[Run, ...]) -> tuple[Run, ...]:
        ready = _makers_kept(more, kept)
        if not ready or self._clock.now_s > self._deadline or self._fits((*kept, *ready)):
            return (*kept, *ready)
        if len(ready) == 1:
            return kept
        half = len(ready) // 2
        return self._with(ready[half:], self._with(ready[:half], kept))

    def _fits(self, runs: tuple[Run, ...]) -> bool:
        folder = self._folder
        work = batches(self._task, Allocation(Outcome.FEASIBLE, runs, (), (), ()), folder)
        if self._share:
            work = with_shared_loads(work)
        problem, pieces = timetable_problem(
            work, folder.kitchen, folder.household.meals, folder.start, self._task.problem.days
        )
        padded = Padding(problem, slack_of(problem, pieces, self._factors) + self._more).problem
        return self._prover.verdict(padded).outcome is Fit.FEASIBLE


def _makers_first(runs: Sequence[Run], wanted: Sequence[Run]) -> list[Run]:
    """Those wanted in their order, each after the runs that make what it takes."""
    by_id = {(run.activity, run.day): run for run in runs}
    found: dict[RunId, Run] = {}

    def put(run: Run) -> None:
        if (run.activity, run.day) not in found:
            for key in _makers(run):
                if key in by_id:
                    put(by_id[key])
            found[run.activity, run.day] = run

    for run in wanted:
        put(run)
    return list(found.values())


def _makers_kept(runs: Sequence[Run], kept: Sequence[Run]) -> list[Run]:
    """Without those that take what nobody makes any more."""
    there = {(run.activity, run.day) for run in kept}
    found = []
    for run in runs:
        if _makers(run) <= there:
            found.append(run)
            there.add((run.activity, run.day))
    return found


def _makers(run: Run) -> set[RunId]:
    return {made_by(taken.lot)[:2] for taken in run.taken if taken.lot.startswith("run:")}
