"""Runs of the split as batches, each with the meal it must be ready for and the batches it feeds."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import timedelta

from stillroom.allocation.problem import Allocation, Run, lot_made
from stillroom.household.folder import Folder
from stillroom.model.household import Meal
from stillroom.planning.split import Split
from stillroom.planning.supply import minutes_from
from stillroom.planning.tasks import Batch
from stillroom.planning.variants import Variant


def batches(task: Split, allocation: Allocation, folder: Folder) -> tuple[Batch, ...]:
    """Every batch of every run that has steps; giving away has none."""
    runs = [run for run in allocation.runs if run.activity in task.variants]
    outputs = {activity.key: activity.outputs for activity in task.problem.activities}
    keys = {(run.activity, run.day): batch_keys(run) for run in runs}
    made = {
        lot_made(run.activity, run.day, output.item): (run.activity, run.day)
        for run in runs
        for output in outputs[run.activity]
    }
    fed: dict[tuple[str, int], list[str]] = defaultdict(list)
    for run in runs:
        for taken in run.taken:
            if taken.lot in made:
                fed[made[taken.lot]].extend(keys[run.activity, run.day])
    return tuple(
        replace(batch, feeds=tuple(fed[run.activity, run.day]))
        for run in runs
        for batch in batches_of_run(run, task.variants[run.activity], folder)
    )


def batches_of_run(run: Run, variant: Variant, folder: Folder) -> tuple[Batch, ...]:
    """The batches of one run, not yet linked to those they feed."""
    meal_min = _meal_min(run, variant, folder)
    return tuple(
        Batch(key, (run.activity, run.day), run.day + variant.lead_days, units, variant, meal_min)
        for key, units in zip(batch_keys(run), shares(run, variant), strict=True)
    )


def meal_of(run: Run, variant: Variant, folder: Folder) -> Meal | None:
    """The meal that a dish is for."""
    for product in variant.recipe.products:
        if product.meal_role and variant.meal:
            day = folder.start + timedelta(days=run.day + variant.lead_days + product.ready_day)
            return next((m for m in folder.household.meals if m.day == day and m.name == variant.meal), None)
    return None


def _meal_min(run: Run, variant: Variant, folder: Folder) -> int | None:
    meal = meal_of(run, variant, folder)
    return minutes_from(folder.start, meal.day, meal.at) if meal else None


def batch_keys(run: Run) -> tuple[str, ...]:
    """The keys of the batches of a run, one for each load."""
    name = f"{run.activity}@{run.day}"
    count = max(1, run.loads)
    return (name,) if count == 1 else tuple(f"{name}#{number + 1}" for number in range(count))


def shares(run: Run, variant: Variant) -> tuple[float, ...]:
    """Even batches; in whole jars where there are jars."""
    count = max(1, run.loads)
    if variant.jar_work is None:
        return (run.level / count,) * count
    jars = round(run.level * variant.jar_work.jars_per_unit)
    each, more = divmod(jars, count)
    return tuple((each + (1 if number < more else 0)) / variant.jar_work.jars_per_unit for number in range(count))
