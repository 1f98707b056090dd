"""When to take out what: the published rule by mass, and a band by thickness beside it.

Thawing is slower than freezing: the difference in temperature is small and thawed food conducts three times less.
Food thaws in the fridge, in cold water that is changed, or while it cooks; never on the counter (rule R117).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.errors import OutsideTable, Refusal
from stillroom.physics.band import Band
from stillroom.physics.freezing import Freezable, Pack, dimensions
from stillroom.physics.medium import Medium

S_PER_H = 3600.0
WARMEST_FRIDGE_C = 7.0
WARMEST_WATER_C = 21.0
LARGEST_BIOT = 100.0
METHOD_ERROR = 0.15
FREEZER_C = -18.0  # the latent heat of `freezing.freezable` counts the ice at this temperature


@dataclass(frozen=True, slots=True)
class Thawing:
    """Hours by the published rule and by thickness."""

    rule_h: float
    band: Band

    def take_out_h(self, keeps_h: float) -> float:
        """Hours before use to take the food out: the later of rule and slow side.

        But never earlier than by the quick side and what it then keeps, unless the rule itself says so: a pack that
        thaws quickly must not lie thawed for too long. Valid: keeps_h from 0, else ValueError.
        """
        if not keeps_h >= 0:
            raise ValueError("Thawed food keeps from 0 hours.")
        return min(max(self.rule_h, self.band.high), max(self.rule_h, self.band.low + keeps_h))


def thawing_s(
    food: Freezable, thawed_conductivity_w_m_k: float, half_m: float, film: float, *, from_c: float, around_c: float
) -> float:
    """Time [s] until the middle of a slab, both faces warmed, reaches the freezing point.

    t = ρ d/h (1 + I Bi/2) ∫ dH/(Ta − T) from T0 to Tf, Bi = h d/k of thawed food, I = 0.58 + 0.21 Bi/(Bi + 3)

    The integral is exact for a body of one temperature: ice melts by Raoult's law over a range of temperatures.
    Half-thawed food conducts better than thawed, hence I below 1: our fit to numeric enthalpy solutions (2 to 20 cm
    thick, film 8 to 300 W/(m² K)), met within 12 % in the fridge and 15 % in water of up to 20 °C. No published
    thawing method was at hand to compare.

    Valid: T0 −40 °C up to below Tf, Ta above it; sizes above zero, else ValueError; Bi up to 100, else OutsideTable.
    """
    if not (-40 <= from_c < food.freezing_c < around_c and half_m > 0 and film > 0 and thawed_conductivity_w_m_k > 0):
        raise ValueError("Thawing goes from −40 °C or warmer to surroundings above the freezing point.")
    biot = film * half_m / thawed_conductivity_w_m_k
    if biot > LARGEST_BIOT:
        raise OutsideTable("The pack is too thick for this estimate of thawing.")
    inner = 0.58 + 0.21 * biot / (biot + 3)
    temps_c = food.freezing_c - np.geomspace(food.freezing_c - from_c, 1e-6, 400)
    ice_left = (1 - food.freezing_c / temps_c) / (1 - food.freezing_c / FREEZER_C)
    heat_j_kg = food.frozen_heat_j_kg_k * temps_c - food.latent_j_kg * ice_left
    middles_c = (temps_c[1:] + temps_c[:-1]) / 2
    lumped = float(np.sum(np.diff(heat_j_kg) / (around_c - middles_c)))
    return food.density_kg_m3 * half_m / film * (1 + inner * biot / 2) * lumped


def thawing_h(
    pack: Pack, food: Freezable, thawed_conductivity_w_m_k: float, around: Medium, *, from_c: float = -18.0
) -> Band:
    """Hours until the middle of a pack is thawed, over the band of surface coefficients and 15 % either way.

    Valid: fridge 1 to 7 °C, or water 1 to 21 °C (70 °F: common practice, no source); warmer is refused. Source:
    `thawing_s` over the dimension of the pack, `freezing.dimensions`.
    """
    warmest_c = WARMEST_WATER_C if around.is_water else WARMEST_FRIDGE_C
    if around.temp_c > warmest_c:
        raise Refusal(
            f"Food is thawed in the fridge (up to {WARMEST_FRIDGE_C:g} °C), in cold water (up to {WARMEST_WATER_C:g} "
            "°C) or while it cooks; never on the counter."
        )
    if around.temp_c < 1:
        raise OutsideTable("Below 1 °C food hardly thaws, and no time is known.")
    half_m = pack.thickness_m / 2

    def hours(film: float, error: float) -> float:
        film = 1 / (1 / film + pack.wrap_m2_k_w)
        slab_s = thawing_s(food, thawed_conductivity_w_m_k, half_m, film, from_c=from_c, around_c=around.temp_c)
        return slab_s / dimensions(pack, film * half_m / thawed_conductivity_w_m_k) * (1 + error) / S_PER_H

    low = hours(around.film_high, -METHOD_ERROR)
    return Band(low, hours(around.film_middle, 0.0), hours(around.film_low, METHOD_ERROR), "h")


def rule_h(mass_kg: float, h_per_kg: float) -> float:
    """Hours in the fridge by the published rule, 24 h for each 5 lb (2.27 kg): mass × hours per kilogram (R113).

    Valid: both above zero, else ValueError. Made for whole birds and roasts; thin packs of one kilogram do not
    thaw in 11 hours because they are light, so compare the band.
    """
    if not (mass_kg > 0 and h_per_kg > 0):
        raise ValueError("Mass and hours per kilogram are above zero.")
    return mass_kg * h_per_kg
