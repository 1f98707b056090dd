"""Which runs the days hold with slack, asked of the timetable, and as many of a split's runs as they hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stillroom.allocation.problem import Allocation, Outcome, Run, made_by
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.split import Split
from stillroom.planning.tasks import Batch, Piece, spreads, timetable_problem
from stillroom.planning.wishes import wished
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.problem import Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.slack import Padding, Slack, usual_slack
from stillroom.work_clock import WorkClock

TRY_SECONDS = 0.5
DISH_FACTORS = (1.0, 0.75, 0.5, 0.25, 0.0)  # a dish, or a wish, gets less slack where there is no room for all

RunId = tuple[str, int]  # activity and day


def slack_of(problem: Problem, pieces: Mapping[str, Piece], factors: Mapping[RunId, float]) -> Slack:
    """The usual slack; less of it for dishes with a factor."""
    less = {}
    for key, piece in pieces.items():
        if piece.run is not None and piece.run in factors:
            less[key] = factors[piece.run]
    return usual_slack(problem, spreads(problem, pieces)).reduced(less)


class Fitting:
    """Asks the timetable whether runs fit into the days with the usual slack and `more`.

    Dishes and wishes come with less slack rather than not at all: `factors` holds how much each got. Two foods share a
    canner load only where the days can't be kept otherwise.
    """

    def __init__(
        self, task: Split, folder: Folder, seed: int, clock: WorkClock, deadline: float, *, more: Slack | None = None
    ) -> None:
        self._task, self._folder, self._clock, self._deadline = task, folder, clock, deadline
        self._more = more or Slack()
        self._prover = Prover(seed, TRY_SECONDS, clock)
        self._factors: dict[RunId, float] = {}
        self.untried: set[RunId] = set()  # there was no time to ask about them
        serves = {activity.key for activity in task.problem.activities if activity.servings}
        self._first = serves | wished(task.problem)

    @property
    def is_over(self) -> bool:
        """Whether the time for it is up."""
        return self._clock.now_s > self._deadline

    @property
    def factors(self) -> Mapping[RunId, float]:
        """How much of the usual slack those dishes have that have less."""
        return {run: factor for run, factor in self._factors.items() if factor < 1}

    def is_first(self, run: Run) -> bool:
        """Whether it is a dish or a wish, for which food that is only put by makes room."""
        return run.activity in self._first

    def keep(self, allocation: Allocation) -> tuple[Run, ...]:
        """As many of its runs as fit: dishes, wishes, then by worth; each with the runs that make what it takes.

        Halves of the rest are tried, and halves of these; what there was no time to try is left out.
        """
        runs = [run for run in allocation.runs if run.activity in self._task.variants]
        worth = {run: sum(t.grams * self._task.worth.get(t.item, 0.0) for t in run.taken) for run in runs}
        kept: tuple[Run, ...] = ()
        for dish in (run for run in runs if self.is_first(run)):
            kept = self.with_run(dish, [run for run in makers_first(runs, [dish]) if run not in kept], kept) or kept
        rest = sorted((run for run in runs if run not in kept), key=lambda run: -worth[run])
        return self._with([run for run in makers_first(runs, rest) if run not in kept], kept)

    def with_run(self, run: Run, more: Sequence[Run], kept: tuple[Run, ...]) -> tuple[Run, ...] | None:
        """The runs kept and `more`, of which `run` is the last; None if they don't fit."""
        for factor in DISH_FACTORS if self.is_first(run) else (1.0,):
            self._factors[run.activity, run.day] = factor
            if self.fits((*kept, *more)):
                return (*kept, *more)
        return None

    def fits(self, runs: Sequence[Run]) -> bool:
        """Whether a timetable with slack was found for them."""
        work = batches(self._task, Allocation(Outcome.FEASIBLE, tuple(runs), (), (), ()), self._folder)
        return self._hold(work) or (self._can_share(work) and self._hold(with_shared_loads(work)))

    def needs_shared_loads(self, runs: Sequence[Run]) -> bool:
        """Whether runs that fit do so only when foods share canner loads."""
        work = batches(self._task, Allocation(Outcome.FEASIBLE, tuple(runs), (), (), ()), self._folder)
        return self._can_share(work) and not self._hold(work)

    def _can_share(self, work: Sequence[Batch]) -> bool:
        return any(batch.host for batch in with_shared_loads(work))

    def _hold(self, work: Sequence[Batch]) -> bool:
        folder = self._folder
        problem, pieces = timetable_problem(
            work, folder.kitchen, folder.household.meals, folder.start, self._task.problem.days
        )
        padded = Padding(problem, slack_of(problem, pieces, self._factors) + self._more).problem
        return self._prover.verdict(padded).outcome is Fit.FEASIBLE

    def _with(self, more: Sequence[Run], kept: tuple[Run, ...]) -> tuple[Run, ...]:
        ready = _makers_kept(more, kept)
        if ready and self.is_over:
            self.untried.update((run.activity, run.day) for run in ready)
        if not ready or self.is_over:
            return kept
        if self.fits((*kept, *ready)):
            return (*kept, *ready)
        if len(ready) == 1:
            return kept
        half = len(ready) // 2
        return self._with(ready[half:], self._with(ready[:half], kept))


def makers_first(runs: Sequence[Run], wanted: Sequence[Run]) -> list[Run]:
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
