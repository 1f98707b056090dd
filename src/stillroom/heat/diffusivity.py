"""How fast heat moves through a food: from its composition where one is published, else the range of moist ones."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.physics.properties import thermal
from stillroom.physics.uncertainty import Spread
from stillroom.quantities.food_parts import composed_kin, fractions_of
from stillroom.tables.vocabulary import food

TOO_HIGH_BY, TOO_LOW_BY = 0.15, 0.10  # Choi & Okos: measured beef lies 13 % lower (Singh 1982, as tabled 2020)
COOLEST_C, HOTTEST_C = 60.0, 110.0  # the part of the cycle that counts
LEAST_WATER_G = 50.0  # a dry food is packed soaked, and no composition is published for that
MOIST = Spread(1.05e-7, 1.4e-7, 1.82e-7)  # m²/s: lowest to highest of 16 measured foods (Singh 1982, as tabled 2020)
MOIST_CONDUCTIVITY_W_MK = 0.55  # middle of what moist foods have near 90 °C, after Choi & Okos


@dataclass(frozen=True, slots=True)
class Diffusivity:
    """Spread of the diffusivity [m²/s], likely conductivity [W/(m K)], and where both come from."""

    spread_m2_s: Spread
    conductivity_w_mk: float
    basis: str


def diffusivity(food_key: str) -> Diffusivity:
    """Of the food itself, or of all foods that share its printed process.

    α = k/(ρ cp) after Choi & Okos, lowest near 60 °C less 15 %, highest near 110 °C plus 10 %.
    """
    kin = composed_kin(food(food_key), LEAST_WATER_G)
    if not kin:
        return Diffusivity(MOIST, MOIST_CONDUCTIVITY_W_MK, "no composition is published: the range of moist foods")
    cool, hot = ([thermal(fractions_of(key), temp_c) for key in kin] for temp_c in (COOLEST_C, HOTTEST_C))
    low = min(each.diffusivity_m2_s for each in cool) * (1 - TOO_HIGH_BY)
    high = max(each.diffusivity_m2_s for each in hot) * (1 + TOO_LOW_BY)
    both = [*cool, *hot]
    likely = sum(each.diffusivity_m2_s for each in both) / len(both)
    conductivity = sum(each.conductivity_w_m_k for each in both) / len(both)
    return Diffusivity(Spread(low, likely, high), conductivity, f"composition of {_listed(kin)}")


def _listed(keys: tuple[str, ...]) -> str:
    return ", ".join(keys[:3]) + (f" and {len(keys) - 3} more" if len(keys) > 3 else "")
