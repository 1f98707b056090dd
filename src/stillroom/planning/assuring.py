"""Makes a plan that the days hold one that they hold on most real days: its timetable, and slack where it lacks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from stillroom.allocation.problem import Allocation, Run
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches
from stillroom.planning.fitting import slack_of
from stillroom.planning.holding import Held, Holding
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.split import Split
from stillroom.planning.tasks import Piece, spreads, timetable_problem
from stillroom.timetable.secure import CLOCKS_SHARE, MEALS_SHARE, Secured, secure
from stillroom.work_clock import WorkClock

SECURE_S, TIME_SHARE = 1.5, 0.5  # for the timetables with more and less slack: at least, and of the time left
SURER_ROUNDS = 3
CLOCK_WEIGHT = 5.0  # a safety clock that is not kept, against a late meal


@dataclass(frozen=True, slots=True)
class Assured:
    """A split, its timetable, where its tasks come from, and the runs that were left out for slack."""

    allocation: Allocation
    pieces: Mapping[str, Piece]
    secured: Secured
    left_out: tuple[Run, ...]


class Assuring:
    """One search, until about the moment `deadline` of the clock."""

    def __init__(self, task: Split, folder: Folder, holding: Holding, clock: WorkClock, seed: int) -> None:
        self._task, self._folder, self._holding, self._clock, self._seed = task, folder, holding, clock, seed

    def assure(self, held: Held, deadline: float, progress: Callable[[str], None]) -> Assured | None:
        """The surest plan found that loses no dish; None when no timetable is found at all.

        Where the usual slack is not enough, slack is added where lateness comes from, and runs without room then go.
        """
        progress("making the days sure and comfortable")
        best, secured = held, self._secured(held, deadline)
        if secured is None:
            return None
        for _ in range(SURER_ROUNDS):
            missing = secured[1].missing
            if secured[1].is_sure or missing.total_min == 0 or self._clock.now_s > deadline:
                break
            progress("making the days surer")
            tried = self._holding.held(best.allocation, deadline, best.more + missing)
            if _portions_missed(tried.allocation) > _portions_missed(held.allocation) + 0.1:
                break
            found = self._secured(tried, deadline)
            if found is None or _shortfall(found[1]) >= _shortfall(secured[1]):
                break
            best, secured = tried, found
        kept = {(run.activity, run.day) for run in best.allocation.runs}
        gone = (run for run in held.allocation.runs if (run.activity, run.day) not in kept)
        left_out = tuple(run for run in gone if run.activity in self._task.variants)
        return Assured(best.allocation, *secured, left_out)

    def _secured(self, held: Held, deadline: float) -> tuple[Mapping[str, Piece], Secured] | None:
        folder, work = self._folder, batches(self._task, held.allocation, self._folder)
        if held.has_shared_loads:
            work = with_shared_loads(work)
        clock, pieces = timetable_problem(
            work, folder.kitchen, folder.household.meals, folder.start, self._task.problem.days
        )
        found = secure(
            clock,
            seconds=max(SECURE_S, TIME_SHARE * (deadline - self._clock.now_s)),
            spreads=spreads(clock, pieces),
            slack=slack_of(clock, pieces, held.factors) + held.more,
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
