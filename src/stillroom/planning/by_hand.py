"""Wishes of the cook, worked into a split: what is forbidden is taken out, what is wanted is worth more than its food.

A wish never opens anything: it only takes ways out of the split, or makes some of those that are there worth more. So
processes, clocks, capacities and the check of the plan hold as without it. In the split a meal is worth more than any
wish; where a dish and a wish turn out not to fit into the same hours, the wish stays and the meal is told as missing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from stillroom.allocation.problem import Activity, Input, Target, TargetStep
from stillroom.model.recipe import Use
from stillroom.model.wish import GIVE_AWAY, Wish, WishKind
from stillroom.planning.items import FRESH, item
from stillroom.planning.split import Split

# In the currency of worth: a gram that is wished is worth so much more than food ever is, and all of a wish less than
# half a dish for one person.
WORTH_PER_G, WORTH_AT_MOST = 0.1, 400.0
ANY_AMOUNT_WORTH = 100.0
DONE_WORDS = {
    Use.JAR.value: "in jars",
    Use.FREEZE.value: "frozen",
    Use.DRY.value: "dried",
    Use.CURE.value: "cured",
    Use.FERMENT.value: "fermented",
    Use.EAT_NOW.value: "eaten now",
    Use.BAKE.value: "baked",
    Use.KEEP_FRESH.value: "kept fresh",
    Use.BREAK_DOWN.value: "cut up",
    Use.STOCK.value: "as stock or lard",
    GIVE_AWAY: "given away",
}


def with_wishes(task: Split, wishes: Iterable[Wish], start: date) -> Split:
    """The split under the wishes, in their order."""
    for number, wish in enumerate(wishes):
        task = _applied(task, wish, start, number)
    return task


def target_name(number: int) -> str:
    """The target of a wish by its place."""
    return f"wish {number + 1}"


def wish_words(wish: Wish, names: dict[str, str]) -> str:
    """The wish in a few words; `names` of recipes by their keys."""
    done = DONE_WORDS.get(wish.use, wish.use)
    recipe = names.get(wish.recipe, wish.recipe)
    amount = f"at least {wish.mass_g / 1000:.3g} kg"
    on = "" if wish.day is None else f" on {wish.day:%A} {wish.day.day} {wish.day:%B}"
    return {
        WishKind.NO_USE: f"no {wish.food} {done}",
        WishKind.AT_LEAST: f"{amount} {wish.food} {done}",
        WishKind.NO_RECIPE: f"no {recipe}",
        WishKind.NOT_ON: f"{recipe} not{on}",
        WishKind.ON: f"{recipe}{on}" + (f", {amount}" if wish.mass_g else ""),
    }[wish.kind]


def _applied(task: Split, wish: Wish, start: date, number: int) -> Split:
    if wish.kind in (WishKind.NO_USE, WishKind.NO_RECIPE, WishKind.NOT_ON):
        narrow = {WishKind.NO_USE: _without_food, WishKind.NO_RECIPE: _without, WishKind.NOT_ON: _not_on}[wish.kind]
        return _with(task, _each(task, lambda activity: narrow(task, activity, wish, start)))
    pull = _of_food if wish.kind is WishKind.AT_LEAST else _on_day
    step = target_name(number)
    found = _with(task, _each(task, lambda activity: pull(task, activity, wish, start, step)))
    return replace(found, problem=replace(found.problem, targets=(*found.problem.targets, _target(found, wish, step))))


Narrowed = Iterator[Activity]


def _each(task: Split, change: Callable[[Activity], Narrowed]) -> tuple[Activity, ...]:
    return tuple(found for activity in task.problem.activities for found in change(activity))


def _with(task: Split, activities: Sequence[Activity]) -> Split:
    """The split with these activities; one with a new key is a way of the recipe whose key it begins with."""
    variants = dict(task.variants)
    for activity in activities:
        made_of, _, wished = activity.key.rpartition("/wished ")
        if wished and made_of in task.variants:
            variants[activity.key] = replace(task.variants[made_of], key=activity.key)
    return replace(task, problem=replace(task.problem, activities=tuple(activities)), variants=variants)


def _without_food(task: Split, activity: Activity, wish: Wish, start: date) -> Narrowed:
    if activity.use != wish.use:
        yield activity
        return
    inputs = tuple(
        replace(needed, items=tuple(name for name in needed.items if name != item(wish.food, FRESH)))
        for needed in activity.inputs
    )
    if all(needed.items for needed in inputs):
        yield replace(activity, inputs=inputs)


def _without(task: Split, activity: Activity, wish: Wish, start: date) -> Narrowed:
    if not _is_of(task, activity, wish):
        yield activity


def _not_on(task: Split, activity: Activity, wish: Wish, start: date) -> Narrowed:
    days = tuple(day for day in activity.days if day != _first_day(task, activity, wish, start))
    if days:
        yield replace(activity, days=days)


def _of_food(task: Split, activity: Activity, wish: Wish, start: date, step: str) -> Narrowed:
    """Counts the food towards the wish; where another food would do as well, in a way of its own with this one only."""
    wanted = item(wish.food, FRESH)
    grams = sum(needed.grams_per_level for needed in activity.inputs if wanted in needed.items)
    if activity.use != wish.use or grams <= 0:
        yield activity
        return
    inputs = tuple(Input((wanted,), n.grams_per_level) if wanted in n.items else n for n in activity.inputs)
    targets = (*activity.targets, TargetStep(step, grams))
    if inputs == activity.inputs:
        yield replace(activity, targets=targets)
        return
    yield activity
    if activity.use != GIVE_AWAY:
        yield replace(activity, key=f"{activity.key}/wished {wish.food}", inputs=inputs, targets=targets)


def _on_day(task: Split, activity: Activity, wish: Wish, start: date, step: str) -> Narrowed:
    """The wished day as a way of its own, beside the other days."""
    day = _first_day(task, activity, wish, start)
    if day not in activity.days:
        yield activity
        return
    others = tuple(other for other in activity.days if other != day)
    if others:
        yield replace(activity, days=others)
    grams = sum(needed.grams_per_level for needed in activity.inputs) if wish.mass_g else 1.0
    targets = (*activity.targets, TargetStep(step, grams))
    yield replace(activity, key=f"{activity.key}/wished day {day + 1}", days=(day,), targets=targets)


def _target(task: Split, wish: Wish, step: str) -> Target:
    """The worth of a wish, all of it the same for each gram; without an amount that of its smallest run."""
    words = "as you wished"
    if wish.mass_g:
        return Target(step, ((wish.mass_g, min(WORTH_PER_G, WORTH_AT_MOST / wish.mass_g)),), words)
    smallest = [a.smallest for a in task.problem.activities if any(s.target == step for s in a.targets)]
    level = max(min(smallest, default=1.0), 1e-6)
    return Target(step, ((level, ANY_AMOUNT_WORTH / level),), words)


def _is_of(task: Split, activity: Activity, wish: Wish) -> bool:
    return activity.key in task.variants and task.variants[activity.key].recipe.key == wish.recipe


def _first_day(task: Split, activity: Activity, wish: Wish, start: date) -> int | None:
    """The day on which an activity begins so that its recipe is done on the day of the wish."""
    if wish.day is None or not _is_of(task, activity, wish):
        return None
    return (wish.day - start).days - task.variants[activity.key].lead_days
