"""A task of a plan moved by hand: it stays where it was put, the rest moves as little as it must, or it can't be."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta

from stillroom.errors import SourceError
from stillroom.planning.crew import MEAL_GROUP, with_sittings
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.supply import minutes_from
from stillroom.timetable.changes import bare_question
from stillroom.timetable.check import check
from stillroom.timetable.components import components
from stillroom.timetable.effort import Effort
from stillroom.timetable.near import Wishes, search_near
from stillroom.timetable.problem import Outcome, Placed, Problem, Task, Timetable
from stillroom.timetable.progress import Progress
from stillroom.timetable.replan import Moved, Replanned
from stillroom.timetable.rest import Rest, rest_of
from stillroom.timetable.ways import ways
from stillroom.timetable.why_not import why_not
from stillroom.timetable.words import Names

SECONDS = 1.5
FITS = (Outcome.OPTIMAL, Outcome.FEASIBLE)


@dataclass(frozen=True, slots=True)
class Offer:
    """What comes of a move: the new timetable, or a sentence and the rules that stand in the way."""

    found: Replanned | None
    sentence: str = ""
    rules: tuple[str, ...] = ()


def move(
    kept: KeptPlan,
    seen: Progress,
    key: str,
    start: int,
    *,
    pinned: Collection[str] = (),
    seconds: float = SECONDS,
    seed: int = 1,
) -> Offer:
    """Task `key` at minute `start` of the plan, those `pinned` where they are, and the rest as near as it can be.

    Every safety clock holds that has not run out already. ValueError for a task that is begun or done.
    """
    worked_out = kept.worked_out
    rest = rest_of(with_sittings(worked_out.problem), worked_out.timetable, seen)
    if key not in rest.open_keys:
        raise ValueError(f"{key} is begun or done: only what is to come can be moved.")
    answer = {item.task: item for item in rest.placed}
    tasks = {task.key: task for task in rest.hard.tasks}
    if sentence := _out_of_its_hours(kept, tasks[key], start, answer[key], seen):
        return Offer(None, sentence)
    stays = {other: answer[other].start for other in pinned if other in rest.open_keys} | {key: start}
    held = _held(rest.hard, answer, stays)
    part = next(p for p in components(held, ways(rest.hard)) if any(task.key == key for task in p.tasks))
    if found := _only_it(held, answer, key, start):
        return Offer(_replanned(kept, rest, held, found))
    return _searched(kept, rest, held, part, answer, Effort(seconds, seed, 2))


def _only_it(held: Problem, answer: Mapping[str, Placed], key: str, start: int) -> dict[str, Placed] | None:
    """Everything else where it is, if no rule is broken by that."""
    item = answer[key]
    moved = {**answer, key: replace(item, start=start, end=start + item.end - item.start)}
    timetable = Timetable(Outcome.FEASIBLE, tuple(moved[task.key] for task in held.tasks))
    return None if check(held, timetable) else moved


def _searched(
    kept: KeptPlan, rest: Rest, held: Problem, part: Problem, answer: Mapping[str, Placed], effort: Effort
) -> Offer:
    planned = {item.task: item for item in kept.worked_out.timetable.placed}
    keys = {task.key for task in part.tasks}
    wishes = Wishes({open_: planned[open_] for open_ in rest.open_keys if open_ in keys})
    found = search_near(part, wishes, None, effort, effort.seconds)
    if found.outcome in FITS:
        return Offer(_replanned(kept, rest, held, {**answer, **{item.task: item for item in found.placed}}))
    why = why_not(bare_question(part, names(kept), {MEAL_GROUP}), ways_seconds=0.0)
    if why.outcome is Outcome.INFEASIBLE:
        return Offer(None, why.sentence, why.rules)
    return Offer(None, "No way to fit the rest around it was found in time; try another hour.")


def _replanned(kept: KeptPlan, rest: Rest, held: Problem, placed: Mapping[str, Placed]) -> Replanned:
    timetable = Timetable(Outcome.FEASIBLE, tuple(placed[task.key] for task in held.tasks))
    if faults := check(held, timetable):
        raise SourceError(f"The move does not pass its own check, so it is not offered: {faults[0]}")
    before = {item.task: item for item in kept.worked_out.timetable.placed}
    late = {t.key: placed[t.key].end - t.due for t in held.tasks if t.due is not None}
    return Replanned(
        held,
        timetable,
        tuple(
            Moved(key, before[key], placed[key])
            for key in rest.open_keys
            if (before[key].start, before[key].worker) != (placed[key].start, placed[key].worker)
        ),
        {},
        {key: minutes for key, minutes in late.items() if minutes > 0},
        rest.open_keys,
        0,
        0.0,
    )


def held_in_place(problem: Problem, timetable: Timetable, pinned: Collection[str]) -> Problem:
    """The problem with the tasks pinned at the minutes they have."""
    placed = {item.task: item for item in timetable.placed}
    return _held(problem, placed, {key: placed[key].start for key in pinned if key in placed})


def _held(problem: Problem, answer: Mapping[str, Placed], stays: Mapping[str, int]) -> Problem:
    """The problem with some tasks at one minute only, in the way they are planned."""

    def hold(task: Task) -> Task:
        if task.key not in stays:
            return task
        start, item = stays[task.key], answer[task.key]
        return replace(task, earliest=start, latest_end=start + item.end - item.start)

    return replace(problem, tasks=tuple(hold(task) for task in problem.tasks))


def _out_of_its_hours(kept: KeptPlan, task: Task, start: int, item: Placed, seen: Progress) -> str:
    """Why a task can't be at a minute whatever else is done; empty when it might."""
    end, day = start + item.end - item.start, names(kept)
    if start < seen.now:
        return f"It is {day.clock(seen.now)} already."
    if start < task.earliest:
        return f"It can begin at {day.clock(task.earliest)} at the earliest."
    if end > task.latest_end:
        return f"It must end by {day.clock(task.latest_end)}, and takes {item.end - item.start} min."
    return ""


def names(kept: KeptPlan) -> Names:
    """Runs, days and meals of a plan as the cook calls them."""
    plan, worked_out = kept.worked_out.plan, kept.worked_out
    runs = {run.key: f"{run.name} on {run.day:%A}" for run in plan.runs}
    groups = {
        task.group: runs.get(f"{piece.run[0]}@{piece.run[1]}", task.group)
        for task in worked_out.problem.tasks
        if (piece := worked_out.pieces.get(task.key)) is not None and piece.run is not None
    }
    due = {
        minutes_from(plan.start, meal.at.date(), meal.at.time()): (f"{meal.name} is at {meal.at:%H:%M} on {meal.at:%A}")
        for meal in plan.meals
    }
    return Names(groups, lambda number: f"{plan.start + timedelta(days=number):%A}", due)
