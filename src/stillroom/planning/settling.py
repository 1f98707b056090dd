"""Split and timetable in turn, until the days can be kept; then, while there is time, with more of the food put by."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from stillroom.allocation.answer import tightness_of
from stillroom.allocation.problem import Allocation, Cut, Problem, Run
from stillroom.allocation.problem import Outcome as AllocationOutcome
from stillroom.allocation.solve import solve as allocate
from stillroom.errors import StillroomError
from stillroom.household.folder import Folder
from stillroom.planning.assuring import Assuring
from stillroom.planning.batches import batches
from stillroom.planning.conflicts import Conflicts
from stillroom.planning.filling import Filling
from stillroom.planning.repair import around, just, with_more
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.split import Split
from stillroom.planning.tasks import Piece, timetable_problem
from stillroom.timetable.problem import Problem as TimetableProblem
from stillroom.timetable.secure import Secured
from stillroom.timetable.solve import can_be_kept
from stillroom.timetable.solve import solve as schedule
from stillroom.work_clock import WorkClock

ROUNDS = 60
TELL_CONFLICTS = 4
PATIENCE = 2  # timetables that fail before what is in the way is not done at all
FIRST_SPLIT_S = 1.5
LEAST_ROUND_S = 1.0  # what a further round takes, mostly
LATER_SPLIT_S = 1.5
FILL_S = 2.0
KEEP_S = 4.0
COMFORT_S = 1.0
ASSURE_S = 3.0  # for slack in the days, and for the timetables with more and less of it
WORTH_MORE = 0.05  # in the currency of worth: a plan that is better by less is no better

Progress = Callable[[str], None]


class NoPlan(StillroomError):  # noqa: N818 - told to the cook as it is
    """No plan was found; the message says what stands in the way."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A split that the days can keep, its timetable still to be chosen."""

    allocation: Allocation
    has_shared_loads: bool


@dataclass(frozen=True, slots=True)
class Settled:
    """A split, the timetable that keeps it, where its tasks come from, and how they were found."""

    allocation: Allocation
    pieces: Mapping[str, Piece]
    secured: Secured
    left_out: tuple[Run, ...]  # so that the days have slack
    did_not_fit: tuple[str, ...]
    bound: float  # on the worth of any split, the hours of the days not looked at
    split_seconds: float
    timetable_seconds: float
    rounds: int


class Settling:
    """One search for a plan, until the moment `deadline` of the clock; on one core, so that it is repeatable."""

    def __init__(
        self, task: Split, folder: Folder, clock: WorkClock, deadline: float, seed: int, progress: Progress
    ) -> None:
        self._task, self._folder, self._seed, self._progress = task, folder, seed, progress
        self._clock, self._deadline = clock, deadline
        self._late = (clock.now_s + deadline) / 2  # from then on any plan is better than none
        self._conflicts = Conflicts(task, folder, seed, clock)
        self._cuts: list[Cut] = []
        self._told: dict[str, Cut] = {}
        self._split_s = self._timetable_s = 0.0
        self._failed = 0

    def settle(self) -> Settled:
        """The best plan found in time; NoPlan when there is none after many rounds."""
        self._progress("looking at what each day can take")
        begun = self._clock.now_s
        self._cuts, bound = self._conflicts.beforehand()
        self._timetable_s += self._clock.now_s - begun
        problem, best = self._task.with_cuts(self._cuts, is_careful=True), None
        for number in range(1, ROUNDS + 1):
            self._progress(f"splitting the food over the days (round {number})")
            allocation = self._split(problem, number)
            if best is not None and allocation.objective < best.allocation.objective + WORTH_MORE:
                break
            found, new = self._fit(allocation, best)
            best = found or best
            if found is not None:
                self._progress(f"a plan is there: {self._gone_words(found.allocation)}; looking for a better one")
            self._note(new)
            if best is not None and self._left() < LEAST_ROUND_S + FILL_S + ASSURE_S:
                break
            problem = self._next(allocation, best, new)
        if best is None:
            raise NoPlan(
                f"No plan that every day can keep was found in {ROUNDS} rounds; give it more hours or less food."
            )
        best = self._filled(best)
        begun = self._clock.now_s
        assuring = Assuring(
            self._task, self._folder, self._clock, self._deadline, self._seed, share=best.has_shared_loads
        )
        assured = assuring.assure(best.allocation, self._progress)
        if assured is None:
            raise NoPlan("The machine is too busy to finish the timetable; try again with more --seconds.")
        self._timetable_s += self._clock.now_s - begun
        return Settled(
            assured.allocation,
            assured.pieces,
            assured.secured,
            assured.left_out,
            did_not_fit=tuple(words for words, cut in self._told.items() if not self._is_done(cut, assured.allocation)),
            bound=bound,
            split_seconds=self._split_s,
            timetable_seconds=self._timetable_s,
            rounds=number,
        )

    def _gone_words(self, allocation: Allocation) -> str:
        """What of the food nobody at home would eat, and how many dishes are missing."""
        given = [run for run in allocation.runs if run.activity not in self._task.variants]
        grams = sum(taken.grams for run in given for taken in run.taken)
        missing = f", {len(allocation.unmet)} dishes are missing" if allocation.unmet else ", no dish is missing"
        return f"{grams / 1000:.0f} kg would be given away{missing}"

    def _split(self, problem: Problem, number: int) -> Allocation:
        seconds = FIRST_SPLIT_S if number == 1 else min(LATER_SPLIT_S, self._left())
        begun = self._clock.now_s
        allocation = allocate(problem, seconds=max(1.0, seconds), seed=self._seed, clock=self._clock)
        self._split_s += self._clock.now_s - begun
        if allocation.outcome not in (AllocationOutcome.OPTIMAL, AllocationOutcome.FEASIBLE):
            raise NoPlan(f"No way was found to split the food ({allocation.outcome.value}); add hours, jars or days.")
        return allocation

    def _fit(self, allocation: Allocation, best: Kept | None) -> tuple[Kept | None, Sequence[Cut]]:
        """The split as a plan, or as much of it as fits beside the best plan so far; and cuts for what does not fit."""
        begun = self._clock.now_s
        found, new = None, self._conflicts.alone(allocation) if best is None else []
        if not new:
            work = batches(self._task, allocation, self._folder)
            found = self._kept(allocation)
            if found is None and best is not None:
                runs, new = self._conflicts.added(best.allocation, allocation, work)
                found = self._kept(self._split(just(self._task.problem, runs), 0))
                if found is not None and found.allocation.objective < best.allocation.objective + WORTH_MORE:
                    found = None
            elif found is None:
                self._failed += 1
                clock, _ = self._timetable(allocation)
                why = schedule(clock, seconds=COMFORT_S, seed=self._seed, workers=1, clock=self._clock)
                new = self._conflicts.together(why, work, allocation, is_desperate=self._failed > PATIENCE)
        if found is None and best is None and (self._failed >= PATIENCE or self._clock.now_s > self._late):
            found = self._as_much_as_fits(allocation)
        self._timetable_s += self._clock.now_s - begun
        return found, new

    def _kept(self, allocation: Allocation) -> Kept | None:
        """The split as a plan, its timetable still to be made comfortable; None when the days can't keep it.

        Two foods share a canner load only where the day can't be kept otherwise.
        """
        clock, _ = self._timetable(allocation)
        self._progress(f"fitting {len(clock.tasks)} tasks into the days")
        is_shared = not can_be_kept(clock, seconds=COMFORT_S, seed=self._seed, clock=self._clock)
        if is_shared:
            shared, _ = self._timetable(allocation, share=True)
            if len(shared.tasks) == len(clock.tasks) or not can_be_kept(
                shared, seconds=COMFORT_S, seed=self._seed, clock=self._clock
            ):
                return None
        used = tightness_of(self._task.problem, allocation.runs)  # told by the brisk pace, whatever was asked
        return Kept(replace(allocation, used=used), is_shared)

    def _as_much_as_fits(self, allocation: Allocation) -> Kept | None:
        """Of a split that the days can't keep what they can; the rest is left for later rounds."""
        runs = Filling(self._task, self._folder, self._seed, self._clock, self._clock.now_s + KEEP_S).keep(allocation)
        return self._kept(self._split(just(self._task.problem, runs), 0))

    def _filled(self, best: Kept) -> Kept:
        """The plan with what still fits beside it."""
        begun = self._clock.now_s
        until = max(self._clock.now_s + FILL_S, self._deadline - ASSURE_S)
        self._progress("looking for what else fits")
        runs = Filling(self._task, self._folder, self._seed, self._clock, until).fill(best.allocation)
        self._timetable_s += self._clock.now_s - begun
        if len(runs) == sum(run.activity in self._task.variants for run in best.allocation.runs):
            return best
        found = self._kept(self._split(just(self._task.problem, runs), 0))
        is_better = found is not None and found.allocation.objective > best.allocation.objective
        return found if found is not None and is_better else best

    def _timetable(
        self, allocation: Allocation, *, share: bool = False
    ) -> tuple[TimetableProblem, Mapping[str, Piece]]:
        folder, work = self._folder, batches(self._task, allocation, self._folder)
        days = self._task.problem.days
        if share:
            work = with_shared_loads(work)
        return timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, days)

    def _next(self, allocation: Allocation, best: Kept | None, new: Sequence[Cut]) -> Problem:
        problem = self._task.with_cuts(self._cuts, is_careful=best is None)
        if best is not None:
            return with_more(problem, best.allocation)
        return around(problem, allocation, new, is_late=self._failed > 0)

    def _note(self, new: Sequence[Cut]) -> None:
        """Keeps the cuts, and tells each set of runs once, whatever the size of the jars."""
        self._cuts.extend(new)
        start = self._folder.start
        words = {self._conflicts.words(cut, lambda day: f"{start + timedelta(days=day):%A}"): cut for cut in new}
        self._told |= words
        if words:
            self._progress("does not fit: " + "; ".join(list(words)[:TELL_CONFLICTS]))

    def _is_done(self, cut: Cut, allocation: Allocation) -> bool:
        """Whether all of it is done in the end, if less of it: that needs no telling."""
        families = {activity.key: activity.family or activity.key for activity in self._task.problem.activities}
        done = {(families[run.activity], run.day) for run in allocation.runs}
        return all((families[key], day) in done for key, day, _ in cut.choices)

    def _left(self) -> float:
        return self._deadline - self._clock.now_s
