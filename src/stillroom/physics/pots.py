"""Cooling of pots, bowls and trays, between stirred all the time (one temperature) and still (heat creeps out).

The truth of a pot that nobody stirs lies between both limits: a thin broth near the first, chili near the second.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from stillroom.physics.band import Band
from stillroom.physics.conduction import axial_series, radial_series
from stillroom.physics.history import FloatArray
from stillroom.physics.medium import Medium
from stillroom.physics.properties import Thermal

S_PER_H = 3600.0
MODES = 40
UNTOUCHED_FOURIER = 0.005  # until then the slowest point has lost less than 1e-12 of its heat


@dataclass(frozen=True, slots=True)
class Pot:
    """A round vessel; depth is that of the food. Wall resistance thickness/k [m² K/W]: steel 0, glass 5 mm 0.005."""

    diameter_m: float
    depth_m: float
    wall_m2_k_w: float = 0.0

    def __post_init__(self) -> None:
        _sizes(self.diameter_m, self.depth_m, self.wall_m2_k_w)

    @property
    def volume_m3(self) -> float:
        """Volume of the food [m³]."""
        return math.pi / 4 * self.diameter_m**2 * self.depth_m

    @property
    def side_m2(self) -> float:
        """Surface of the wall beside the food [m²]."""
        return math.pi * self.diameter_m * self.depth_m

    @property
    def end_m2(self) -> float:
        """Surface of the top or of the bottom [m²]."""
        return math.pi / 4 * self.diameter_m**2


@dataclass(frozen=True, slots=True)
class Pan:
    """A rectangular pan or tray; depth is that of the food."""

    length_m: float
    width_m: float
    depth_m: float
    wall_m2_k_w: float = 0.0

    def __post_init__(self) -> None:
        _sizes(min(self.length_m, self.width_m), self.depth_m, self.wall_m2_k_w)

    @property
    def volume_m3(self) -> float:
        """Volume of the food [m³]."""
        return self.length_m * self.width_m * self.depth_m

    @property
    def side_m2(self) -> float:
        """Surface of the walls beside the food [m²]."""
        return 2 * (self.length_m + self.width_m) * self.depth_m

    @property
    def end_m2(self) -> float:
        """Surface of the top or of the bottom [m²]."""
        return self.length_m * self.width_m


Vessel = Pot | Pan


def newton_rate_per_s(from_c: float, to_c: float, surroundings_c: float, time_s: float) -> float:
    """Cooling rate k [1/s] learned from two readings of a stirred pot.

    k = ln((T1 − Ta)/(T2 − Ta))/t

    Valid: T1, T2 on the same side of Ta, T2 nearer to it; t > 0, else ValueError. Source: Newton's law of cooling.
    """
    if not time_s > 0 or not (from_c - surroundings_c) / (to_c - surroundings_c or math.inf) > 1:
        raise ValueError("Two readings must come nearer to the surroundings without reaching them.")
    return math.log((from_c - surroundings_c) / (to_c - surroundings_c)) / time_s


def newton_time_s(from_c: float, to_c: float, surroundings_c: float, rate_per_s: float) -> float:
    """Time [s] to cool from `from_c` to `to_c`; infinite when the surroundings are not colder than `to_c`.

    t = ln((T1 − Ta)/(T2 − Ta))/k

    Valid: k > 0, else ValueError; 0 when it is as cold already. Source: Newton's law of cooling.
    """
    if not rate_per_s > 0:
        raise ValueError("The cooling rate must be above zero.")
    if from_c <= to_c:
        return 0.0
    if to_c <= surroundings_c:
        return math.inf
    return math.log((from_c - surroundings_c) / (to_c - surroundings_c)) / rate_per_s


def stirred_time_s(vessel: Vessel, food: Thermal, around: Medium, film: float, *, from_c: float, to_c: float) -> float:
    """Time [s] of a pot that is stirred all the time and so has one temperature.

    k = A/(1/h + wall)/(ρ V cp), A the sides and the ends that the surroundings touch

    Valid: `film` [W/(m² K)] > 0. Source: lumped body, Newton's law; the food's own film counts as in `film`.
    """
    area_m2 = vessel.side_m2 + around.ends * vessel.end_m2
    heat_j_k = food.density_kg_m3 * food.specific_heat_j_kg_k * vessel.volume_m3
    return newton_time_s(from_c, to_c, around.temp_c, _through_wall(film, vessel) * area_m2 / heat_j_k)


def still_time_s(vessel: Vessel, food: Thermal, around: Medium, film: float, *, from_c: float, to_c: float) -> float:
    """Time [s] until the slowest point of a still, thick food is at `to_c`, started at one temperature.

    Product of modes over depth and over the radius (pot) or length and width (pan); an end that the surroundings
    do not touch is insulated.

    Valid: `film` [W/(m² K)] so that h R/k is at least 0.001. Source: Carslaw & Jaeger, as `conduction`.
    """
    if from_c <= to_c:
        return 0.0
    if to_c <= around.temp_c:
        return math.inf
    series = _series(vessel, food, around, film)
    left = (to_c - around.temp_c) / (from_c - around.temp_c)

    def too_warm(log_time: float) -> float:
        now_s = math.exp(log_time)
        return math.prod(min(1.0, float(weights @ np.exp(-rates * now_s))) for rates, weights in series) - left

    first = math.log(UNTOUCHED_FOURIER / food.diffusivity_m2_s * _shortest_way_m(vessel, around) ** 2)
    if too_warm(first) <= 0:
        return math.exp(first)
    return math.exp(float(brentq(too_warm, first, math.log(1e10), xtol=1e-7)))


def _shortest_way_m(vessel: Vessel, around: Medium) -> float:
    across_m = vessel.diameter_m if isinstance(vessel, Pot) else min(vessel.length_m, vessel.width_m)
    return min(vessel.depth_m / around.ends, across_m / 2) if around.ends else across_m / 2


def _series(vessel: Vessel, food: Thermal, around: Medium, film: float) -> list[tuple[FloatArray, FloatArray]]:
    """Rates [1/s] and weights [-] of the modes along each axis, at the slowest point."""
    h = _through_wall(film, vessel)

    def slab(size_m: float, *, base: bool = True, top: bool = True) -> tuple[FloatArray, FloatArray]:
        biot = np.array([h * size_m / food.conductivity_w_m_k])
        roots, weights, _ = axial_series(biot * base, biot * top, MODES)
        return food.diffusivity_m2_s * (roots[:, 0] / size_m) ** 2, weights[:, 0]

    depth = [slab(vessel.depth_m, base=around.touches_bottom, top=around.touches_top)] if around.ends else []
    if isinstance(vessel, Pan):
        return [*depth, slab(vessel.length_m), slab(vessel.width_m)]
    radius_m = vessel.diameter_m / 2
    roots, weights = radial_series(np.array([h * radius_m / food.conductivity_w_m_k]), MODES)
    return [*depth, (food.diffusivity_m2_s * (roots[:, 0] / radius_m) ** 2, weights[:, 0])]


def time_h(vessel: Vessel, food: Thermal, around: Medium, *, from_c: float, to_c: float, stirred: bool) -> Band:
    """Time [h] until the food, at its warmest point, has cooled from one temperature to another.

    Stirred: lumped body over the band of surface coefficients. Still: from the lumped body (thin broth, best
    surface) to conduction alone (thick food, poorest surface); the middle is their geometric mean.

    Valid: temperatures −40 to 150 °C by the properties. Infinite where the surroundings are not cold enough.
    """

    def seconds(limit: str, film: float) -> float:
        find = stirred_time_s if limit == "stirred" else still_time_s
        return find(vessel, food, around, film, from_c=from_c, to_c=to_c)

    low = seconds("stirred", around.film_high)
    middle = seconds("stirred", around.film_middle)
    if stirred:
        return Band(low, middle, seconds("stirred", around.film_low), "s").in_units(1 / S_PER_H, "h")
    middle = math.sqrt(middle * seconds("still", around.film_middle))
    return Band(low, middle, seconds("still", around.film_low), "s").in_units(1 / S_PER_H, "h")


def _through_wall(film: float, vessel: Vessel) -> float:
    if not film > 0:
        raise ValueError("The surface coefficient must be above zero.")
    return 1 / (1 / film + vessel.wall_m2_k_w)


def _sizes(across_m: float, depth_m: float, wall_m2_k_w: float) -> None:
    if not (0.01 <= across_m <= 2 and 0.002 <= depth_m <= 1 and 0 <= wall_m2_k_w <= 1):
        raise ValueError("A vessel is 1 cm to 2 m across and holds 2 mm to 1 m of food.")
