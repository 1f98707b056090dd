"""How long the household's own canner took, from the canner column of a log: what a log teaches beside the jar."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.errors import InputError
from stillroom.heat.probe_file import ProbeLog
from stillroom.model.process import ProcessCard
from stillroom.physics.band import Band
from stillroom.physics.canner import CannerTiming
from stillroom.physics.canner_learning import LoggedRun, observed
from stillroom.physics.steam import boiling_point_c, canner_temp_c


@dataclass(frozen=True, slots=True)
class CannerTimes:
    """Stretches of one run [min], each to one reading either way; None where the log does not show it."""

    heat_up: Band | None
    vent: Band | None
    come_up: Band | None
    cooling: Band | None  # from the mark to no pressure


def canner_times(log: ProbeLog, card: ProcessCard, *, gauge_error_psi: float) -> CannerTimes | None:
    """The times of a pressure canner that came up to the pressure of its card; otherwise None."""
    if log.canner_c is None or card.pressure_psi is None:
        return None
    true_psi = card.pressure_psi - gauge_error_psi
    minutes = np.asarray(log.time_min)
    run = LoggedRun(minutes, np.asarray(log.canner_c), true_psi, card.altitude_m)
    air_c = float(CannerTiming().air_c)
    try:
        seen = observed(run, air_c)
    except InputError:  # never at its mark: the hold of the comparison says so
        return None
    reading_min = float(np.diff(minutes).max())

    def band(name: str, times: float = 1.0) -> Band | None:
        if name not in seen:
            return None
        value_min = seen[name] * times
        return Band(max(value_min - reading_min, 0.0), value_min, value_min + reading_min, "min")

    hold_c, boil_c = float(canner_temp_c(true_psi, card.altitude_m)), float(boiling_point_c(card.altitude_m))
    to_zero = float(np.log((hold_c - air_c) / (boil_c - air_c)))
    return CannerTimes(
        heat_up=band("heat_up_min"),
        vent=band("vent_min"),
        come_up=band("come_up_min"),
        cooling=band("cooling_time_constant_min", to_zero),
    )
