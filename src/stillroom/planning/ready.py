"""What to have ready before the work starts: jars by size, lids, and everything from the cupboard."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from stillroom.model.kitchen import Kitchen
from stillroom.model.plan import PlannedRun, Wanted
from stillroom.planning.jar_acid import LEMON_JUICE
from stillroom.planning.variants import Variant


def have_ready(kitchen: Kitchen, done: Sequence[tuple[Variant, PlannedRun]]) -> tuple[Wanted, ...]:
    """Jars and lids first, then cupboard ingredients by name with what the house has counted."""
    return (*_jars(kitchen, (run for _, run in done)), *_cupboard(kitchen, done))


def _jars(kitchen: Kitchen, runs: Iterable[PlannedRun]) -> tuple[Wanted, ...]:
    needed: dict[str, int] = defaultdict(int)
    for run in runs:
        if run.jar:
            needed[run.jar] += run.jars
    stock = {jar.name: jar for jar in kitchen.jars}
    found = []
    for name, count in sorted(needed.items()):
        found.append(Wanted(f"{name} jars", count, stock[name].count, "jars"))
        found.append(Wanted(f"new lids for {name} jars", count, stock[name].lids, "lids"))
    return tuple(found)


def _cupboard(kitchen: Kitchen, done: Sequence[tuple[Variant, PlannedRun]]) -> tuple[Wanted, ...]:
    needed: dict[str, float] = defaultdict(float)
    for variant, run in done:
        amounts: dict[str, float] = defaultdict(float)
        for ingredient in variant.recipe.ingredients:
            if not ingredient.main and ingredient.foods[0] != "water":
                amounts[ingredient.foods[0]] += ingredient.mass_g * run.units
        if run.lemon_juice_g:  # by the jar, which is more than by the volume for odd jars
            amounts[LEMON_JUICE] = max(amounts[LEMON_JUICE], run.lemon_juice_g)
        for food, grams in amounts.items():
            needed[food] += grams
    stock = dict(kitchen.pantry_g)
    return tuple(Wanted(food, grams, stock.get(food), "g") for food, grams in sorted(needed.items()))
