"""A plan that is under way: what really happened is held fast, what follows makes way at once.

Nothing is sought anew: everyone keeps to the order of the timetable and to their own tasks, and starts as soon after
the planned minute as what came before allows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from stillroom.allocation.reasons import amount_text
from stillroom.model.plan import PlannedMeal, PlannedTask
from stillroom.planning.clock import planned_tasks
from stillroom.planning.pipeline import WorkedOut
from stillroom.planning.what_now import what_now
from stillroom.timetable.network import in_order, network
from stillroom.timetable.problem import Lag, Placed, Problem, Timetable
from stillroom.timetable.propagate import Repair
from stillroom.timetable.spread import EXACT


@dataclass(frozen=True, slots=True)
class Fact:
    """Minutes of the plan at which a task began and ended, or will end as far as is known."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if self.end < self.start:
            raise ValueError(f"A task can't end ({self.end}) before it begins ({self.start}).")


def under_way(worked_out: WorkedOut, facts: Mapping[str, Fact]) -> WorkedOut:
    """The plan with the facts [by task] and with what follows from them; without any it is the plan itself."""
    known = {placed.task for placed in worked_out.timetable.placed}
    facts = {key: fact for key, fact in facts.items() if key in known}
    if not facts:
        return worked_out
    return with_timetable(worked_out, _propagated(worked_out.problem, worked_out.timetable, facts))


def with_timetable(worked_out: WorkedOut, timetable: Timetable) -> WorkedOut:
    """The plan with other times of its tasks, and of the dishes of its meals."""
    plan = worked_out.plan
    tasks = planned_tasks(worked_out.problem, worked_out.pieces, timetable, plan.start)
    meals = tuple(_served(meal, tasks) for meal in plan.meals)
    return replace(worked_out, plan=replace(plan, tasks=tasks, meals=meals), timetable=timetable)


@dataclass(frozen=True, slots=True)
class BrokenClock:
    """A safety clock that can't be kept any more, in words, and what to do with the food."""

    words: str
    do: str


def broken_clocks(worked_out: WorkedOut) -> tuple[BrokenClock, ...]:
    """Every safety clock that the timetable does not keep."""
    spans = {placed.task: placed for placed in worked_out.timetable.placed}
    return tuple(
        _broken(worked_out, lag, spans[lag.after].start - spans[lag.before].end)
        for lag in worked_out.problem.lags
        if lag.is_safety
        and lag.max_lag is not None
        and lag.before in spans
        and lag.after in spans
        and spans[lag.after].start - spans[lag.before].end > lag.max_lag
    )


def _propagated(problem: Problem, timetable: Timetable, facts: Mapping[str, Fact]) -> Timetable:
    net = network(problem, in_order(problem, timetable.placed))
    minutes = np.array([[node.minutes] for node in net.nodes], dtype=np.int64)
    fixed = {net.position[key]: (fact.start, fact.end) for key, fact in facts.items()}
    days = Repair(net, {task.key: EXACT for task in problem.tasks}).days(minutes, fixed=fixed)
    placed = tuple(
        Placed(
            node.task.key,
            int(days.starts[number, 0]),
            int(days.ends[number, 0]),
            node.placed.mode,
            days.persons[days.who[number, 0]] if days.who[number, 0] >= 0 else None,
        )
        for number, node in enumerate(net.nodes)
    )
    return replace(timetable, placed=placed)


def _served(meal: PlannedMeal, tasks: Sequence[PlannedTask]) -> PlannedMeal:
    ends = [task.end for task in tasks if task.run in meal.runs]
    return replace(meal, ready=max(ends, default=meal.ready)) if meal.runs else meal


def _broken(worked_out: WorkedOut, lag: Lag, wait_min: int) -> BrokenClock:
    piece = worked_out.pieces.get(lag.after)
    key = f"{piece.run[0]}@{piece.run[1]}" if piece is not None and piece.run else ""
    run = next((run for run in worked_out.plan.runs if run.key == key), None)
    reason = f" ({lag.reason})" if lag.reason else ""
    name = f"{run.name}: " if run else ""
    passed, allowed = amount_text(wait_min, "min"), amount_text(lag.max_lag or 0, "min")
    words = f"{name}{passed} between two steps that allow {allowed}{reason}."
    do = what_now(piece.hold if piece else "", lag.reason, is_in_jars=run is not None and run.jars > 0)
    return BrokenClock(words, do)
