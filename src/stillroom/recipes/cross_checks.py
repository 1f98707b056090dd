"""What must hold between the fields of a recipe file; each fault names its place for `yaml_files.error_at`."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.model.recipe import Use
from stillroom.model.work import Attention
from stillroom.recipes.waiting import waits_too_long
from stillroom.recipes.written import WrittenRecipe

Fault = tuple[tuple[str | int, ...], str]


def faults(recipe: WrittenRecipe) -> Iterator[Fault]:
    """(place in the file, sentence) of everything that does not fit together."""
    yield from _steps_follow_each_other(recipe)
    yield from waits_too_long(recipe)
    for place, step in enumerate(recipe.steps):
        if step.child and (step.needs or step.attention is not Attention.HANDS):
            yield ("steps", place, "child"), "a child does work for hands only, away from burners, oven and canner"
    if recipe.use is Use.JAR:
        yield from _jars_are_filled_processed_and_taken_out(recipe)
    else:
        if recipe.process is not None:
            yield ("process",), "only a recipe whose use is “jar” has a process"
        for place, step in enumerate(recipe.steps):
            if step.canner_cycle or step.each_load:
                yield ("steps", place), "only a recipe whose use is “jar” has canner loads"


def _steps_follow_each_other(recipe: WrittenRecipe) -> Iterator[Fault]:
    days: dict[str, int] = {}
    for place, step in enumerate(recipe.steps):
        if step.key in days:
            yield ("steps", place, "key"), f"another step is already called “{step.key}”"
        for number, after in enumerate(step.after):
            where = ("steps", place, "after", number, "step")
            if after.step not in days:
                yield where, f"there is no earlier step “{after.step}”"
            elif days[after.step] > step.day:
                yield where, f"“{after.step}” is on a later day"
        days[step.key] = step.day


def _jars_are_filled_processed_and_taken_out(recipe: WrittenRecipe) -> Iterator[Fault]:
    if recipe.process is None:
        yield ("use",), "a jar recipe needs “process”: without a tested row there is no jar"
    cycles = [place for place, step in enumerate(recipe.steps) if step.canner_cycle]
    if len(cycles) != 1:
        yield ("steps",), "a jar recipe has exactly one step with “canner cycle: yes”"
        return
    before, behind = recipe.steps[: cycles[0]], recipe.steps[cycles[0] + 1 :]
    if not any(step.each_load for step in before):
        yield ("steps",), "the jars are filled in a step before the canner cycle, with “each load: yes”"
    if not any(step.each_load for step in behind):
        yield ("steps",), "the jars are taken out in a step after the canner cycle, with “each load: yes”"
