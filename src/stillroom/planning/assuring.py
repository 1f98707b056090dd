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
ROUND_S = 2.0  # at least for a round that is begun: food is not given away for want of a moment
MEAL_WORTH = 20.0  # [worth] what a meal in time may cost in food given away (common practice, no source)
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
            until = max(deadline, self._clock.now_s + ROUND_S)
            tried = self._holding.held(best.allocation, until, best.more + missing)
            if tried.untried or _portions_missed(tried.allocation) > _portions_missed(held.allocation) + 0.1:
                break
            found = self._secured(tried, until)
            if found is None:
                break
            surer_by = _shortfall(secured[1]) - _shortfall(found[1])
            meals = len(self._task.problem.meals)
            if surer_by <= 0 or best.allocation.objective - tried.allocation.objective > MEAL_WORTH * meals * surer_by:
                break
            best, secured = tried, found
        return Assured(best.allocation, *secured, self._left_out(held.allocation, best.allocation))

    def _left_out(self, before: Allocation, after: Allocation) -> tuple[Run, ...]:
        """What is not done any more; another jar is no other run, and for a dish another is served."""
        activities = {activity.key: activity for activity in self._task.problem.activities}

        def place(run: Run) -> tuple[str, int]:
            return activities[run.activity].family or run.activity, run.day

        kept = {place(run) for run in after.runs}
        gone = (run for run in before.runs if run.activity in self._task.variants and place(run) not in kept)
        return tuple(run for run in gone if not activities[run.activity].servings)

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
