"""The equipment of a kitchen as the timetable shares it, and what a step takes of it."""

from __future__ import annotations

import math

from stillroom.model.kitchen import Kitchen
from stillroom.model.recipe import Need, Step
from stillroom.planning.variants import JarWork, Variant
from stillroom.timetable.problem import Demand, Mode, Resource

BIG_POT_G = 5000.0  # of food; a pot for more needs a big burner (common practice, no source)
SHARED_OVEN = 1.1  # times as long in an oven that others use as well (common practice, no source)


def resources(kitchen: Kitchen) -> tuple[Resource, ...]:
    """Everything with a number of places."""
    found = [
        Resource("burner", kitchen.burners),
        Resource("oven", kitchen.oven_trays),
        Resource("dryer", kitchen.dryer_trays),
        Resource("fridge", math.floor(kitchen.fridge_free_l)),
        Resource("mixer", 1 if kitchen.has_mixer else 0),
        Resource("ice bath", 1),
    ]
    if kitchen.small_burners:
        found.append(Resource("big burner", kitchen.burners - kitchen.small_burners))
    found.extend(Resource(canner.name, 1) for canner in kitchen.canners)
    return tuple(found)


def canner_heating(work: JarWork, kitchen: Kitchen) -> tuple[Demand, ...]:
    """What a canner takes until the heat is off."""
    return (Demand(work.canner.name, 1), Demand("burner", 1), *_big_burner(kitchen))


def modes_of(step: Step, units: float, variant: Variant, kitchen: Kitchen, *, holds_canner: bool) -> tuple[Mode, ...]:
    """The ways of doing a step: as written; in an oven that others may share also slower, together with them."""
    minutes = max(1, math.ceil(step.fixed_min + step.per_unit_min * units - 1e-6))
    found = [_demand(need, units, variant.jar_work) for need in step.needs]
    demands = [demand for demand in found if demand is not None]
    if variant.jar_work is not None and holds_canner:
        demands.append(Demand(variant.jar_work.canner.name, 1))
    if units * variant.recipe.main_g >= BIG_POT_G and any(demand.resource == "burner" for demand in demands):
        demands.extend(_big_burner(kitchen))
    demands = list(dict.fromkeys(demands))
    baked = next((demand for demand in demands if demand.resource == "oven"), None)
    if baked is None or baked.amount >= kitchen.oven_trays:
        return (Mode(minutes, tuple(demands)),)
    rest = [demand for demand in demands if demand is not baked]
    alone = Demand("oven", kitchen.oven_trays, baked.setting)
    return (
        Mode(math.ceil(minutes * SHARED_OVEN), tuple(demands)),
        Mode(minutes, (*rest, alone)),
    )


def _big_burner(kitchen: Kitchen) -> tuple[Demand, ...]:
    return (Demand("big burner", 1),) if kitchen.small_burners else ()


def _demand(need: Need, units: float, work: JarWork | None) -> Demand | None:
    if need.equipment == "canner":
        return Demand(work.canner.name, 1) if work else None
    amount = math.ceil(need.amount + need.per_unit * units - 1e-6)
    return Demand(need.equipment, amount, need.setting) if amount > 0 else None
