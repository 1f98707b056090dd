"""Larder and freezer as the plan leaves them."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from stillroom.allocation.problem import Allocation, Problem
from stillroom.allocation.returns import came_back
from stillroom.model.household import LarderLot, Place
from stillroom.model.kitchen import Kitchen
from stillroom.model.plan import FreezerAfter, PlannedRun
from stillroom.planning.items import item_made
from stillroom.planning.supply import plannable_freezer_l
from stillroom.planning.variants import Variant

EMPTY_G = 1.0
CRUMBS_G = 50.0


def larder_after(
    larder: Iterable[LarderLot], done: Sequence[tuple[Variant, PlannedRun]], end: date
) -> tuple[LarderLot, ...]:
    """Old lots less what the plan takes, then new lots in order of making; what has gone off by `end` is no store."""
    used: dict[str, float] = defaultdict(float)
    for _, run in done:
        for taken in run.taken:
            used[taken.origin] += taken.mass_g
    kept = tuple(
        replace(lot, mass_g=lot.mass_g - used[lot.key], count=_count_left(lot, used[lot.key]))
        for lot in larder
        if lot.mass_g - used[lot.key] > EMPTY_G
    )
    eaten: dict[tuple[str, str], float] = defaultdict(float)
    for _, run in done:
        for taken in run.taken:
            eaten[taken.origin, taken.food] += taken.mass_g
    lots = (*kept, *(lot for variant, run in done for lot in _new_lots(variant, run, eaten)))
    return tuple(lot for lot in lots if lot.best_by >= end or lot.place in (Place.SHELF, Place.FREEZER))


def freezer_after(
    kitchen: Kitchen, problem: Problem, allocation: Allocation, done: Sequence[tuple[Variant, PlannedRun]]
) -> FreezerAfter:
    """Litres in and out of the freezer."""
    added = sum(
        product.mass_g_per_unit / 1000 * product.volume_l_per_kg * run.units
        for variant, run in done
        for product in variant.recipe.products
        if product.place is Place.FREEZER
    )
    freed = came_back(problem, allocation.runs)["freezer"][-1]
    freezer = kitchen.freezer
    return FreezerAfter(freezer.capacity_l, plannable_freezer_l(kitchen), freezer.used_l, added, freed)


def _count_left(lot: LarderLot, used_g: float) -> int:
    """Containers left; one that has been opened is counted as used."""
    return max(1, math.floor(lot.count * (lot.mass_g - used_g) / lot.mass_g + 1e-6))


def _new_lots(variant: Variant, run: PlannedRun, eaten: Mapping[tuple[str, str], float]) -> tuple[LarderLot, ...]:
    """What is put by, less what other runs take of it; dishes are no lots."""
    lots = []
    for product, made in zip(variant.recipe.products, run.made, strict=True):
        if made.container in ("plate", "loaf") or made.best_by is None:
            continue
        gone = eaten.get((run.key, item_made(product)), 0.0) if product.food else 0.0
        if made.mass_g - gone < CRUMBS_G:
            continue
        food = product.food or next((i.foods[0] for i in variant.recipe.ingredients if i.main), product.name)
        lot = LarderLot(
            key=f"{run.key}:{product.name}",
            product=product.name,
            food=food,
            place=made.place,
            mass_g=made.mass_g,
            made_on=run.day,
            best_by=made.best_by,
            container=f"{run.jar} {made.container}" if run.jar else made.container,
            count=made.count or 1,
        )
        lots.append(replace(lot, mass_g=made.mass_g - gone, count=_count_left(lot, gone)))
    return tuple(lots)
