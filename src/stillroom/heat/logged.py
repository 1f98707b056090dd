"""A log laid over what was expected of this pack, and the hold that the canner really kept.

Where the temperature of the canner was logged, the expected band is that of the pack in the canner as it really ran,
begun at the first reading of the jar. Otherwise (a gauge shows no heating up) it is the band of the usual run, laid at
the start of the log.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.errors import InputError
from stillroom.heat.curve import Curve
from stillroom.heat.fitting import PROBE_ERROR_C
from stillroom.heat.pack import Pack
from stillroom.heat.probe_file import ProbeLog
from stillroom.physics.band import Band
from stillroom.physics.history import FloatArray, History
from stillroom.physics.history_response import respond
from stillroom.physics.uncertainty import SHARES

JARS, SEED = 300, 1
BELOW_MARK_C = 1.0  # half a degree of the probe and half a degree of weather


@dataclass(frozen=True, slots=True)
class Comparison:
    """The log against the expected band."""

    within_share: float  # of the readings, inside the band widened by the error of the probe
    largest_below_c: float  # how far the jar lay below the band at worst while it warmed up; 0 when never
    at_min: float  # minutes of the log at which that was
    unbroken_hold: Band | None  # longest time without a reading below the mark [min]; None where no canner was logged


def compare(log: ProbeLog, pack: Pack, usual: Curve) -> Comparison:
    """How the log lies against what was expected. Raises InputError where nothing of the two overlaps."""
    low_c, high_c = (
        _in_the_logged_canner(log, pack) if log.canner_c and not log.by_gauge else _in_the_usual_run(log, usual)
    )
    known = np.isfinite(low_c)
    if not known.any():
        raise InputError("The log and the expected cycle do not overlap; log the jar from loading to cooling.")
    jar_c, minutes = np.asarray(log.jar_c)[known], np.asarray(log.time_min)[known]
    low_c, high_c = low_c[known], high_c[known]
    rising = np.arange(len(jar_c)) <= jar_c.argmax()
    below = np.where(rising, np.maximum(low_c - jar_c, 0.0), 0.0)
    worst = int(below.argmax())
    within = (jar_c >= low_c - PROBE_ERROR_C) & (jar_c <= high_c + PROBE_ERROR_C)
    hold = unbroken_hold(log, max(usual.canner_c) - BELOW_MARK_C)
    return Comparison(float(within.mean()), float(below[worst]), float(minutes[worst]), hold)


def unbroken_hold(log: ProbeLog, mark_c: float) -> Band | None:
    """Longest time [min] in which no reading of the canner is below the mark.

    Low: between the readings at its ends. High: up to the readings before and after, which are below.
    """
    if log.canner_c is None:
        return None
    best = Band(0.0, 0.0, 0.0, "min")
    first: int | None = None
    for index, temp_c in enumerate([*log.canner_c, -np.inf]):
        if temp_c >= mark_c:
            first = index if first is None else first
        elif first is not None:
            low = log.time_min[index - 1] - log.time_min[first]
            high = log.time_min[min(index, len(log.time_min) - 1)] - log.time_min[max(first - 1, 0)]
            best = max(best, Band(low, (low + high) / 2, high, "min"), key=lambda band: band.low)
            first = None
    return best


def _in_the_logged_canner(log: ProbeLog, pack: Pack) -> tuple[FloatArray, FloatArray]:
    """Low and high end of the pack in the logged canner, at the times of the log [°C]."""
    minutes = np.asarray(log.time_min)
    history = History(minutes, np.asarray(log.canner_c))
    generator = np.random.default_rng(SEED)
    temps_c = []
    for food in pack.ways:
        drawn = {name: spread.draw(generator, JARS) for name, spread in food.spreads.items()}
        response = respond(food.modes(drawn), history, log.jar_c[0])
        columns = np.broadcast_to(response.time_min, response.temp_c.shape).T
        temps_c += [np.interp(minutes, times, temps) for times, temps in zip(columns, response.temp_c.T, strict=True)]
    low_c, _middle_c, high_c = np.quantile(np.stack(temps_c), SHARES, axis=0)
    return low_c, high_c


def _in_the_usual_run(log: ProbeLog, usual: Curve) -> tuple[FloatArray, FloatArray]:
    """Low and high end of the usual run; not a number where that run has ended."""
    minutes = np.asarray(log.time_min) + usual.time_min[0]
    ended = minutes > usual.time_min[-1]
    low_c, high_c = (np.interp(minutes, usual.time_min, series) for series in (usual.low_c, usual.high_c))
    return np.where(ended, np.nan, low_c), np.where(ended, np.nan, high_c)
