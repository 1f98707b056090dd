"""Why a split can't be kept: runs that no day has room for, and runs that don't fit beside each other."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence, Set
from dataclasses import replace

from stillroom.allocation.opening import loads_of
from stillroom.allocation.problem import Activity, Allocation, Cut, Run
from stillroom.allocation.solve import look
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches_of_run
from stillroom.planning.split import Split
from stillroom.planning.tasks import Batch, timetable_problem
from stillroom.planning.wishes import wished
from stillroom.timetable.problem import Outcome, Timetable
from stillroom.timetable.solve import can_be_kept
from stillroom.work_clock import WorkClock

ALONE_SECONDS = 0.5
BISECTIONS = 3
LOOK_AHEAD = 2
# The runs beside the one that gives way are cut at this share of their levels: a crumb less is no way round.
CUT_SHARE = 0.6
WISHED_ROOM = -1.0  # less than a dish: the cook has asked for it and is told which meal goes without
RunId = tuple[str, int]  # activity and day
FITS = (Outcome.OPTIMAL, Outcome.FEASIBLE)


class Conflicts:
    """Finds conflicts; remembers how much of each run a day can take, since rounds ask again and again."""

    def __init__(self, task: Split, folder: Folder, seed: int, clock: WorkClock) -> None:
        self._task, self._folder, self._seed, self._clock = task, folder, seed, clock
        self._activities = {activity.key: activity for activity in task.problem.activities}
        self._families: dict[str, list[Activity]] = defaultdict(list)
        for activity in task.problem.activities:
            self._families[activity.family].append(activity)
        self._most: dict[tuple[str, int], float] = {}
        self._wished = wished(task.problem)

    def beforehand(self) -> tuple[list[Cut], float]:
        """Limits of the days for what the split will most likely want to do; and the most any split can be worth."""
        cuts: list[Cut] = []
        seen: set[tuple[str, int]] = set()
        bound = float("inf")
        for _ in range(LOOK_AHEAD):
            relaxed = look(self._task.with_cuts(cuts), self._clock)
            if relaxed is None:
                break
            bound = min(bound, relaxed.bound) if not cuts else bound
            likely = {run for run in relaxed.done if run[0] in self._task.variants} - seen
            seen |= likely
            new = [
                self._too_much(self._activities[key], day)
                for key, day in sorted(likely)
                if self._most_on(key, day) < self._activities[key].largest * (1 - 1e-6)
            ]
            cuts.extend(new)
            if not new:
                break
        return cuts, bound

    def alone(self, allocation: Allocation) -> list[Cut]:
        """A cut for every run that its day can't take even with nothing else to do, in every size of jar."""
        cuts: list[Cut] = []
        for run in allocation.runs:
            if run.activity not in self._task.variants:
                continue
            if run.level > self._most_on(run.activity, run.day) * (1 + 1e-6):
                siblings = self._families[self._activities[run.activity].family]
                cuts.append(Cut(((run.activity, run.day, run.level),), ""))
                cuts.extend(self._too_much(sibling, run.day) for sibling in siblings if run.day in sibling.days)
        return cuts

    def together(
        self, timetable: Timetable, batches: Sequence[Batch], allocation: Allocation, *, is_desperate: bool
    ) -> list[Cut]:
        """For every set of runs that the timetable found not to fit beside each other, a cut that leaves one out.

        It is not made smaller: that takes many rounds. Once there is a plan, an improvement may bring it back. When
        many rounds have failed it is not done that day at all, whatever else is.
        """
        run_of = {batch.key: batch.run for batch in batches}
        cuts: list[Cut] = []
        for conflict in (timetable.conflict, *timetable.more_conflicts):
            blamed = {run for key, run in run_of.items() if key in conflict or not conflict}
            runs = [run for run in allocation.runs if (run.activity, run.day) in blamed]
            if runs:
                last = max(runs, key=self._room_to_give)
                others = [] if is_desperate else [run for run in runs if run is not last]
                chosen = [(run.activity, run.day, CUT_SHARE * run.level) for run in others]
                least = self._activities[last.activity].smallest
                cuts.append(Cut((*chosen, (last.activity, last.day, least)), ""))
        return cuts

    def added(self, before: Allocation, after: Allocation, batches: Sequence[Batch]) -> tuple[list[Run], list[Cut]]:
        """Of an improvement what fits beside a plan that holds, largest first; and cuts for what does not."""
        run_of = {batch.key: batch.run for batch in batches}
        feeds = {(batch.run, run_of[fed]) for batch in batches for fed in batch.feeds}
        levels = {(run.activity, run.day): run.level for run in before.runs}
        runs = [run for run in after.runs if run.activity in self._task.variants]
        kept = [run for run in runs if run.level <= levels.get((run.activity, run.day), 0.0) * (1 + 1e-6)]
        cuts: list[Cut] = []
        for run in sorted((run for run in runs if run not in kept), key=_grams, reverse=True):
            if self._fit_together([*kept, run], feeds):
                kept.append(run)
                continue
            activity, had = self._activities[run.activity], levels.get((run.activity, run.day), 0.0)
            cuts.append(Cut(((run.activity, run.day, min(run.level, self._next(activity, had))),), ""))
            if had:
                kept.append(replace(run, level=had, loads=loads_of(activity, had)))
        return kept, cuts

    def words(self, cut: Cut, day_name: Callable[[int], str]) -> str:
        """The runs of a cut as the cook calls them."""
        return ", ".join(f"{self._activities[key].label} ({day_name(day)})" for key, day, _ in cut.choices)

    def _too_much(self, activity: Activity, day: int) -> Cut:
        most = self._most_on(activity.key, day)
        return Cut(((activity.key, day, self._next(activity, most)),), "")

    def _next(self, activity: Activity, most: float) -> float:
        """The first level above `most`."""
        return activity.smallest if most == 0 else most + max(activity.level_step, 0.02 * most)

    def _room_to_give(self, run: Run) -> float:
        """How often its smallest batch goes into a run; a dish has no room, and what is wished less."""
        activity = self._activities[run.activity]
        if run.activity in self._wished:
            return WISHED_ROOM
        return 0.0 if activity.servings else run.level / activity.smallest

    def _most_on(self, key: str, day: int) -> float:
        """The largest level of an activity that a day has room for when nothing else is done."""
        if (key, day) not in self._most:
            activity = self._activities[key]

            def fits(level: float) -> bool:
                return self._fit_together([_run(activity, day, level)], set())

            self._most[key, day] = self._search(activity, activity.largest, fits)
        return self._most[key, day]

    def _search(self, activity: Activity, top: float, fits: Callable[[float], bool]) -> float:
        """The largest level up to `top` that fits: whole batches first, then parts of one; 0 if none does."""
        batch = activity.level_per_load or activity.largest
        for count in range(max(1, math.ceil(top / batch - 1e-6)), 0, -1):
            level = min(top, batch * count)
            if fits(level):
                return level
        if not fits(activity.smallest):
            return 0.0
        low, high = activity.smallest, min(top, batch)
        for _ in range(BISECTIONS):
            middle = _whole(activity, (low + high) / 2)
            low, high = (middle, high) if fits(middle) else (low, middle)
        return low

    def _fit_together(self, runs: Iterable[Run], feeds: Set[tuple[RunId, RunId]]) -> bool:
        folder = self._folder
        made = [batches_of_run(run, self._task.variants[run.activity], folder) for run in runs]
        keys = {work[0].run: tuple(batch.key for batch in work) for work in made}
        linked = [
            replace(
                batch, feeds=tuple(key for run, found in keys.items() if (batch.run, run) in feeds for key in found)
            )
            for work in made
            for batch in work
        ]
        clock, _ = timetable_problem(
            linked, folder.kitchen, folder.household.meals, folder.start, self._task.problem.days
        )
        return can_be_kept(clock, seconds=ALONE_SECONDS, seed=self._seed, clock=self._clock)


def _grams(run: Run) -> float:
    return sum(taken.grams for taken in run.taken)


def _run(activity: Activity, day: int, level: float) -> Run:
    return Run(activity.key, day, level, loads_of(activity, level), ())


def _whole(activity: Activity, level: float) -> float:
    """The level in whole jars, rounded down."""
    step = activity.level_step
    return math.floor(level / step + 1e-6) * step if step > 0 else level
