"""Salt by weight, never by spoon: brines by share of water, of brine, or of water and food together."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from stillroom.errors import InputError
from stillroom.physics.water_activity import salt, salt_molality

SATURATED_FRACTION = 0.26395  # salt in saturated brine at 60 °F [w/w], training text on the salometer


class BrineBasis(StrEnum):
    """What the percentage counts from; recipes mean different things by “5 %”."""

    WATER = "of the water"
    BRINE = "of the brine"
    WATER_AND_FOOD = "of water and food"


@dataclass(frozen=True, slots=True)
class Brine:
    """Salt for a brine [g]; strengths by weight, as poured and (with food) when salt has evened out [-]."""

    salt_g: float
    water_g: float
    poured_fraction: float
    evened_fraction: float
    salometer_deg: float

    @property
    def water_activity(self) -> float:
        """Of the brine as poured [-], at 25 °C; in food only the water of the food that holds the salt counts."""
        return salt(salt_molality(self.poured_fraction))


def brine(water_g: float, fraction: float, basis: BrineBasis, food_g: float = 0.0) -> Brine:
    """Salt for `water_g` of water at `fraction` of `basis` [-].

    of the water: salt = p·water; of the brine: salt = water·p/(1 − p); of water and food: salt = p·(water + food).
    InputError beyond a saturated brine (26.395 % at 60 °F) and for amounts that are not above zero.
    """
    if not (math.isfinite(water_g) and water_g > 0 and math.isfinite(food_g) and food_g >= 0 and 0 < fraction < 1):
        raise InputError("Water must be more than nothing, food not less, and salt between 0% and 100%.")
    if basis is BrineBasis.WATER_AND_FOOD and food_g == 0:
        raise InputError("Say how much food lies in the brine, or take the share of the water.")
    salt_g = {
        BrineBasis.WATER: fraction * water_g,
        BrineBasis.BRINE: water_g * fraction / (1 - fraction),
        BrineBasis.WATER_AND_FOOD: fraction * (water_g + food_g),
    }[basis]
    poured = salt_g / (salt_g + water_g)
    if poured > SATURATED_FRACTION:
        raise InputError(f"That is a brine of {poured:.1%}; water takes up at most {SATURATED_FRACTION:.1%} salt.")
    return Brine(salt_g, water_g, poured, salt_g / (salt_g + water_g + food_g), 100 * poured / SATURATED_FRACTION)
