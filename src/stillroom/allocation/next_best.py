"""What the food of a run would have become otherwise, what that costs, and what stands in the way of something better.

Two questions about a run, all others staying as they are: the best that still fits (a small search in whole numbers),
and the best single use that only one thing keeps from fitting.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from stillroom.allocation.answer import unmet_of, worth_of
from stillroom.allocation.opening import SLACK, is_inside, loads_of
from stillroom.allocation.problem import Activity, Allocation, Outcome, Problem, Run, Taken
from stillroom.allocation.residual import left_of, with_its_takers, without
from stillroom.allocation.shortages import Ledger, Shortage
from stillroom.allocation.solve import search
from stillroom.work_clock import WorkClock

SECONDS = 2.0  # of counted work, hardly ever reached: what is left of a week is small
LEAST_G = 50.0
LEAST_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class InTheWay:
    """A single use of the food that only `shortage` keeps from being done, and what it costs [worth]."""

    activity: Activity
    day: int
    level: float
    shortage: Shortage
    worse_by: float


@dataclass(frozen=True, slots=True)
class NextBest:
    """What would be done instead of `gone`.

    `gone`: the run and all that take what it makes. `runs`: all that is done instead, `of_its_food` those of them that
    take food of the run, or of its meal where it takes none. `worse_by` [worth] may be negative, where the clock and
    not the sums kept it from being done. `missed`: portions more that go unserved (negative: fewer). `blocked`: what
    would be better still but for one thing.
    """

    gone: tuple[Run, ...]
    runs: tuple[Run, ...]
    of_its_food: tuple[Run, ...]
    worse_by: float
    missed: float
    blocked: InTheWay | None

    def beside(self, runs: Sequence[Run]) -> tuple[Run, ...]:
        """All runs of the plan as it would be."""
        return (*(run for run in runs if run not in self.gone), *self.runs)


def next_best(problem: Problem, allocation: Allocation, run: Run, banned: Collection[str] = ()) -> NextBest | None:
    """The next best of a run; None where the other runs can't stay without it, because they need the room it makes.

    The same food into the same thing is no other use: not in other jars and not, unless it is a dish, on other days.
    `banned`: families, or activities without one, that can't be done either.
    """
    gone = with_its_takers(allocation, run)
    left, ledger = without(problem, allocation, gone)
    if any(ledger.pool_free(pool.name, 0) < -1e-6 * max(1.0, pool.amount) for pool in problem.pools):
        return None
    left = replace(left, activities=tuple(_others(problem, left, run, banned)))
    found = search(left, 0.0, None, seconds=SECONDS, seed=1, clock=WorkClock())
    if found.outcome not in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        return None
    names = {left_of(key): key for key in ledger.made}
    instead = tuple(_with_names(other, names) for other in found.runs)
    before = worth_of_runs(problem, allocation.runs)
    rest = [other for other in allocation.runs if other not in gone]
    worse_by = before - worth_of_runs(problem, (*rest, *instead))
    missed = _portions(found.unmet) - _portions(unmet_of(problem, allocation.runs))
    blocked = _blocked(left, ledger, rest, gone, before)
    if blocked is not None and blocked.worse_by >= worse_by:
        blocked = None
    return NextBest(gone, instead, tuple(_of_its_food(instead, gone)), worse_by, missed, blocked)


def _portions(unmet: Sequence[tuple[str, str, float]]) -> float:
    return sum(portions for _, _, portions in unmet)


def worth_of_runs(problem: Problem, runs: Sequence[Run]) -> float:
    """What runs are worth, the rest of the food left to spoil."""
    ledger = Ledger(problem, Allocation(Outcome.FEASIBLE, tuple(runs), (), (), ()))
    return worth_of(problem, runs, ledger.spoiled(), unmet_of(problem, runs))


def _others(problem: Problem, left: Problem, run: Run, banned: Collection[str]) -> Iterator[Activity]:
    """What is left to do but the run and its like."""
    mine = next(activity for activity in problem.activities if activity.key == run.activity)
    for activity in left.activities:
        days = activity.days
        if (activity.family or activity.key) == (mine.family or mine.key):
            days = tuple(day for day in days if mine.servings and day != run.day)
        if days and (activity.family or activity.key) not in banned:
            yield replace(activity, days=days)


def _of_its_food(runs: Sequence[Run], gone: Sequence[Run]) -> Iterator[Run]:
    """Runs that take food of the first that is gone, largest first; all where it took none."""
    items = {part.item for part in gone[0].taken}

    def grams(run: Run) -> float:
        return sum(part.grams for part in run.taken if part.item in items)

    for run in sorted(runs, key=lambda run: (-grams(run), run.day, run.activity)):
        if not items or grams(run) > LEAST_G:
            yield run


def _with_names(run: Run, names: dict[str, str]) -> Run:
    return replace(run, taken=tuple(replace(part, lot=names.get(part.lot, part.lot)) for part in run.taken))


def _blocked(left: Problem, ledger: Ledger, rest: Sequence[Run], gone: Sequence[Run], before: float) -> InTheWay | None:
    """Of all single uses of the food of a run that lack one thing, dishes aside, the one that is worth most."""
    best: InTheWay | None = None
    for activity in left.activities:
        for day in activity.days if not activity.servings else ():
            run = _alone(activity, day, ledger, gone[0]) if is_inside(left, activity, day) else None
            if run is None:
                continue
            shortages = ledger.shortages(activity, day, 0.0, run.level)
            if len(shortages) == 1:
                worse_by = before - worth_of_runs(ledger.problem, (*rest, run))
                if best is None or worse_by < best.worse_by:
                    best = InTheWay(activity, day, run.level, shortages[0], worse_by)
    return best


def _alone(activity: Activity, day: int, ledger: Ledger, gone: Run) -> Run | None:
    """The largest run on a day by what is left of food that `gone` took, and of other food; None if there is none."""
    items = {part.item for part in gone.taken}
    if not any(items.intersection(needed.items) for needed in activity.inputs):
        return None
    there = ledger.left_on(day)
    level = activity.largest
    for needed in activity.inputs:
        if needed.grams_per_level > 0:
            grams = sum(there[lot] for lot in there if ledger.item_of(lot) in needed.items)
            level = min(level, grams / needed.grams_per_level)
    if activity.level_step > 0:
        level = math.floor(level / activity.level_step + SLACK) * activity.level_step
    if level < activity.smallest or level <= SLACK:
        return None
    taken = _fed(activity, level, there, ledger)
    return Run(activity.key, day, level, loads_of(activity, level), taken) if taken is not None else None


def _fed(activity: Activity, level: float, there: dict[str, float], ledger: Ledger) -> tuple[Taken, ...] | None:
    """Grams for each input, what goes off first first; None where inputs that share food can't all be fed so."""
    taken: list[Taken] = []
    for needed in sorted(activity.inputs, key=lambda needed: len(needed.items)):
        wanted = needed.grams_per_level * level
        for lot, left in there.items():
            if ledger.item_of(lot) in needed.items and left > 0 and wanted > 0:
                part = min(left, wanted)
                there[lot] -= part
                wanted -= part
                taken.append(Taken(lot, ledger.item_of(lot), part))
        if wanted > LEAST_SHARE * needed.grams_per_level * level:
            return None
    return tuple(taken)
