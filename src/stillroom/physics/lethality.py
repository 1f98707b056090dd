"""Lethality: minutes at a reference temperature that a temperature history is worth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom import units
from stillroom.physics.history import FloatArray, History


@dataclass(frozen=True)
class Reference:
    """A reference temperature [°C] and the rise z [°C] that makes killing ten times faster."""

    name: str
    temp_c: float
    z_c: float


# 250 °F and z 18 °F: proteolytic Clostridium botulinum. 121.1 would read 0.2 %, 121.0 would read 2.3 % more.
F0 = Reference("F0", units.celsius(250), 10.0)
# 200 °F and z 16 °F: high pasteurisation of acid foods (table after Reichert, 1977).
P93 = Reference("P 93.3", units.celsius(200), 16 / 1.8)
# 180 °F: boiling-water and steam canning of acid foods (Willmore and others, 2015); z 16 °F as for P93, from memory.
P82 = Reference("P 82.2", units.celsius(180), 16 / 1.8)
# 70 °C, z 10 °C: mild pasteurisation (table after Reichert, 1977).
P70 = Reference("P 70", 70.0, 10.0)


@dataclass(frozen=True)
class Lethality:
    """Minutes at the reference temperature while heating (until heat off) and while cooling; shape (samples,)."""

    reference: Reference
    heating_min: FloatArray
    cooling_min: FloatArray

    @property
    def total_min(self) -> FloatArray:
        """Heating and cooling together [min]."""
        return self.heating_min + self.cooling_min


def lethal_rate(temp_c: float | FloatArray, reference: Reference = F0) -> FloatArray:
    """Minutes at the reference temperature worth one minute at `temp_c` [-].

    L = 10^((T − T_ref)/z)

    Valid: within about 25 °C of the reference; the law is not known further away, where it hardly counts below and must
    not be used above. Source: Bigelow's law as in every text on canning; Reichert (1977) prints it as tables.
    """
    exponent = (np.asarray(temp_c, dtype=np.float64) - reference.temp_c) * (np.log(10) / reference.z_c)
    return np.asarray(np.exp(exponent), dtype=np.float64)


def lethality_of(history: History, reference: Reference = F0) -> FloatArray:
    """Lethality [min] of a history that is linear between its points, exactly; shape (samples,) or scalar.

    F = Σ Δt (L₂ − L₁) / ln(L₂/L₁)

    Valid: any. For whole-degree readings 5 minutes apart the trapezoid of the rates gives up to 4 % more.
    Source: integral of Bigelow's law over a ramp.
    """
    rate = lethal_rate(history.temp_c, reference)
    logarithm = (history.temp_c - reference.temp_c) * (np.log(10) / reference.z_c)
    ratio = np.diff(logarithm, axis=0)
    flat = np.abs(ratio) < 1e-6
    mean = np.where(flat, (rate[:-1] + rate[1:]) / 2, np.diff(rate, axis=0) / np.where(flat, 1.0, ratio))
    return np.asarray((mean * np.diff(history.time_min, axis=0)).sum(axis=0), dtype=np.float64)


def lethality_by_trapezoid(history: History, reference: Reference = F0) -> FloatArray:
    """Lethality [min] as tables of readings are summed by hand: trapezoids of the lethal rate (general method)."""
    rate = lethal_rate(history.temp_c, reference)
    return np.asarray(((rate[:-1] + rate[1:]) / 2 * np.diff(history.time_min, axis=0)).sum(axis=0), dtype=np.float64)
