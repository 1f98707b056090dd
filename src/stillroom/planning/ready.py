"""What to have ready before the work starts: jars by size, lids, and everything from the cupboard."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence, Set

from stillroom.model.household import LarderLot
from stillroom.model.kitchen import Kitchen
from stillroom.model.plan import Left, PlannedRun, Wanted
from stillroom.planning.items import FRESH, state_of
from stillroom.planning.jar_acid import LEMON_JUICE
from stillroom.planning.supply import jars_pool, lids_pool
from stillroom.planning.variants import Variant


def have_ready(
    kitchen: Kitchen,
    done: Sequence[tuple[Variant, PlannedRun]],
    spare_g: Mapping[str, float],
    came_back: Mapping[str, float],
) -> tuple[Wanted, ...]:
    """Jars and lids first, then cupboard ingredients by name with what the house has: counted, or left over fresh.

    `came_back`: jars and lids that come back within the plan, by pool.
    """
    return (*_jars(kitchen, (run for _, run in done), came_back), *_cupboard(kitchen, done, spare_g))


def spare(left: Iterable[Left], larder: Iterable[LarderLot], here: Set[str]) -> dict[str, float]:
    """Grams of fresh food that the plan leaves over, by food: an onion for the stew is an onion.

    `here` holds the keys of arrivals and lots that are in the house from the first day.
    """
    found: dict[str, float] = defaultdict(float)
    for part in left:
        if part.food.endswith(FRESH) and not part.is_lost and part.origin in here:
            found[part.food.removesuffix(f", {FRESH}")] += part.mass_g
    for lot in larder:
        if state_of(lot.place, lot.container) == FRESH and lot.key in here:
            found[lot.food] += lot.mass_g
    return dict(found)


def _jars(kitchen: Kitchen, runs: Iterable[PlannedRun], came_back: Mapping[str, float]) -> tuple[Wanted, ...]:
    needed: dict[str, int] = defaultdict(int)
    for run in runs:
        if run.jar:
            needed[run.jar] += run.jars
    stock = {jar.name: jar for jar in kitchen.jars}
    found = []
    for name, count in sorted(needed.items()):
        jar = stock[name]
        found.append(_counted(f"{name} jars", count, jar.count, came_back.get(jars_pool(jar), 0.0), "jars"))
        lids = "lids" if jar.has_reusable_lids else "new lids"
        found.append(_counted(f"{lids} for {name} jars", count, jar.lids, came_back.get(lids_pool(jar), 0.0), "lids"))
    return tuple(found)


def _counted(what: str, needed: int, in_house: int, came_back: float, unit: str) -> Wanted:
    """What comes back is told only where it is needed."""
    if needed <= in_house or came_back < 1:
        return Wanted(what, needed, in_house, unit)
    return Wanted(f"{what} ({came_back:.0f} come back when emptied)", needed, in_house + came_back, unit)


def _cupboard(
    kitchen: Kitchen, done: Sequence[tuple[Variant, PlannedRun]], spare_g: Mapping[str, float]
) -> tuple[Wanted, ...]:
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
    for food, grams in spare_g.items():
        stock[food] = stock.get(food, 0.0) + grams
    return tuple(Wanted(food, grams, stock.get(food), "g") for food, grams in sorted(needed.items()))
