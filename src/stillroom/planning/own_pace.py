"""Recipes at the pace of a household: what its own times say, applied where people set the pace.

Never to what heat, time or rules set: a process, a wait, a rest, what runs by itself. What is minded on the stove is
never planned shorter than its recipe, however quick the records are: its minutes are also those of the heat.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from stillroom.model.household import TimeTaken
from stillroom.model.recipe import Recipe, Step
from stillroom.model.work import Attention
from stillroom.timetable.pace import Pace, learned

StepId = tuple[str, str]  # recipe and step


def at_own_pace(recipes: Iterable[Recipe], times: Iterable[TimeTaken], until: date) -> tuple[Recipe, ...]:
    """The recipes with the minutes of their steps as the times up to a day say."""
    paces = _paces(time for time in times if time.day <= until)
    return tuple(
        replace(recipe, steps=tuple(_paced(step, paces.get((recipe.key, step.key))) for step in recipe.steps))
        if any((recipe.key, step.key) in paces for step in recipe.steps)
        else recipe
        for recipe in recipes
    )


def pace_notes(recipes: Iterable[Recipe], times: Iterable[TimeTaken], until: date) -> tuple[str, ...]:
    """What is not learned from, and why: a sentence for each kind."""
    known = {(recipe.key, step.key): step for recipe in recipes for step in recipe.steps}
    times = tuple(times)
    later = sum(time.day > until for time in times)
    strange = sorted({f"{time.recipe}: {time.step}" for time in times if (time.recipe, time.step) not in known})
    ignored = sum(pace.ignored for pace in _paces(times).values())
    notes = []
    if strange:
        notes.append(f"done.yaml names steps that no recipe has, so they teach nothing: {', '.join(strange)}.")
    if ignored:
        many = f"{ignored} times" if ignored > 1 else "1 time"
        notes.append(f"{many} in done.yaml can't be right (none at all, or a forgotten timer), so nothing is learned.")
    if later:
        many = f"{later} times" if later > 1 else "1 time"
        notes.append(f"{many} in done.yaml lie after the first day of the plan, so they are left out.")
    return tuple(notes)


def _paces(times: Iterable[TimeTaken]) -> Mapping[StepId, Pace]:
    pairs: dict[StepId, list[tuple[float, float]]] = defaultdict(list)
    for time in times:
        pairs[time.recipe, time.step].append((time.planned_min, time.taken_min))
    return {step: learned(found) for step, found in pairs.items()}


def _paced(step: Step, pace: Pace | None) -> Step:
    if pace is None or step.attention is Attention.FREE or step.is_canner_cycle:
        return step
    factor = pace.factor if step.attention is Attention.HANDS else max(1.0, pace.factor)
    return replace(
        step,
        fixed_min=step.fixed_min * factor,
        per_unit_min=step.per_unit_min * factor,
        pace=factor,
        sigma=pace.sigma,
    )
