"""When a dough is ready: its temperature drifts towards the room or the fridge, and its yeast works accordingly.

Everything starts from one time that the baker knows ("this dough takes 3 h at 24 °C"); nothing here knows flour,
yeast or starter. Watch the dough, not the clock.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band
from stillroom.physics.first_term import Shape, roots
from stillroom.physics.history import FloatArray
from stillroom.physics.medium import Medium
from stillroom.physics.properties import Thermal
from stillroom.physics.yeast import rates

LONGEST_H = 96.0
STEP_H = 1 / 60
SAME_DOUGH = (0.85, 1.0, 1.2)  # how well the known time repeats: common practice, no source


@dataclass(frozen=True, slots=True)
class Lump:
    """A dough as a ball: mass [kg] and thermal properties; a cover or bowl wall counts as resistance [m² K/W]."""

    mass_kg: float
    thermal: Thermal
    cover_m2_k_w: float = 0.02

    def __post_init__(self) -> None:
        if not (0.02 <= self.mass_kg <= 50 and 0 <= self.cover_m2_k_w <= 1):
            raise ValueError("A dough weighs 20 g to 50 kg.")

    @property
    def radius_m(self) -> float:
        """Radius of the ball of this mass [m]."""
        return float((3 * self.mass_kg / (4 * math.pi * self.thermal.density_kg_m3)) ** (1 / 3))

    def rate_per_h(self, film: float) -> float:
        """How fast the mean temperature follows the surroundings [1/h]: the slowest mode of a ball, ζ² α/r².

        Bi = r/(k (1/h + cover)). Source: `first_term.roots`; the first minutes, with faster modes, are left out.
        """
        biot = self.radius_m / (self.thermal.conductivity_w_m_k * (1 / film + self.cover_m2_k_w))
        root = roots(Shape.SPHERE, biot, 1)[0]
        return 3600 * root**2 * self.thermal.diffusivity_m2_s / self.radius_m**2


@dataclass(frozen=True, slots=True)
class Stay:
    """Where the dough stands and for how long [h]; the last stay goes on until the dough is ready."""

    around: Medium
    hours: float = math.inf

    def __post_init__(self) -> None:
        if not self.hours > 0:
            raise ValueError("A stay lasts more than nothing.")


def dough_temp_c(lump: Lump, start_c: float, stays: Sequence[Stay], film: str, times_h: FloatArray) -> FloatArray:
    """Mean temperature [°C] of a dough at `times_h`, by stays; film = "low", "middle" or "high" coefficient.

    T = Ta + (T0 − Ta) exp(−k t) in each stay

    Valid: start 0 to 40 °C, at least one stay, else ValueError. The heat of fermentation (about 1 K in a big warm
    dough, from memory) is left out.
    """
    if not stays or not 0 <= start_c <= 40:
        raise ValueError("A dough of 0 to 40 °C stands somewhere.")
    temps = np.empty_like(times_h)
    begin_h, begin_c = 0.0, start_c
    for number, stay in enumerate(stays):
        rate = lump.rate_per_h(getattr(stay.around, f"film_{film}"))
        here = times_h >= begin_h
        decay = np.exp(-rate * (times_h[here] - begin_h))
        temps[here] = stay.around.temp_c + (begin_c - stay.around.temp_c) * decay
        if number < len(stays) - 1:
            begin_c = stay.around.temp_c + (begin_c - stay.around.temp_c) * math.exp(-rate * stay.hours)
            begin_h += stay.hours
    return temps


def ready_h(
    lump: Lump, start_c: float, stays: Sequence[Stay], *, known_h: float, known_c: float, doubling_k: float
) -> Band:
    """Hours until a dough has risen as far as it does in `known_h` at `known_c`.

    ∫ rate(T(t)) dt = known_h, rate from `yeast.rates`; low with the quick rate, high with the slow one, each with
    the drift that makes it quicker or slower, and 15 to 20 % either way for the known time itself.

    Valid: known_c 10 to 35 °C; known_h 0.25 to 48; surroundings 1 to 38 °C, else OutsideTable. Never (infinite) when
    it is not ready within 96 h. Source: rules R226, R227; Salvadó et al. 2011; Newton's law.
    """
    if not 0.25 <= known_h <= 48:
        raise OutsideTable("The known rising time must be a quarter of an hour to two days.")
    if not all(1 <= stay.around.temp_c <= 38 for stay in stays):
        raise OutsideTable("A dough rises in surroundings of 1 to 38 °C.")
    times_h = np.arange(0.0, LONGEST_H + STEP_H / 2, STEP_H)
    quick, middle, slow = SAME_DOUGH
    found: dict[str, list[float]] = {"low": [], "middle": [], "high": []}
    for film in ("low", "middle", "high"):
        temps_c = dough_temp_c(lump, start_c, stays, film, times_h)
        slow_rate, rate, quick_rate = rates(temps_c, known_c, doubling_k)
        found["low"].append(_when(times_h, quick_rate, known_h * quick))
        found["middle"].append(_when(times_h, rate, known_h * middle))
        found["high"].append(_when(times_h, slow_rate, known_h * slow))
    return Band(min(found["low"]), found["middle"][1], max(found["high"]), "h")


def _when(times_h: FloatArray, rate: FloatArray, wanted_h: float) -> float:
    """Time [h] at which the integral of the rate reaches `wanted_h`; infinite when it never does."""
    done = np.concatenate(([0.0], np.cumsum((rate[1:] + rate[:-1]) / 2 * np.diff(times_h))))
    if done[-1] < wanted_h:
        return math.inf
    return float(np.interp(wanted_h, done, times_h))
