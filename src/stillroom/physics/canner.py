"""The temperature around the jars through a whole run: heating, vent, come-up, hold, natural cooling, jars in air.

Defaults take the shorter end of what is printed for heating and the ordinary for cooling: they are for caution, where a
timetable plans with the longer. A household's own log beats them: see `canner_learning`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from stillroom.physics.history import FloatArray, History
from stillroom.physics.steam import boiling_point_c, canner_temp_c

Number = float | FloatArray
COME_UP_PIECES, COOLING_PIECES = 4, 4
AIR_TIMES_MIN = (4.0, 10.0, 20.0, 40.0, 80.0, 120.0)


@dataclass(frozen=True, eq=False)
class CannerTiming:
    """How a pressure canner behaves; every field a number or an array of shape (samples,).

    heat_up_min: loaded and lidded to free steam: 12 to 15. vent_min: 10 for every canner and load. come_up_min: vent
    closed to pressure: 3 to 5 (Preserving Food Safely, Michigan State Univ. Extension, 1997).
    cooling_time_constant_min: 165 is 30 min from 240 °F to no pressure in a kitchen of 22 °C, the printed time for
    pints in an old heavy-walled canner; 250 is its 45 min for quarts; 20 to 60 min (same source) is 110 to 330.
    wait_min: weight off to lid off: 10 (2006 revision of the USDA guide, as reported; older printings say 2 and 5).
    air_time_constant_min: of the outside of a jar in still air. With 30 the lethality lies 4 % below to 0.2 % above
    that of a jar which loses 12 W/(m² K) by convection and radiation (by finite volumes; one such case is a test).
    """

    heat_up_min: Number = 12.0
    vent_min: Number = 10.0
    come_up_min: Number = 3.0
    cooling_time_constant_min: Number = 165.0
    wait_min: Number = 10.0
    air_time_constant_min: Number = 30.0
    air_c: Number = 22.0

    def __post_init__(self) -> None:
        times = (self.heat_up_min, self.vent_min, self.come_up_min, self.wait_min)
        if not all((np.asarray(minutes) >= 0).all() for minutes in times):
            raise ValueError("The times of a canner can't be negative.")
        constants = (self.cooling_time_constant_min, self.air_time_constant_min)
        if not all((np.asarray(minutes) > 0).all() for minutes in constants):
            raise ValueError("The cooling constants of a canner must be positive.")


BOILING_WATER_TIMING = CannerTiming(heat_up_min=20.0, vent_min=0.0, come_up_min=0.0, wait_min=5.0)
"""Loaded boiling-water canner to the boil 20 to 30 min (same source); 5 min wait with the heat off."""


@dataclass(frozen=True)
class Swing:
    """Pressure that swings around the setting during the hold, as a zigzag that starts by falling."""

    amplitude_psi: float
    period_min: float

    def __post_init__(self) -> None:
        if self.amplitude_psi < 0 or self.period_min <= 0:
            raise ValueError("A swing needs a positive period and an amplitude that is not negative.")


@dataclass(frozen=True, eq=False)
class CannerRun:
    """History around the jars, the kink where the heat goes off, and the kink at which each phase ends."""

    history: History
    heat_off_kink: int
    phase_end_kink: dict[str, int]


@dataclass(frozen=True, eq=False)
class PressureSetting:
    """A run of a pressure canner as set: gauge as printed, hold, altitude, water temperature when the lid goes on."""

    gauge_psi: float
    hold_min: float
    altitude_m: float
    timing: CannerTiming = CannerTiming()
    start_c: float = 60.0
    swing: Swing | None = None

    def run(self, *, gauge_error_psi: Number = 0.0, cooling_time_constant_min: Number | None = None) -> CannerRun:
        """What happens around the jars; the error is what the gauge shows minus the truth (positive reads high).

        Raises ValueError if the true pressure is not above zero.
        """
        return pressure_run(self, _with_cooling(self.timing, cooling_time_constant_min), gauge_error_psi)


@dataclass(frozen=True, eq=False)
class BoilingSetting:
    """A run of a boiling-water or steam canner: hold at the local boiling point."""

    hold_min: float
    altitude_m: float
    timing: CannerTiming = BOILING_WATER_TIMING
    start_c: float = 60.0

    def run(self, *, gauge_error_psi: Number = 0.0, cooling_time_constant_min: Number | None = None) -> CannerRun:
        """What happens around the jars; there is no gauge, so its error is without effect."""
        del gauge_error_psi
        return boiling_run(self, _with_cooling(self.timing, cooling_time_constant_min))


def _with_cooling(timing: CannerTiming, cooling_time_constant_min: Number | None) -> CannerTiming:
    if cooling_time_constant_min is None:
        return timing
    return replace(timing, cooling_time_constant_min=cooling_time_constant_min)


class _Path:
    """Kinks put one after the other; each may be a number or an array over samples."""

    def __init__(self, temp_c: Number) -> None:
        self.times: list[FloatArray] = [np.zeros(1)]
        self.temps: list[FloatArray] = [np.atleast_1d(np.asarray(temp_c, float))]
        self.phase_end_kink: dict[str, int] = {}

    def go(self, minutes: Number, temp_c: Number) -> None:
        """Straight to `temp_c`; a stretch of no length is left out."""
        if np.max(minutes) > 0:
            self.times.append(self.times[-1] + np.atleast_1d(np.asarray(minutes, float)))
            self.temps.append(np.atleast_1d(np.asarray(temp_c, float)))

    def fall(self, minutes: list[Number], constant_min: Number, towards_c: Number) -> None:
        """Newton's cooling read at the times `minutes` after now, straight between them."""
        start_c, gone = self.temps[-1], 0.0 * self.times[-1]
        for minute in minutes:
            self.go(minute - gone, towards_c + (start_c - towards_c) * np.exp(-np.asarray(minute) / constant_min))
            gone = np.asarray(minute)

    def end(self, phase: str) -> None:
        self.phase_end_kink[phase] = len(self.times) - 1

    def run(self, heat_off: str) -> CannerRun:
        """The history, in columns only where something differs from sample to sample."""
        times, temps = (np.stack(np.broadcast_arrays(*rows)) for rows in (self.times, self.temps))
        if times.shape[1] == 1 and temps.shape[1] == 1:
            times, temps = times[:, 0], temps[:, 0]
        return CannerRun(History(times, temps), self.phase_end_kink[heat_off], self.phase_end_kink)


def _until_the_boil(setting: PressureSetting | BoilingSetting, timing: CannerTiming) -> tuple[_Path, float]:
    if not setting.hold_min >= 0:
        raise ValueError("The hold can't be negative.")
    boil_c = float(boiling_point_c(setting.altitude_m))
    path = _Path(setting.start_c)
    path.go(timing.heat_up_min, boil_c)
    path.end("heating")
    return path, boil_c


def pressure_run(setting: PressureSetting, timing: CannerTiming, gauge_error_psi: Number = 0.0) -> CannerRun:
    """Around the jars in a pressure canner.

    Straight to the boiling point, level while venting, gauge pressure rising evenly, hold with or without swings,
    Newton's cooling through zero pressure and the wait, then the outside of a jar in air. Saturated steam throughout.
    """
    true_psi = np.asarray(setting.gauge_psi, float) - gauge_error_psi
    swing_psi = setting.swing.amplitude_psi if setting.swing else 0.0
    if not (true_psi > swing_psi).all():
        raise ValueError("The true pressure must stay above zero.")
    path, boil_c = _until_the_boil(setting, timing)
    path.go(timing.vent_min, boil_c)
    path.end("vent")
    for part in range(1, COME_UP_PIECES + 1):
        temp_c = canner_temp_c(true_psi * part / COME_UP_PIECES, setting.altitude_m)
        path.go(np.asarray(timing.come_up_min) / COME_UP_PIECES, temp_c)
    path.end("come-up")
    _hold(path, setting, true_psi)
    path.end("hold")
    hold_c = path.temps[-1]
    to_zero_min = timing.cooling_time_constant_min * np.log((hold_c - timing.air_c) / (boil_c - timing.air_c))
    times: list[Number] = [to_zero_min * part / COOLING_PIECES for part in range(1, COOLING_PIECES + 1)]
    path.fall([*times, to_zero_min + timing.wait_min], timing.cooling_time_constant_min, timing.air_c)
    path.end("cooling in the canner")
    path.fall(list(AIR_TIMES_MIN), timing.air_time_constant_min, timing.air_c)
    path.end("jars in air")
    return path.run("hold")


def _hold(path: _Path, setting: PressureSetting, true_psi: FloatArray) -> None:
    """Level, or a zigzag around the setting that ends at the setting."""
    swing, left_min, sign = setting.swing, setting.hold_min, -1.0
    steady_c = canner_temp_c(true_psi, setting.altitude_m)
    while swing is not None and swing.amplitude_psi > 0 and left_min > swing.period_min / 2:
        path.go(swing.period_min / 4, canner_temp_c(true_psi + sign * swing.amplitude_psi, setting.altitude_m))
        path.go(swing.period_min / 4, steady_c)
        left_min, sign = left_min - swing.period_min / 2, -sign
    path.go(left_min, steady_c)


def boiling_run(setting: BoilingSetting, timing: CannerTiming) -> CannerRun:
    """Around the jars in a boiling-water or steam canner: straight to the boil, hold, slow cooling, air."""
    path, boil_c = _until_the_boil(setting, timing)
    path.go(setting.hold_min, boil_c)
    path.end("hold")
    path.fall([timing.wait_min], timing.cooling_time_constant_min, timing.air_c)
    path.end("cooling in the canner")
    path.fall(list(AIR_TIMES_MIN), timing.air_time_constant_min, timing.air_c)
    path.end("jars in air")
    return path.run("hold")
