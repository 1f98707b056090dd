"""The household's own canner, from the canner column of its logs: what a log teaches beside the jar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stillroom.errors import InputError
from stillroom.heat.probe_file import ProbeLog
from stillroom.model.process import ProcessCard
from stillroom.physics.band import Band
from stillroom.physics.canner import BOILING_WATER_TIMING, CannerTiming
from stillroom.physics.canner_learning import LoggedRun, learn, observed
from stillroom.physics.steam import boiling_point_c, canner_temp_c
from stillroom.physics.uncertainty import Spread

AIR_C = float(CannerTiming().air_c)
RUN_TO_RUN = 0.1  # how far the cooling of one canner may differ from its logs: judgement


@dataclass(frozen=True, slots=True)
class CannerTimes:
    """Stretches of one run [min], each to one reading either way; None where the log does not show it."""

    heat_up: Band | None
    vent: Band | None
    come_up: Band | None
    cooling: Band | None  # from the mark to no pressure


@dataclass(frozen=True, slots=True)
class OwnCanner:
    """The times of the canner as its logs show them, the printed ones for the rest, from so many runs."""

    timing: CannerTiming
    cooling_time_constant_min: Spread | None
    runs: int


def canner_times(log: ProbeLog, card: ProcessCard, *, gauge_error_psi: float) -> CannerTimes | None:
    """The times of a canner that came up to the pressure of its card, or to the boil; otherwise None."""
    run = _run(log, card, gauge_error_psi)
    if run is None:
        return None
    seen = observed(run, AIR_C)
    reading_min = float(np.diff(run.time_min).max())

    def band(name: str, times: float = 1.0) -> Band | None:
        if name not in seen:
            return None
        value_min = seen[name] * times
        return Band(max(value_min - reading_min, 0.0), value_min, value_min + reading_min, "min")

    hold_c, boil_c = float(canner_temp_c(run.gauge_psi, card.altitude_m)), float(boiling_point_c(card.altitude_m))
    to_zero = float(np.log((hold_c - AIR_C) / (boil_c - AIR_C)))  # 0 in an open canner, which shows no cooling
    return CannerTimes(
        heat_up=band("heat_up_min"),
        vent=band("vent_min"),
        come_up=band("come_up_min"),
        cooling=band("cooling_time_constant_min", to_zero),
    )


def own_canner(logs: Sequence[ProbeLog], card: ProcessCard, *, gauge_error_psi: float) -> OwnCanner | None:
    """What the logs together teach; None where none of them came up to the pressure of the card, or to the boil."""
    runs = [run for log in logs if (run := _run(log, card, gauge_error_psi)) is not None]
    if not runs:
        return None
    cooling = [seen for run in runs if (seen := observed(run, AIR_C).get("cooling_time_constant_min")) is not None]
    timing = learn(runs, CannerTiming() if card.pressure_psi is not None else BOILING_WATER_TIMING)
    spread = None
    if cooling:
        likely_min = float(np.median(cooling))
        spread = Spread(min(cooling) * (1 - RUN_TO_RUN), likely_min, max(cooling) * (1 + RUN_TO_RUN))
    return OwnCanner(timing, spread, len(runs))


def _run(log: ProbeLog, card: ProcessCard, gauge_error_psi: float) -> LoggedRun | None:
    """The canner of a log as a run that can be learnt from; None without a canner, or a hold at the mark."""
    if log.canner_c is None:
        return None
    true_psi = card.pressure_psi - gauge_error_psi if card.pressure_psi is not None else 0.0
    run = LoggedRun(np.asarray(log.time_min), np.asarray(log.canner_c), true_psi, card.altitude_m)
    try:
        observed(run, AIR_C)
    except InputError:  # never at its mark: the hold of the comparison says so
        return None
    return run
