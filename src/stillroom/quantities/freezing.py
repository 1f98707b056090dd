"""Freezing: how long a flat pack, a block or a ball takes, the room they need, and over how many days to put them in.

Times are bands by a model (Pham's method over the surface of a household freezer). The load per day is a published rule
and the harder limit: a freezer that is overloaded freezes everything more slowly than told here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from stillroom.errors import InputError, Refusal
from stillroom.physics.band import Band
from stillroom.physics.freezer import (
    BLOCKS,
    FLAT_PACKS,
    ODD_SHAPES,
    ROUND_PIECES,
    daily_loads_kg,
    days_to_freeze,
    heat_to_freeze_kj,
    load_per_day_kg,
    space_l,
)
from stillroom.physics.freezing import (
    Freezable,
    Pack,
    Shape,
    ball,
    dimensions,
    freezable,
    freezing_h,
    layer_thickness_m,
    plank_s,
)
from stillroom.physics.medium import freezer
from stillroom.quantities.food_parts import FoodParts, Mixture
from stillroom.tables.constants import constant
from stillroom.units import celsius

SOLID_C = -10.0  # middle of a pack that is hard through
DOWN_K = 3.0  # a middle so near to the freezer's air counts as down; it never quite gets there
CHILLED_C, FREEZER_C = 4.0, -18.0
USUAL_PACK_KG, USUAL_THICKNESS_M = 1.0, 0.03  # a dinner, laid flat: common practice, no source
ASSUMED_KG_M3 = 1000.0  # only to choose a thickness where none was told
THIN_M, THICK_M, STEP_M = 0.01, 0.15, 0.005  # flat packs that are tried
LOWEST_FREEZING_C = -5.0  # sweeter and saltier food freezes over a wider range than the method was tested for
PERFECT_FILM, LARGE_BIOT = 1e9, 1e6  # a surface without resistance
BOX_M2_K_W = 0.03  # still air and wall of a box or loose bag: middle of the range that physics gives, no source
FREEZERS_C = (-40.0, -12.0)
SMALLEST_KG, LARGEST_KG = 0.01, 200.0


class PackKind(StrEnum):
    """How a pack is shaped."""

    FLAT = "flat pack"
    BLOCK = "block"
    BALL = "ball"
    ODD = "bird or joint"


@dataclass(frozen=True, slots=True)
class Cold:
    """Temperatures of the food and of the freezer [°C]; in a box or loose bag, or wrapped tight.

    Valid: food of 0 to 21 °C, a freezer of −40 to −12 °C. Raises Refusal for warm food, InputError for the rest.
    """

    from_c: float = CHILLED_C
    freezer_c: float = FREEZER_C
    is_boxed: bool = False

    def __post_init__(self) -> None:
        first_c = celsius(constant("cooling_first_end_f").value)
        if self.from_c > first_c + 0.5:
            raise Refusal(
                f"Food of {self.from_c:.0f} °C is not put into a freezer: it warms what lies beside it and stays warm "
                f"too long. Cool it first, to {first_c:.0f} °C within 2 hours and then in the fridge."
            )
        if not self.from_c >= 0:
            raise InputError(f"Food that is to be frozen starts at 0 °C or above, not at {self.from_c:g} °C.")
        if not FREEZERS_C[0] <= self.freezer_c <= FREEZERS_C[1]:
            raise InputError(f"A household freezer has −40 to −12 °C, not {self.freezer_c:g} °C.")

    @property
    def wrap_m2_k_w(self) -> float:
        """Resistance of the wrap [m² K/W]."""
        return BOX_M2_K_W if self.is_boxed else 0.0


CHILLED = Cold()
ROOM = {PackKind.FLAT: FLAT_PACKS, PackKind.BLOCK: BLOCKS, PackKind.BALL: ROUND_PIECES, PackKind.ODD: ODD_SHAPES}


@dataclass(frozen=True, slots=True)
class PackTime:
    """One shape: thickness [m], hours until solid and until the middle is down, litres for all packs.

    `at_least_h`: no fan and no metal shelf freezes this thickness faster; only a thinner pack does.
    """

    kind: PackKind
    thickness_m: float
    solid: Band
    down: Band
    at_least_h: float
    room: Band


@dataclass(frozen=True, slots=True)
class FreezerLoad:
    """What the freezer takes in a day [kg], the days by the rule, equal daily loads, and what warm food counts as."""

    per_day_kg: float
    days: Band
    loads_kg: tuple[float, ...]
    counts_as_kg: float


def pack_time(
    parts: FoodParts,
    kind: PackKind,
    pack_kg: float,
    *,
    thickness_m: float = 0.0,
    total_kg: float = 0.0,
    cold: Cold = CHILLED,
) -> PackTime:
    """Hours for one pack of a shape, all sides in the cold, and room for `total_kg` of them.

    Valid: packs of 10 g to 200 kg; `thickness_m` counts for flat ones only. Raises InputError for the rest.
    """
    if not SMALLEST_KG <= pack_kg <= LARGEST_KG:
        raise InputError(f"A pack holds 10 g to 200 kg, not {pack_kg:g} kg.")
    foods = {mixture: freezable_of(parts, mixture) for mixture in parts.mixtures}
    packs = {
        mixture: replace(pack_of_kind(kind, pack_kg, thickness_m, food.density_kg_m3), wrap_m2_k_w=cold.wrap_m2_k_w)
        for mixture, food in foods.items()
    }

    def hours(centre_c: float) -> Band:
        return parts.band(
            lambda mixture: freezing_h(
                packs[mixture], foods[mixture], freezer(cold.freezer_c), from_c=cold.from_c, centre_c=centre_c
            )
        )

    return PackTime(
        kind,
        max(pack.thickness_m for pack in packs.values()),
        hours(SOLID_C),
        hours(min(cold.freezer_c + DOWN_K, SOLID_C)),
        min(_at_least_h(kind, packs[mixture], foods[mixture], cold.freezer_c) for mixture in parts.mixtures),
        parts.band(lambda mixture: space_l(total_kg or pack_kg, foods[mixture].density_kg_m3, ROOM[kind])),
    )


def usual_thickness_m(pack_kg: float) -> float:
    """How thick [m] a flat pack is taken to be where nobody told: 3 cm, or less where it would be a cube."""
    return min(USUAL_THICKNESS_M, 0.9 * math.cbrt(pack_kg / ASSUMED_KG_M3))


def bag_thickness_m(parts: FoodParts, pack_kg: float, length_m: float, width_m: float) -> float:
    """How thick [m] a bag of those sides is with the pack lying flat in it, of its compositions the thickest."""
    return max(
        layer_thickness_m(pack_kg, freezable_of(parts, mixture).density_kg_m3, length_m, width_m)
        for mixture in parts.mixtures
    )


def thickest_flat_m(parts: FoodParts, cold: Cold = CHILLED) -> float | None:
    """The thickest flat pack [m] that is surely solid in the time of the rule (R124), its edges not counted.

    Tried from 15 cm down to 1 cm in steps of 5 mm; None where not even that is.
    """
    within_h = constant("freeze_solid_within_h").value
    foods = [freezable_of(parts, mixture) for mixture in parts.mixtures]
    for step in range(round((THICK_M - THIN_M) / STEP_M) + 1):
        pack = Pack(round(THICK_M - step * STEP_M, 4), wrap_m2_k_w=cold.wrap_m2_k_w)
        times = (
            freezing_h(pack, food, freezer(cold.freezer_c), from_c=cold.from_c, centre_c=SOLID_C) for food in foods
        )
        if max(time.high for time in times) <= within_h:
            return pack.thickness_m
    return None


def freezer_load(parts: FoodParts, mass_kg: float, freezer_l: float, cold: Cold = CHILLED) -> FreezerLoad:
    """Over how many days to put a mass into a freezer of that size (rule R124, the lower figure is planned).

    Food warmer than from the fridge counts as more than it weighs, by the heat that it brings.

    Valid: freezer 10 to 2000 L, else InputError.
    """
    if not 10 <= freezer_l <= 2000:
        raise InputError(f"A household freezer holds 10 to 2000 litres, not {freezer_l:g}.")
    foods = [freezable_of(parts, mixture) for mixture in parts.mixtures]
    more = max(
        heat_to_freeze_kj(food, 1.0, from_c=max(cold.from_c, CHILLED_C))
        / heat_to_freeze_kj(food, 1.0, from_c=CHILLED_C)
        for food in foods
    )
    counts_as_kg = mass_kg * more
    low, high = (constant(name).value for name in ("freezer_load_g_per_l_day", "freezer_load_max_g_per_l_day"))
    loads = daily_loads_kg(counts_as_kg, freezer_l, low)
    return FreezerLoad(
        load_per_day_kg(freezer_l, low),
        days_to_freeze(counts_as_kg, freezer_l, low, high),
        tuple(load / more for load in loads),
        counts_as_kg,
    )


def freezable_of(parts: FoodParts, mixture: Mixture) -> Freezable:
    """Freezing properties; InputError where the food is too sweet, salty or dry to freeze as the method knows it."""
    if mixture.freezing_c < LOWEST_FREEZING_C:
        raise InputError(f"{parts.food.key} is so sweet or salty that it freezes far below 0 °C; no time is known.")
    try:
        return freezable(mixture.fractions, mixture.freezing_c)
    except ValueError:
        raise InputError(f"{parts.food.key} holds too little water to freeze as these sums know it.") from None


def pack_of_kind(kind: PackKind, pack_kg: float, thickness_m: float, density_kg_m3: float) -> Pack:
    """The pack as the physics takes it: a flat one square, a block a cube, everything else a ball of its mass.

    Valid: a flat pack 2 mm to 30 cm thick, and wider than thick, else InputError.
    """
    if kind in (PackKind.BALL, PackKind.ODD):
        return ball(pack_kg, density_kg_m3)
    side_m = (pack_kg / density_kg_m3) ** (1 / 3)
    if kind is PackKind.BLOCK:
        return Pack(side_m, side_m, side_m)
    if not 0.002 <= thickness_m <= 0.3:
        raise InputError(f"A flat pack is 2 mm to 30 cm thick, not {100 * thickness_m:g} cm.")
    if thickness_m > side_m:
        raise InputError(
            f"A flat pack of {pack_kg:.3g} kg can't be {100 * thickness_m:.3g} cm thick: as a cube it measures "
            f"{100 * side_m:.2g} cm. Check the thickness and the amount in one pack."
        )
    width_m = math.sqrt(pack_kg / density_kg_m3 / thickness_m)
    return Pack(thickness_m, width_m, width_m)


def _at_least_h(kind: PackKind, pack: Pack, food: Freezable, freezer_c: float) -> float:
    """Heat of freezing alone through a surface without resistance (Plank): below every freezing time."""
    if pack.round:
        return plank_s(Shape.SPHERE, food, pack.thickness_m, PERFECT_FILM, around_c=freezer_c) / 3600
    slab_s = plank_s(Shape.SLAB, food, pack.thickness_m, PERFECT_FILM, around_c=freezer_c)
    return slab_s / dimensions(pack, LARGE_BIOT) / 3600
