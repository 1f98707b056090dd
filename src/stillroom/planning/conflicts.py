"""Why a split can't be kept: runs that no day has room for, and runs that don't fit beside each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from itertools import product

from stillroom.allocation.problem import Activity, Allocation, Cut, Run
from stillroom.allocation.solve import likely_runs
from stillroom.household.folder import Folder
from stillroom.planning.batches import batches_of_run
from stillroom.planning.split import Split
from stillroom.planning.tasks import Batch, timetable_problem
from stillroom.timetable.problem import Outcome, Timetable
from stillroom.timetable.solve import solve as schedule

ALONE_SECONDS = 0.5
BISECTIONS = 3
LOOK_AHEAD = 3
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

    def beforehand(self) -> list[Cut]:
        """Limits of the days for what the split will most likely want to do, so that it need not be told later."""
        cuts: list[Cut] = []
        seen: set[tuple[str, int]] = set()
        for _ in range(LOOK_AHEAD):
            likely = {run for run in likely_runs(self._task.with_cuts(cuts)) if run[0] in self._task.variants} - seen
            seen |= likely
            new = [
                self._too_much(self._activities[key], day)
                for key, day in sorted(likely)
                if self._most_on(key, day) < self._activities[key].largest * (1 - 1e-6)
            ]
            cuts.extend(new)
            if not new:
                break
        return cuts

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

    def together(self, timetable: Timetable, batches: Sequence[Batch], allocation: Allocation) -> list[Cut]:
        """Cuts for every set of runs that the timetable found not to fit beside each other."""
        runs = {batch.key: batch.run for batch in batches}
        cuts: list[Cut] = []
        for conflict in (timetable.conflict, *timetable.more_conflicts):
            blamed = {run for key, run in runs.items() if key in conflict or not conflict}
            cuts.extend(self._beside([run for run in allocation.runs if (run.activity, run.day) in blamed]))
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
        clock, _ = timetable_problem(work, self._folder.kitchen, self._folder.start, self._task.problem.days)
        return schedule(clock, seconds=ALONE_SECONDS, seed=self._seed).outcome in FITS

    def _step(self, key: str) -> float:
        return self._activities[key].level_step or 1e-3
