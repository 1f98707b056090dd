"""What the food of a run would have become otherwise, what that costs, and what stands in the way of something better.

Two questions about a run, all others staying as they are: the best that still fits (a small search in whole numbers),
and the single uses that the fewest things keep from fitting.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Sequence
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
Use = tuple[Run, tuple[Shortage, ...]]  # a run and what it lacks


@dataclass(frozen=True, slots=True)
class InTheWay:
    """A single use of the food that only `shortages` keep from being done, and what it costs [worth].

    `beside`: what is done instead whatever becomes of the food, such as another dish for the meal. `missed`: portions
    more that go unserved then.
    """

    run: Run
    shortages: tuple[Shortage, ...]
    worse_by: float
    beside: tuple[Run, ...] = ()
    missed: float = 0.0


@dataclass(frozen=True, slots=True)
class NextBest:
    """What would be done instead of `gone`.

    `gone`: the run and all that take what it makes. `runs`: all that is done instead, `of_its_food` those of them that
    take food of the run, or of its meal where it takes none. `worse_by` [worth] may be negative, where the clock and
    not the sums kept it from being done. `missed`: portions more that go unserved (negative: fewer). `blocked`: single
    uses that would be better still but for what they lack, all of the same number of things, as few as can be; best
    first; where there are none and the food becomes nothing, those that lack nothing but are worth less than that.
    `room`: what must be added to pools, because the others need the room that the run makes in them.
    """

    gone: tuple[Run, ...]
    runs: tuple[Run, ...]
    of_its_food: tuple[Run, ...]
    worse_by: float
    missed: float
    blocked: tuple[InTheWay, ...]
    room: tuple[Shortage, ...] = ()

    def beside(self, runs: Sequence[Run]) -> tuple[Run, ...]:
        """All runs of the plan as it would be."""
        return (*(run for run in runs if run not in self.gone), *self.runs)


def next_best(problem: Problem, allocation: Allocation, run: Run, banned: Collection[str] = ()) -> NextBest | None:
    """The next best of a run; None where the search does not end.

    The same food into the same thing is no other use: not in other jars and not, unless it is a dish, on other days.
    `banned`: families, or activities without one, that can't be done either. Where the others need the room that the
    run makes in a pool, the pool is taken to hold so much more; `room` says what of that is needed in the end.
    """
    gone = with_its_takers(allocation, run)
    left, ledger = without(problem, allocation, gone)
    left = replace(left, activities=tuple(_others(problem, left, run, banned)))
    found = search(left, 0.0, None, seconds=SECONDS, seed=1, clock=WorkClock())
    if found.outcome not in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        return None
    names = {left_of(key): key for key in ledger.made}
    instead = tuple(_with_names(other, names) for other in found.runs)
    rest = [other for other in allocation.runs if other not in gone]
    worse_by, missed = _loss(problem, allocation.runs, (*rest, *instead))
    room = tuple(_overdrawn(problem, Ledger(problem, replace(allocation, runs=(*rest, *instead)))))
    of_its_food = tuple(_of_its_food(instead, gone))
    beside = _without_takers(replace(allocation, runs=instead), of_its_food)
    with_beside = Ledger(problem, replace(allocation, runs=(*rest, *beside)))
    is_full = bool(room) or any(_overdrawn(problem, with_beside))
    uses = [] if is_full else list(_single_uses(_without_families(left, beside), with_beside, gone[0]))

    def priced(uses: Sequence[Use]) -> list[InTheWay]:
        return [
            InTheWay(use, short, price, beside, portions)
            for use, short in uses
            for price, portions in [_loss(problem, allocation.runs, (*rest, *beside, use))]
        ]

    blocked = _fewest_lacking(uses, priced, worse_by, is_any=not of_its_food)
    return NextBest(gone, instead, of_its_food, worse_by, missed, blocked, room)


def _loss(problem: Problem, before: Sequence[Run], after: Sequence[Run]) -> tuple[float, float]:
    """Worth that is lost, and portions more that go unserved."""
    missed = _portions(unmet_of(problem, after)) - _portions(unmet_of(problem, before))
    return worth_of_runs(problem, before) - worth_of_runs(problem, after), missed


def _without_takers(allocation: Allocation, runs: Sequence[Run]) -> tuple[Run, ...]:
    """What can stay without some runs."""
    dropped = [taker for run in runs for taker in with_its_takers(allocation, run)]
    return tuple(run for run in allocation.runs if run not in dropped)


def _without_families(left: Problem, runs: Sequence[Run]) -> Problem:
    """The problem without the like of what is done: it would be too often."""
    families = {activity.key: activity.family or activity.key for activity in left.activities}
    done = {families[run.activity] for run in runs}
    return replace(left, activities=tuple(one for one in left.activities if families[one.key] not in done))


def _overdrawn(problem: Problem, ledger: Ledger) -> Iterator[Shortage]:
    """Pools that hold less than is put into them."""
    for pool in problem.pools:
        free = ledger.pool_free(pool.name, 0)
        if free < -1e-6 * max(1.0, pool.amount):
            yield Shortage(pool.name, None, -free, 0.0)


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


def _fewest_lacking(
    uses: Sequence[Use], priced: Callable[[Sequence[Use]], list[InTheWay]], than: float, *, is_any: bool
) -> tuple[InTheWay, ...]:
    """Uses that cost less `than` that and lack as few things as can be; else, if any will do, those that lack none."""
    for count in sorted({len(short) for _, short in uses if short}):
        better = [way for way in priced([use for use in uses if len(use[1]) == count]) if way.worse_by < than]
        if better:
            return tuple(sorted(better, key=lambda way: way.worse_by))
    free = priced([use for use in uses if not use[1]]) if is_any else []
    return tuple(sorted(free, key=lambda way: way.worse_by))


def _single_uses(left: Problem, ledger: Ledger, gone: Run) -> Iterator[Use]:
    """Each single use of the food of a run by itself, dishes aside, with what it lacks."""
    for activity in left.activities:
        for day in activity.days if not activity.servings else ():
            run = _alone(activity, day, ledger, gone) if is_inside(left, activity, day) else None
            if run is not None:
                yield run, ledger.shortages(activity, day, 0.0, run.level)


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
