"""Why a split can't be kept: runs that no day has room for, and runs that don't fit beside each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import product

from stillroom.allocation.problem import Activity, Allocation, Cut, Run
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches_of_run
from stillroom.planning.split import Split
from stillroom.planning.tasks import Batch, timetable_problem
from stillroom.timetable.problem import Outcome, Timetable
from stillroom.timetable.solve import solve as schedule

ALONE_SECONDS = 0.5
TOGETHER_SECONDS = 2.0
BISECTIONS = 3
MOST_CONFLICTS = 8  # looked for in one round
MOST_CUTS = 32  # for one conflict with all its jar sizes
# A conflict of several runs is cut at this share of their levels, so that a crumb less is no way round it.
CUT_SHARE = 0.7
FITS = (Outcome.OPTIMAL, Outcome.FEASIBLE)


class Conflicts:
    """Finds conflicts; remembers how much of each run a day can take, since rounds ask again and again."""

    def __init__(self, task: Split, folder: Folder, seed: int) -> None:
        self._task, self._folder, self._seed = task, folder, seed
        self._activities = {activity.key: activity for activity in task.problem.activities}
        self._families: dict[str, list[Activity]] = defaultdict(list)
        for activity in task.problem.activities:
            self._families[activity.family].append(activity)
        self._most: dict[tuple[str, int], float] = {}

    def alone(self, allocation: Allocation) -> list[Cut]:
        """A cut for every run that its day can't take even with nothing else to do, in every size of jar."""
        cuts: list[Cut] = []
        for run in allocation.runs:
            if run.activity not in self._task.variants:
                continue
            if run.level > self._most_on(run.activity, run.day) + self._step(run.activity) / 2:
                siblings = self._families[self._activities[run.activity].family]
                cuts.extend(self._too_much(sibling, run.day) for sibling in siblings if run.day in sibling.days)
        return cuts

    def together(self, batches: Sequence[Batch], allocation: Allocation) -> list[Cut]:
        """Cuts for runs that don't fit beside each other, day by day, until the rest fits."""
        cuts: list[Cut] = []
        left = list(batches)
        for _ in range(MOST_CONFLICTS):
            timetable = self._schedule(left, TOGETHER_SECONDS)
            if timetable.outcome in FITS:
                break
            blamed = {batch.run for batch in left if not timetable.conflict or batch.key in timetable.conflict}
            cuts.extend(self._beside([run for run in allocation.runs if (run.activity, run.day) in blamed]))
            left = [batch for batch in left if batch.run not in blamed]
        return cuts

    def words(self, cut: Cut, day_name: Callable[[int], str]) -> str:
        """The runs of a cut as the cook calls them."""
        return ", ".join(f"{self._activities[key].label} ({day_name(day)})" for key, day, _ in cut.choices)

    def _too_much(self, activity: Activity, day: int) -> Cut:
        most = self._most_on(activity.key, day)
        level = activity.smallest if most == 0 else most + max(self._step(activity.key), 0.01 * most)
        return Cut(((activity.key, day, level),), activity.label)

    def _beside(self, runs: Iterable[Run]) -> list[Cut]:
        """No two sizes of jar that would meet in the same conflict."""
        chosen = list(runs)
        choices = []
        for run in chosen:
            siblings = [a for a in self._families[self._activities[run.activity].family] if run.day in a.days]
            level = CUT_SHARE * run.level if len(chosen) > 1 else run.level
            choices.append([(sibling.key, run.day, max(sibling.smallest, level)) for sibling in siblings])
        if len(chosen) > 1:
            combinations = list(product(*choices))
            if len(combinations) <= MOST_CUTS:
                return [Cut(combination, "") for combination in combinations]
        return [Cut(tuple((run.activity, run.day, CUT_SHARE * run.level) for run in chosen), "")]

    def _most_on(self, key: str, day: int) -> float:
        """The largest level of an activity that a day has room for when nothing else is done."""
        if (key, day) not in self._most:
            self._most[key, day] = self._search(self._activities[key], day)
        return self._most[key, day]

    def _search(self, activity: Activity, day: int) -> float:
        batch = activity.level_per_load or activity.largest
        for count in range(max(1, round(activity.largest / batch)), 0, -1):
            if self._fits(activity.key, day, min(activity.largest, batch * count)):
                return min(activity.largest, batch * count)
        if not self._fits(activity.key, day, activity.smallest):
            return 0.0
        low, high = activity.smallest, batch
        for _ in range(BISECTIONS):
            middle = (low + high) / 2
            low, high = (middle, high) if self._fits(activity.key, day, middle) else (low, middle)
        return low

    def _fits(self, key: str, day: int, level: float) -> bool:
        activity = self._activities[key]
        loads = 1 if activity.level_per_load <= 0 else max(1, -int(-(level / activity.level_per_load - 1e-6) // 1))
        work = batches_of_run(Run(key, day, level, loads, ()), self._task.variants[key], self._folder)
        return self._schedule(work, ALONE_SECONDS).outcome in FITS

    def _schedule(self, work: Sequence[Batch], seconds: float) -> Timetable:
        keys = {batch.key for batch in work}
        alone = [replace(batch, feeds=tuple(key for key in batch.feeds if key in keys)) for batch in work]
        clock, _ = timetable_problem(alone, self._folder.kitchen, self._folder.start, self._task.problem.days)
        return schedule(clock, seconds=seconds, seed=self._seed)

    def _step(self, key: str) -> float:
        return self._activities[key].level_step or 1e-3
