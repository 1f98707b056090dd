"""The search for a plan: a split, what the days hold of it, again without what they did not; then timetables."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta

from stillroom.allocation.problem import Allocation, Cut, Run
from stillroom.allocation.solve import look
from stillroom.household.folder import Folder
from stillroom.planning.assuring import Assuring
from stillroom.planning.holding import Held, Holding, NoPlan
from stillroom.planning.split import Split
from stillroom.planning.tasks import Piece
from stillroom.timetable.secure import Secured
from stillroom.work_clock import WorkClock

__all__ = ["NoPlan", "Progress", "Settled", "Settling"]

ROUNDS = 12
TELL_DROPPED = 4
ASSURE_S, ASSURE_SHARE = 3.0, 0.4  # for the timetables with more and less slack: at most, and of the time
FIT_S = 2.0  # at least: no food is given away for a few seconds
WORTH_MORE = 0.05  # in the currency of worth: a plan that is better by less is no better

Progress = Callable[[str], None]


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
        self._holding = Holding(task, folder, seed, clock)
        self._activities = {activity.key: activity for activity in task.problem.activities}
        self._dropped: dict[tuple[str, int], Run] = {}  # by recipe and day

    def settle(self) -> Settled:
        """The best plan found in time; NoPlan when the food can't be split at all."""
        begun = self._clock.now_s
        relaxed = look(self._task.problem, self._clock)
        held, rounds = self._best()
        assuring = Assuring(self._task, self._folder, self._holding, self._clock, self._seed)
        assured = assuring.assure(held, self._deadline, self._progress)
        if assured is None:
            raise NoPlan("No timetable was found in the time; try again with more --seconds.")
        return Settled(
            assured.allocation,
            assured.pieces,
            assured.secured,
            assured.left_out,
            did_not_fit=self._not_done(assured.allocation),
            bound=relaxed.bound if relaxed is not None else held.allocation.bound,
            split_seconds=self._holding.split_s,
            timetable_seconds=self._clock.now_s - begun - self._holding.split_s,
            rounds=rounds,
        )

    def _best(self) -> tuple[Held, int]:
        """The best of some rounds; in each is ruled out what the days did not hold in those before."""
        best: Held | None = None
        cuts: list[Cut] = []
        left = self._deadline - self._clock.now_s
        until = self._deadline - min(ASSURE_S, ASSURE_SHARE * left)
        for number in range(1, ROUNDS + 1):
            begun = self._clock.now_s
            self._progress(f"splitting the food over the days (round {number})")
            allocation = self._holding.split(self._task.with_cuts(cuts))
            if best is not None and allocation.objective < best.allocation.objective + WORTH_MORE:
                break
            self._progress(f"fitting it into the days (round {number})")
            held = self._holding.held(allocation, max(until, self._clock.now_s + FIT_S))
            cuts.extend(self._cuts(allocation, held))
            if best is None or held.allocation.objective > best.allocation.objective + WORTH_MORE:
                best = held
                self._progress(f"a plan is there: {self._gone_words(held.allocation)}; looking for a better one")
            if 2 * self._clock.now_s - begun > until:
                break
        assert best is not None
        return best, number

    def _cuts(self, allocation: Allocation, held: Held) -> list[Cut]:
        """A cut for each run that was tried and that the days did not hold as it was, beside what they held."""
        done = {(run.activity, run.day): run.level for run in held.allocation.runs}
        dropped = [
            run
            for run in allocation.runs
            if run.activity in self._task.variants
            and (run.activity, run.day) not in held.untried
            and run.level > done.get((run.activity, run.day), 0.0) * (1 + 1e-6)
        ]
        self._dropped |= {self._place(run): run for run in dropped}
        words = [self._words(run) for run in dropped]
        if words:
            self._progress("does not fit: " + "; ".join(words[:TELL_DROPPED]))
        return [Cut(((run.activity, run.day, run.level),)) for run in dropped]

    def _not_done(self, allocation: Allocation) -> tuple[str, ...]:
        """What did not fit and is not done in the end, less of it neither."""
        done = {self._place(run) for run in allocation.runs}
        return tuple(dict.fromkeys(self._words(run) for place, run in self._dropped.items() if place not in done))

    def _place(self, run: Run) -> tuple[str, int]:
        return self._activities[run.activity].family or run.activity, run.day

    def _words(self, run: Run) -> str:
        return f"{self._activities[run.activity].label} ({self._folder.start + timedelta(days=run.day):%A})"

    def _gone_g(self, allocation: Allocation) -> float:
        """Of the food what nobody at home would eat."""
        given = (run for run in allocation.runs if run.activity not in self._task.variants)
        lost = sum(grams for _, grams in allocation.spoiled)
        return sum(taken.grams for run in given for taken in run.taken) + lost

    def _gone_words(self, allocation: Allocation) -> str:
        missing = f", {len(allocation.unmet)} dishes are missing" if allocation.unmet else ", no dish is missing"
        return f"{self._gone_g(allocation) / 1000:.0f} kg would be given away{missing}"
