"""A household's own canner: times of the run fitted from logged series of temperature or gauge pressure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from stillroom.errors import InputError
from stillroom.physics.canner import CannerTiming
from stillroom.physics.history import FloatArray
from stillroom.physics.steam import boiling_point_c, canner_temp_c

NEAR_C = 1.0  # a reading this close to a level counts as on it: a household's probe is no better
MIN_COOLING_READINGS = 3


@dataclass(frozen=True, eq=False)
class LoggedRun:
    """Readings of one run from heat on [min, °C inside the canner] and the gauge setting it was held at.

    A setting of 0 psi is an open canner of boiling water or steam.
    """

    time_min: FloatArray
    temp_c: FloatArray
    gauge_psi: float
    altitude_m: float

    def __post_init__(self) -> None:
        if len(self.time_min) != len(self.temp_c) or len(self.time_min) < 2 or not (np.diff(self.time_min) > 0).all():
            raise InputError("A logged run needs one reading for each time and times that rise; sort it and try again.")


def learn(runs: Sequence[LoggedRun], known: CannerTiming) -> CannerTiming:
    """`known` with every time that the logs show replaced by its median over the runs.

    Heat-up until the boiling point, vent until it leaves it, come-up until the setting, cooling constant from the slope
    of ln(T − air) between heat off and zero pressure. A phase that no log shows keeps its known time. Raises InputError
    if a run never reaches its setting.
    """
    found: dict[str, list[float]] = {}
    for run in runs:
        for name, value in observed(run, float(known.air_c)).items():
            found.setdefault(name, []).append(value)
    return replace(known, **{name: float(np.median(values)) for name, values in found.items()})


def observed(run: LoggedRun, air_c: float) -> dict[str, float]:
    """The fields of `CannerTiming` that one run shows [min]; see `learn`. Raises InputError as `learn` does."""
    boil_c = float(boiling_point_c(run.altitude_m))
    hold_c = float(canner_temp_c(run.gauge_psi, run.altitude_m))
    held = np.flatnonzero(run.temp_c >= hold_c - NEAR_C)
    if len(held) == 0:
        raise InputError(
            f"A logged run never reaches its setting of {run.gauge_psi:g} psi: leave it out or correct it."
        )
    first, last = int(held[0]), int(held[-1])
    if run.gauge_psi == 0:  # water boils or it does not: only the way there can be learnt
        boils_min = _crossing(run, boil_c - NEAR_C, first)
        return {"heat_up_min": boils_min - float(run.time_min[0])} if first > 0 else {}
    at_setting_min = _crossing(run, hold_c, first)
    leaves = _first_above(run.temp_c[: first + 1], boil_c + NEAR_C)
    pressure_min = _crossing(run, boil_c + NEAR_C, leaves)
    found = {"come_up_min": max(at_setting_min - pressure_min, 0.0)}
    if run.temp_c[0] < boil_c - 2 * NEAR_C:
        boils = _first_above(run.temp_c[: first + 1], boil_c - NEAR_C)
        boils_min = _crossing(run, boil_c - NEAR_C, boils)
        found |= {"heat_up_min": boils_min - float(run.time_min[0]), "vent_min": max(pressure_min - boils_min, 0.0)}
    cooling = np.flatnonzero((np.arange(len(run.temp_c)) >= last) & (run.temp_c > boil_c + NEAR_C / 2))
    if len(cooling) >= MIN_COOLING_READINGS:
        slope = np.polyfit(run.time_min[cooling], np.log(run.temp_c[cooling] - air_c), 1)[0]
        if slope < 0:
            found["cooling_time_constant_min"] = float(-1 / slope)
    return found


def _first_above(temp_c: FloatArray, level_c: float) -> int:
    return int(np.flatnonzero(temp_c >= level_c)[0])


def _crossing(run: LoggedRun, level_c: float, index: int) -> float:
    """Time at which the line to reading `index` crosses `level_c` [min]; the reading's own time where it does not."""
    if index == 0 or run.temp_c[index] <= level_c:
        return float(run.time_min[index])
    share = (level_c - run.temp_c[index - 1]) / (run.temp_c[index] - run.temp_c[index - 1])
    return float(run.time_min[index - 1] + max(share, 0.0) * (run.time_min[index] - run.time_min[index - 1]))
