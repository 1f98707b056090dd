"""What fits into a freezer, and how much it freezes in a day; the published rule is the limit, not the physics."""

from __future__ import annotations

import math

from stillroom.physics.band import Band
from stillroom.physics.freezing import Freezable

# share of the space that packs of one kind fill [-]; geometry and common practice, no source, unless said otherwise
FLAT_PACKS = (0.75, 0.85, 0.92)  # frozen flat, then stood like books
BLOCKS = (0.60, 0.70, 0.85)  # boxes and bricks that were made to stack
ROUND_PIECES = (0.55, 0.60, 0.64)  # balls of one size; random packing 0.55 loose to 0.64 close, from memory
ODD_SHAPES = (0.40, 0.45, 0.50)  # birds and joints; 25 to 30 lb per cubic foot, rule R258, at about 1 kg/L


def load_per_day_kg(freezer_l: float, g_per_l_day: float) -> float:
    """Food [kg] that a freezer freezes solid in a day: litres × g per litre and day (32 to 48, rule R124).

    Valid: both above zero, else ValueError. The rule is for packs spread out against cold surfaces.
    """
    if not (freezer_l > 0 and g_per_l_day > 0):
        raise ValueError("The freezer and its load per litre must be above zero.")
    return freezer_l * g_per_l_day / 1000


def days_to_freeze(mass_kg: float, freezer_l: float, low_g_per_l_day: float, high_g_per_l_day: float) -> Band:
    """Days to freeze a mass, a load each day, by the higher and the lower figure of the rule.

    Valid: mass above zero, 0 < low ≤ high, else ValueError. Source: rules R124 and R259.
    """
    if not (mass_kg > 0 and low_g_per_l_day <= high_g_per_l_day):
        raise ValueError("The mass must be above zero and the rule run from low to high.")
    quick = mass_kg / load_per_day_kg(freezer_l, high_g_per_l_day)
    slow = mass_kg / load_per_day_kg(freezer_l, low_g_per_l_day)
    return Band(quick, (quick + slow) / 2, slow, "days")


def daily_loads_kg(mass_kg: float, freezer_l: float, g_per_l_day: float) -> tuple[float, ...]:
    """The loads [kg], one a day and equal, none above the rule. Valid: mass above zero, else ValueError."""
    if not mass_kg > 0:
        raise ValueError("The mass must be above zero.")
    days = math.ceil(mass_kg / load_per_day_kg(freezer_l, g_per_l_day) - 1e-9)
    return (mass_kg / days,) * days


def space_l(mass_kg: float, density_kg_m3: float, packing: tuple[float, float, float]) -> Band:
    """Litres of freezer for packs of one kind: m/(ρ φ), φ = packing fraction.

    Valid: mass, density above zero, 0 < φ ≤ 1 rising, else ValueError. Headspace and boxes are in the density.
    """
    loose, usual, close = packing
    if not (mass_kg > 0 and density_kg_m3 > 0 and 0 < loose <= usual <= close <= 1):
        raise ValueError("Mass and density are above zero and packing fractions rise to at most 1.")
    solid_l = 1000 * mass_kg / density_kg_m3
    return Band(solid_l / close, solid_l / usual, solid_l / loose, "L")


def heat_to_freeze_kj(food: Freezable, mass_kg: float, *, from_c: float, to_c: float = -18.0) -> float:
    """Heat [kJ] to take out: m (cu (Ti − Tf) + L + cf (Tf − T)).

    Valid: from_c above and to_c below the freezing point, else ValueError. Source: heat balance.
    """
    if not (mass_kg > 0 and from_c >= food.freezing_c >= to_c):
        raise ValueError("Food freezes from above to below its freezing point.")
    unfrozen = food.unfrozen_heat_j_kg_k * (from_c - food.freezing_c)
    frozen = food.frozen_heat_j_kg_k * (food.freezing_c - to_c)
    return mass_kg * (unfrozen + food.latent_j_kg + frozen) / 1000
