"""Filled jars that wait in the kitchen: how warm they still are.

A process counts on the temperature at which the jars go into the canner, so the coldest guess is what matters here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band
from stillroom.physics.medium import Medium
from stillroom.physics.pots import newton_time_s
from stillroom.physics.properties import Thermal

GLASS_HEAT_J_KG_K = 840.0  # soda-lime glass near 60 °C, common figure, from memory


@dataclass(frozen=True, slots=True)
class FilledJar:
    """Outside diameter and height [m], mass of food and of the glass [kg], specific heat of the food [J/(kg K)]."""

    diameter_m: float
    height_m: float
    food_kg: float
    glass_kg: float
    food: Thermal

    def __post_init__(self) -> None:
        if not (0.03 <= self.diameter_m <= 0.3 and 0.03 <= self.height_m <= 0.4):
            raise ValueError("A jar is 3 to 30 cm wide and 3 to 40 cm high.")
        if not (self.food_kg > 0 and self.glass_kg >= 0):
            raise ValueError("A filled jar holds food.")

    @property
    def heat_j_k(self) -> float:
        """Heat to warm jar and food by 1 K [J/K]."""
        return self.food_kg * self.food.specific_heat_j_kg_k + self.glass_kg * GLASS_HEAT_J_KG_K

    def surface_m2(self, around: Medium) -> float:
        """Surface that the surroundings touch: side and the touched ends [m²]."""
        return math.pi * self.diameter_m * (self.height_m + around.ends * self.diameter_m / 4)


def filled_c(jar: FilledJar, food_c: float, jar_c: float) -> float:
    """Temperature [°C] once the jar has taken up its share: (m cp T + m_g c_g T_g)/(m cp + m_g c_g).

    Valid: food and jar −5 to 120 °C, else OutsideTable. Source: heat balance.
    """
    if not all(-5 <= temp <= 120 for temp in (food_c, jar_c)):
        raise OutsideTable("Food and jar must be −5 to 120 °C.")
    glass_j_k = jar.glass_kg * GLASS_HEAT_J_KG_K
    return ((jar.heat_j_k - glass_j_k) * food_c + glass_j_k * jar_c) / jar.heat_j_k


def temp_after_c(jar: FilledJar, start_c: float, around: Medium, wait_min: float) -> Band:
    """Mean temperature [°C] of a jar after it has waited.

    T = Ta + (T0 − Ta) exp(−h A t/(m cp)), over the band of surface coefficients; the middle of the jar is warmer,
    its wall colder.

    Valid: wait of 0 to 24 h, else OutsideTable. Source: Newton's law; jars in air have Bi below 1.
    """
    if not 0 <= wait_min <= 1440:
        raise OutsideTable("Jars wait from 0 minutes to a day.")
    films = (around.film_low, around.film_middle, around.film_high)
    temps = [
        around.temp_c + (start_c - around.temp_c) * math.exp(-60 * wait_min * _rate_per_s(jar, around, film))
        for film in films
    ]
    return Band.spanning("°C", *temps)


def minutes_until(jar: FilledJar, start_c: float, around: Medium, below_c: float) -> Band:
    """Minutes until the mean temperature of a jar falls to `below_c`; the low figure is the one to plan with.

    Valid: as `temp_after_c`; infinite where the surroundings are not colder. Source: Newton's law.
    """

    def minutes(film: float) -> float:
        return newton_time_s(start_c, below_c, around.temp_c, _rate_per_s(jar, around, film)) / 60

    return Band(minutes(around.film_high), minutes(around.film_middle), minutes(around.film_low), "min")


def _rate_per_s(jar: FilledJar, around: Medium, film: float) -> float:
    return film * jar.surface_m2(around) / jar.heat_j_k
