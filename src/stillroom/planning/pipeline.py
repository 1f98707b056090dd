"""The one pipeline: arrivals → split → processes → timetable; a day that can't be kept goes back as a cut."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta

from stillroom.allocation.check import check as check_allocation
from stillroom.allocation.problem import Allocation, Cut
from stillroom.allocation.problem import Outcome as AllocationOutcome
from stillroom.allocation.solve import solve as allocate
from stillroom.errors import SourceError, StillroomError
from stillroom.household.folder import Folder
from stillroom.model.plan import Effort, Plan
from stillroom.model.recipe import Recipe
from stillroom.planning.batches import batches
from stillroom.planning.conflicts import FITS, Conflicts
from stillroom.planning.repair import around
from stillroom.planning.report import report
from stillroom.planning.split import Split, split
from stillroom.planning.tasks import Piece, timetable_problem
from stillroom.recipes.reader import all_recipes
from stillroom.timetable.check import check as check_timetable
from stillroom.timetable.problem import Problem as TimetableProblem
from stillroom.timetable.problem import Timetable
from stillroom.timetable.solve import solve as schedule

ROUNDS = 30
LATE_SHARE = 0.75  # of the time; after that a conflict is settled by doing less
TELL_CONFLICTS = 4
SPLIT_SHARE = 0.4  # of the time left; the rest is for the timetable and for further rounds
TIMETABLE_SHARE = 0.5
Progress = Callable[[str], None]


class NoPlan(StillroomError):  # noqa: N818 - told to the cook as it is
    """No plan was found; the message says what stands in the way."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A split and a timetable that keeps it."""

    allocation: Allocation
    problem: TimetableProblem
    pieces: Mapping[str, Piece]
    timetable: Timetable
    did_not_fit: tuple[str, ...]
    bound: float  # on the worth of any split, the hours of the days not looked at


def plan(folder: Folder, *, days: int = 7, seconds: float = 8.0, seed: int = 1, progress: Progress = print) -> Plan:
    """A checked plan of `days` days (1-14) for a household folder, found in about `seconds`.

    Raises NoPlan when no day can be kept, SourceError when a check finds our own solver wrong.
    """
    begun = time.perf_counter()
    recipes = _recipes(folder)
    task = split(folder, recipes, days)
    kept, spent = _settle(task, folder, begun, seconds, seed, progress)
    faults = (*check_allocation(task.problem, kept.allocation), *check_timetable(kept.problem, kept.timetable))
    if faults:
        raise SourceError(f"The plan does not pass its own check, so it is not shown: {faults[0]}")
    effort = Effort(
        seconds=time.perf_counter() - begun,
        split_seconds=spent[0],
        timetable_seconds=spent[1],
        rounds=spent[2],
        split_outcome=kept.allocation.outcome.value,
        timetable_outcome=kept.timetable.outcome.value,
        gap=_gap(kept.allocation, kept.bound),
    )
    return report(folder, task, kept.allocation, (kept.problem, kept.pieces, kept.timetable), kept.did_not_fit, effort)


def _recipes(folder: Folder) -> tuple[Recipe, ...]:
    """Ours and theirs; a recipe in the folder takes the place of ours of the same key."""
    own = {recipe.key: recipe for recipe in folder.recipes}
    return (*(recipe for recipe in all_recipes() if recipe.key not in own), *folder.recipes)


def _settle(
    task: Split, folder: Folder, begun: float, seconds: float, seed: int, progress: Progress
) -> tuple[Kept, tuple[float, float, int]]:
    """Splits and schedules in turn until the days can be kept."""
    conflicts = Conflicts(task, folder, seed)
    progress("looking at what each day can take")
    cuts = conflicts.beforehand()
    told: dict[str, None] = {}
    bound = float("inf")
    split_s, timetable_s = 0.0, time.perf_counter() - begun
    problem = task.with_cuts(cuts)
    for number in range(1, ROUNDS + 1):
        progress(f"splitting the food over the days (round {number})")
        allocation = allocate(problem, seconds=_share(begun, seconds, SPLIT_SHARE), seed=seed)
        split_s += allocation.seconds
        bound = min(bound, allocation.bound) if number == 1 else bound
        if allocation.outcome not in (AllocationOutcome.OPTIMAL, AllocationOutcome.FEASIBLE):
            raise NoPlan(f"No way was found to split the food ({allocation.outcome.value}); add hours, jars or days.")
        started = time.perf_counter()
        new = conflicts.alone(allocation)
        if not new:
            work = batches(task, allocation, folder)
            clock, pieces = timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, problem.days)
            progress(f"fitting {len(clock.tasks)} tasks into the days")
            timetable = schedule(clock, seconds=_share(begun, seconds, TIMETABLE_SHARE), seed=seed)
            if timetable.outcome in FITS:
                timetable_s += time.perf_counter() - started
                return Kept(allocation, clock, pieces, timetable, tuple(told), bound), (split_s, timetable_s, number)
            new = conflicts.together(timetable, work, allocation)
        timetable_s += time.perf_counter() - started
        cuts.extend(new)
        is_late = time.perf_counter() - begun > LATE_SHARE * seconds
        problem = around(task.with_cuts(cuts), allocation, new, is_late=is_late)
        words = _sentences(new, conflicts, folder)
        told |= dict.fromkeys(words)
        progress("does not fit: " + "; ".join(words[:TELL_CONFLICTS]))
    raise NoPlan(
        f"No plan that every day can keep was found in {ROUNDS} rounds; give the days more hours or less food."
    )


def _sentences(cuts: list[Cut], conflicts: Conflicts, folder: Folder) -> tuple[str, ...]:
    """Each set of runs once, whatever the size of the jars."""
    told = dict.fromkeys(
        conflicts.words(cut, lambda day: f"{folder.start + timedelta(days=day):%A}") for cut in cuts if cut.choices
    )
    return tuple(told)


def _share(begun: float, seconds: float, share: float) -> float:
    """A share of the time that is left; never less than a second, so that a late round still gets an answer."""
    return max(1.0, share * (seconds - (time.perf_counter() - begun)))


def _gap(allocation: Allocation, bound: float) -> float:
    """Share of what the plan is worth by which a better one might be better: the split's bound, hours not looked at."""
    return max(0.0, bound - allocation.objective) / max(allocation.stake, 1e-6)
