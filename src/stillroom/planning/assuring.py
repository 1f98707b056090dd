"""Makes a plan that the days can keep one that they can keep on most real days: slack, and runs left out for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from stillroom.allocation.answer import tightness_of
from stillroom.allocation.problem import Allocation, Run
from stillroom.allocation.solve import solve as allocate
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches
from stillroom.planning.loosening import Loosening, RunId, slack_of
from stillroom.planning.repair import just
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.split import Split
from stillroom.planning.tasks import Piece, spreads, timetable_problem
from stillroom.timetable.secure import CLOCKS_SHARE, MEALS_SHARE, Secured, secure
from stillroom.timetable.slack import Slack
from stillroom.work_clock import WorkClock

LOOSEN_AT_MOST_S, LOOSEN_ROUNDS = 8.0, 5
SECURE_S = 2.0  # for the timetables with more and less slack
SURER_ROUNDS, SURER_S = 3, 5.0  # past the deadline, where the days are not sure enough
SPLIT_S = 1.5
CLOCK_WEIGHT = 5.0  # a safety clock that is not kept, against a late meal


@dataclass(frozen=True, slots=True)
class Assured:
    """A split, its timetable, where its tasks come from, and the runs that were left out for slack."""

    allocation: Allocation
    pieces: Mapping[str, Piece]
    secured: Secured
    left_out: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class _Loose:
    allocation: Allocation
    factors: Mapping[RunId, float] = field(default_factory=dict)
    more: Slack = field(default_factory=Slack)


class Assuring:
    """One search, until about the moment `deadline` of the clock."""

    def __init__(
        self, task: Split, folder: Folder, clock: WorkClock, deadline: float, seed: int, *, share: bool
    ) -> None:
        self._task, self._folder, self._clock, self._deadline = task, folder, clock, deadline
        self._seed, self._share = seed, share

    def assure(self, allocation: Allocation, progress: Callable[[str], None]) -> Assured | None:
        """The surest plan found that loses no dish; None when no timetable is found at all.

        Where the usual slack is not enough, slack is added where lateness comes from, and runs without room then go.
        """
        progress("leaving slack in the days")
        loose = self._loosened(_Loose(allocation))
        progress("making the days sure and comfortable")
        best = self._secured(loose)
        if best is None:
            return None
        for _ in range(SURER_ROUNDS):
            missing = best[1].missing
            if best[1].is_sure or missing.total_min == 0 or self._clock.now_s > self._deadline + SURER_S:
                break
            progress("making the days surer")
            tried = self._loosened(replace(loose, more=loose.more + missing))
            found = self._secured(tried)
            if found is None or _shortfall(found[1]) >= _shortfall(best[1]):
                break
            loose, best = tried, found
        kept = {(run.activity, run.day) for run in loose.allocation.runs}
        gone = (run for run in allocation.runs if (run.activity, run.day) not in kept)
        left_out = tuple(run for run in gone if run.activity in self._task.variants)
        return Assured(loose.allocation, best[0], best[1], left_out)

    def _loosened(self, start: _Loose) -> _Loose:
        """Without what leaves no room for slack; as it was where nothing has to be left out, or a dish would be lost.

        Splitting the food anew among fewer runs may fill one of them, so what comes of it is looked at again.
        """
        deadline = max(self._clock.now_s + LOOSEN_AT_MOST_S, self._deadline - SECURE_S)
        loose = start
        for _ in range(LOOSEN_ROUNDS):
            search = Loosening(
                self._task, self._folder, self._seed, self._clock, deadline, share=self._share, more=start.more
            )
            found = search.keep(loose.allocation)
            loose = replace(loose, factors=found.factors)
            if len(found.runs) == sum(run.activity in self._task.variants for run in loose.allocation.runs):
                return loose
            problem = just(self._task.problem, found.runs)
            fewer = allocate(problem, seconds=SPLIT_S, seed=self._seed, clock=self._clock)
            if _portions_missed(fewer) > _portions_missed(start.allocation) + 0.1:
                return start
            loose = replace(loose, allocation=replace(fewer, used=tightness_of(self._task.problem, fewer.runs)))
        return start

    def _secured(self, loose: _Loose) -> tuple[Mapping[str, Piece], Secured] | None:
        folder, work = self._folder, batches(self._task, loose.allocation, self._folder)
        if self._share:
            work = with_shared_loads(work)
        clock, pieces = timetable_problem(
            work, folder.kitchen, folder.household.meals, folder.start, self._task.problem.days
        )
        found = secure(
            clock,
            seconds=max(SECURE_S, self._deadline - self._clock.now_s),
            spreads=spreads(clock, pieces),
            slack=slack_of(clock, pieces, loose.factors) + loose.more,
            seed=self._seed,
            workers=1,
            clock=self._clock,
        )
        return (pieces, found) if isinstance(found, Secured) else None


def _shortfall(secured: Secured) -> float:
    """What is missing from the shares that are wanted, of all meals and of all safety clocks."""
    meals = max(0.0, MEALS_SHARE - secured.chances.of_all_meals)
    return meals + CLOCK_WEIGHT * max(0.0, CLOCKS_SHARE - secured.chances.of_all_clocks)


def _portions_missed(allocation: Allocation) -> float:
    return sum(portions for _, _, portions in allocation.unmet)
