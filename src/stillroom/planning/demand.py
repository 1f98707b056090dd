"""What a recipe takes of the day, of the house and of a meal, per unit and per batch."""

from __future__ import annotations

from collections import defaultdict

from stillroom.allocation.problem import PoolUse, Usage
from stillroom.model.household import Place
from stillroom.model.recipe import Step
from stillroom.model.work import Attention
from stillroom.planning.slips import may_slip
from stillroom.planning.supply import jars_pool, lids_pool
from stillroom.planning.variants import Variant
from stillroom.planning.wishes import course, role_at


def usages(variant: Variant) -> tuple[Usage, ...]:
    """Minutes of hands, burners, oven trays, canner and dryer, and grams to freeze, by day offset."""
    total: dict[tuple[str, int], list[float]] = defaultdict(lambda: [0.0, 0.0])
    steps, lead = variant.recipe.steps, variant.lead_days
    for step in steps:
        for capacity, (per_level, per_batch) in _step_usage(step, variant).items():
            total[capacity, lead + step.day][0] += per_level
            total[capacity, lead + step.day][1] += per_batch
    frozen = sum(p.mass_g_per_unit for p in variant.recipe.products if p.place is Place.FREEZER)
    if frozen:
        total["freezing", lead][0] += frozen
        if may_slip(steps, steps[-1]):  # packed on either day: counted on both
            total["freezing", lead + 1][0] += frozen
    return tuple(
        Usage(name, day, per_level=per_level, per_load=per_batch)
        for (name, day), (per_level, per_batch) in sorted(total.items())
    )


def places_at_meals(variant: Variant) -> tuple[Usage, ...]:
    """A dish takes one of the places that its role has at its meal."""
    return tuple(
        Usage(course(role_at(product.meal_role, variant.meal)), variant.lead_days + product.ready_day, fixed=1.0)
        for product in variant.recipe.products
        if product.meal_role and variant.meal
    )


def pools(variant: Variant) -> tuple[PoolUse, ...]:
    pools = []
    if variant.jar_work is not None:
        work = variant.jar_work
        pools.append(PoolUse(jars_pool(work.jar), work.jars_per_unit))
        pools.append(PoolUse(lids_pool(work.jar), work.jars_per_unit))
    litres = sum(
        p.mass_g_per_unit / 1000 * p.volume_l_per_kg for p in variant.recipe.products if p.place is Place.FREEZER
    )
    if litres:
        pools.append(PoolUse("freezer", litres))
    return tuple(pools)


def _step_usage(step: Step, variant: Variant) -> dict[str, tuple[float, float]]:
    """(per level, per batch) of every capacity; tray-minutes grow with both minutes and trays."""
    work = variant.jar_work
    if step.is_canner_cycle and work is not None:
        return {
            work.canner.name: (0.0, float(work.cycle.total_min)),
            "burner": (0.0, float(work.cycle.attended_min)),
        }
    use: dict[str, tuple[float, float]] = {}
    if step.attention is Attention.HANDS:
        use["hands"] = (step.per_unit_min, step.fixed_min)
    for need in step.needs:
        if need.equipment == "canner" and work is not None:
            use[work.canner.name] = (step.per_unit_min, step.fixed_min)
        elif need.equipment in ("burner", "oven", "dryer"):
            per_level = step.per_unit_min * need.amount + step.fixed_min * need.per_unit
            use[need.equipment] = (per_level, step.fixed_min * need.amount)
    return use
