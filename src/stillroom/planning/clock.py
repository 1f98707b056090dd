"""Tasks and meals of a plan by the clock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta

from stillroom.allocation.problem import Allocation
from stillroom.household.folder import Folder
from stillroom.model.plan import PlannedMeal, PlannedTask
from stillroom.planning.batches import meal_of
from stillroom.planning.runs import run_key
from stillroom.planning.split import Split
from stillroom.planning.supply import minutes_from, moment
from stillroom.planning.tasks import Piece
from stillroom.timetable.problem import Problem, Timetable

PORTION_TOLERANCE = 0.02


def planned_tasks(
    problem: Problem, pieces: Mapping[str, Piece], timetable: Timetable, start: date
) -> tuple[PlannedTask, ...]:
    """Every task with its times, person, equipment and the safety clock it must keep."""
    tasks = {task.key: task for task in problem.tasks}
    clocks: dict[str, list[str]] = defaultdict(list)
    for lag in problem.lags:
        if lag.is_safety and lag.max_lag is not None:
            clocks[lag.after].append(f"within {_time_words(lag.max_lag)}: {lag.reason}" if lag.max_lag else lag.reason)
    found = []
    for placed in sorted(timetable.placed, key=lambda placed: (placed.start, placed.end, placed.task)):
        if placed.task not in pieces:  # a meal or a rest
            continue
        task, piece = tasks[placed.task], pieces[placed.task]
        found.append(
            PlannedTask(
                start=moment(start, placed.start),
                end=moment(start, placed.end),
                text=piece.text,
                run=f"{piece.run[0]}@{piece.run[1]}" if piece.run else "",
                attention=task.attention,
                person=placed.worker,
                equipment=tuple(_words(d.resource, d.amount, d.setting) for d in task.modes[placed.mode].demands),
                must_follow="; ".join(clocks[placed.task]),
                key=placed.task,
                recipe_min=None
                if piece.sigma is None or piece.recipe_min == placed.end - placed.start
                else piece.recipe_min,
            )
        )
    return tuple(found)


def planned_meals(
    folder: Folder, task: Split, allocation: Allocation, tasks: Sequence[PlannedTask], chances: Mapping[int, float]
) -> tuple[PlannedMeal, ...]:
    """Every meal within the plan with its dishes and the minute the last of them is done.

    `chances` of being on time are by the minute of the meal.
    """
    ends: dict[str, datetime] = {}
    for planned in tasks:
        ends[planned.run] = max(planned.end, ends.get(planned.run, planned.end))
    served: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for run in allocation.runs:
        if run.activity in task.variants:
            variant = task.variants[run.activity]
            meal = meal_of(run, variant, folder)
            if meal is not None:
                served[meal.key].append((variant.recipe.name, run_key(run)))
    missing: dict[str, list[str]] = defaultdict(list)
    for key, role, portions in allocation.unmet:
        if portions > PORTION_TOLERANCE:
            missing[key].append(f"{role.split(' at ')[0]} ({portions:.1f} portions)")
    last = folder.start + timedelta(days=task.problem.days)
    return tuple(
        PlannedMeal(
            name=meal.name,
            at=datetime.combine(meal.day, meal.at),
            portions=meal.portions,
            dishes=tuple(name for name, _ in served[meal.key]),
            missing=tuple(missing[meal.key]),
            ready=max((ends[key] for _, key in served[meal.key] if key in ends), default=None),
            runs=tuple(key for _, key in served[meal.key]),
            chance=chances.get(minutes_from(folder.start, meal.day, meal.at)),
        )
        for meal in sorted(folder.household.meals, key=lambda meal: (meal.day, meal.at))
        if folder.start <= meal.day < last
    )


def _time_words(minutes: int) -> str:
    """Hours where that reads better: 12 h, not 720 min."""
    return f"{minutes / 60:g} h" if minutes >= 120 else f"{minutes} min"


def _words(resource: str, amount: int, setting: str) -> str:
    words = resource if amount == 1 else f"{amount} × {resource}"
    return f"{words} at {setting}" if setting else words
