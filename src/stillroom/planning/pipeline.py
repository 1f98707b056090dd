"""The one pipeline: arrivals → split → processes → timetable; what the days don't hold goes back as a cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.allocation.check import check as check_allocation
from stillroom.allocation.problem import Allocation, Run
from stillroom.errors import SourceError
from stillroom.household.folder import Folder
from stillroom.model.plan import Effort, Plan
from stillroom.model.recipe import Recipe
from stillroom.model.wish import Wish
from stillroom.planning.by_hand import with_wishes
from stillroom.planning.by_hand_answer import FORBIDS, WishAnswers
from stillroom.planning.next_bests import NextBests, with_next_bests
from stillroom.planning.own_pace import at_own_pace, pace_notes
from stillroom.planning.report import report
from stillroom.planning.settling import Progress, Settling
from stillroom.planning.split import split
from stillroom.planning.tasks import Piece
from stillroom.planning.why_not import WhyNots, with_pointers
from stillroom.recipes.reader import all_recipes
from stillroom.timetable.check import check as check_timetable
from stillroom.timetable.problem import Problem as TimetableProblem
from stillroom.timetable.problem import Timetable
from stillroom.work_clock import WorkClock

WHY_SECONDS, WHY_SHARE = 1.0, 0.1  # at most, and of all seconds
READY_S = 0.5  # to load the solvers and to work out what can become of the food
TOLD_SHARE = 0.15  # of all seconds, to load the program before, and to write the plan afterwards


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """A plan with what it was worked out from, for whoever moves a part of it later."""

    plan: Plan
    runs: tuple[Run, ...]  # of the split
    problem: TimetableProblem
    pieces: Mapping[str, Piece]  # by task
    timetable: Timetable


def plan(
    folder: Folder,
    *,
    days: int = 7,
    seconds: float = 10.0,
    seed: int = 1,
    progress: Progress = print,
    is_explained: bool = True,
) -> Plan:
    """The plan alone: see `work_out`."""
    return work_out(folder, days=days, seconds=seconds, seed=seed, progress=progress, is_explained=is_explained).plan


def work_out(
    folder: Folder,
    *,
    days: int = 7,
    seconds: float = 10.0,
    seed: int = 1,
    progress: Progress = print,
    is_explained: bool = True,
    wishes: Sequence[Wish] = (),
) -> WorkedOut:
    """A checked plan of `days` days (1-14) for a household folder, found in about `seconds`, and where it comes from.

    Seconds are counted by the work that is done in them: the same folder, seconds and seed have the same plan on any
    machine, busy or idle, unless that takes four times as long; then the search ends sooner.

    `wishes` of the cook are kept where food, kitchen and hours allow; the plan answers each. Safety never gives way.
    `is_explained`: a moment more goes into why hours keep things from being done, and what it would take.
    Raises NoPlan when no day can be kept, SourceError when a check finds our own solver wrong.
    """
    clock = WorkClock()
    clock.charge(READY_S)
    why_s = min(WHY_SECONDS, WHY_SHARE * seconds) if is_explained else 0.0
    recipes = known_recipes(folder)
    before = split(folder, recipes, days)
    task = with_wishes(before, wishes, folder.start)
    found = Settling(task, folder, clock, (1 - TOLD_SHARE) * seconds - why_s, seed, progress).settle()
    secured = found.secured
    faults = (*check_allocation(task.problem, found.allocation), *check_timetable(secured.problem, secured.timetable))
    if faults:
        raise SourceError(f"The plan does not pass its own check, so it is not shown: {faults[0]}")
    effort = Effort(
        seconds=clock.now_s,
        split_seconds=found.split_seconds,
        timetable_seconds=found.timetable_seconds,
        rounds=found.rounds,
        timetable_outcome=secured.timetable.outcome.value,
        gap=_gap(found.allocation, found.bound),
    )
    made = report(folder, task, found, effort)
    made = replace(made, warnings=(*made.warnings, *pace_notes(recipes, folder.times, folder.start)))
    if is_explained:
        progress("looking for what it would take to do more")
        not_done = WhyNots(task, folder, found.allocation, seed, clock).tell(made.left, why_s)
        made = replace(made, left=with_pointers(made.left, not_done), not_done=not_done)
        progress("looking for what else the food could have become")
        made = with_next_bests(made, NextBests(task, folder, found.allocation, seed), found.allocation.runs)
    answers = WishAnswers(before, task, folder, found.allocation, made, clock).of(wishes)
    broken = [answer.words for answer in answers if answer.wish.kind in FORBIDS and not answer.is_kept]
    if broken:
        raise SourceError(f"The plan does what was forbidden, so it is not shown: {broken[0]}")
    made = replace(made, wishes=answers)
    return WorkedOut(made, found.allocation.runs, secured.problem, found.pieces, secured.timetable)


def known_recipes(folder: Folder) -> tuple[Recipe, ...]:
    """Ours and theirs, at their pace; a recipe in the folder takes the place of ours of the same key."""
    own = {recipe.key: recipe for recipe in folder.recipes}
    found = (*(recipe for recipe in all_recipes() if recipe.key not in own), *folder.recipes)
    return at_own_pace(found, folder.times, folder.start)


def _gap(allocation: Allocation, bound: float) -> float:
    """Share of what the plan is worth by which a better one might be better: the split's bound, hours not looked at."""
    return max(0.0, bound - allocation.objective) / max(allocation.stake, 1e-6)
