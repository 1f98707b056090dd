"""What a logged jar tells: fh, jh and lethality with their uncertainty.

A log describes one jar on one day. It proves nothing about the next one and makes no process.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from stillroom.errors import InputError
from stillroom.heat.broken_line import BrokenLine, Heating, broken_line
from stillroom.heat.probe_file import ProbeLog
from stillroom.physics import ball
from stillroom.physics.band import Band
from stillroom.physics.history import FloatArray, History
from stillroom.physics.lethality import F0, Reference, lethality_by_trapezoid, lethality_of

PROBE_ERROR_C = 0.5  # what a good kitchen probe is off near 120 °C: common practice, no source
CLOSEST_C = 3 * PROBE_ERROR_C  # nearer to the canner than this, the difference is mostly the error of the probes
LAG_SHARE = 0.7  # of the first gap is left when the straight part begins: before it the faster modes still count
FEWEST_ON_LINE = 4
HOT_SPAN_C = 10.0  # a hold is looked for this far under the hottest reading of the canner


@dataclass(frozen=True, slots=True)
class _Line:
    """A line through log10(gap/°C) against minutes, each figure with its 95 % error."""

    slope: float
    slope_error: float
    at_zero: float
    at_zero_error: float


@dataclass(frozen=True, slots=True)
class Fit:
    """The straight heating line of one log, and what the whole log was worth.

    fh: minutes in which the gap to the canner shrinks to a tenth; jh: lag factor, from the start of the hold.
    """

    fh: Band
    jh: Band
    lethality_heating: Band
    lethality_cooling: Band
    reference: Reference
    hold_c: float  # canner temperature that the line was drawn against
    line_start_min: float
    line_end_min: float
    readings_on_line: int
    broken: BrokenLine | None  # where one line does not do
    by_ball: Band | None  # F0 of this line by Ball's formula; None for other yardsticks, outside its table, or a break


def fit(log: ProbeLog, *, hold_c: float | None = None, reference: Reference = F0) -> Fit:
    """fh, jh and lethality of a log.

    Regression of log10(hold − T) on time over the straight part. The bands of fh and jh span the 95 % intervals of the
    line with the probe right and off by its error either way; the lethality spans the exact integral over straight
    lines and the trapezoid of the readings, likewise.
    `hold_c` [°C]: the canner in the hold; needed where the canner was not logged.
    Raises InputError where the log has no straight part to draw a line through.
    Source: Ball's formula method (1923) as printed by Stoforos (2010); time zero at the start of the hold, no credit
    for the come-up (the 42 % of the method are disputed, Simpson and others 2012).
    """
    times, jar_c = np.asarray(log.time_min), np.asarray(log.jar_c)
    hold = held_c(log, hold_c)
    start = hold_start(log, hold)
    off = heat_off(log, hold)
    line = _straight_part(times, jar_c, hold, start, off)
    errors_c = (0.0, -PROBE_ERROR_C, PROBE_ERROR_C)
    lines = tuple(_line(times[line] - times[start], hold + error_c - jar_c[line]) for error_c in errors_c)
    if not all(each.slope + each.slope_error < 0 for each in lines):
        raise InputError("The jar does not close in on the canner in this log; check which column is the jar.")
    heating, cooling = _lethality(log, off, reference)
    fh, jh = _fh(lines), _jh(lines, float(hold - jar_c[start]))
    canner_c = np.full_like(jar_c, hold) if log.canner_c is None else np.asarray(log.canner_c)
    held = slice(start, off + 1)
    held_part = Heating(times[held] - times[start], jar_c[held], canner_c[held], line[held], hold)
    broken = broken_line(held_part, errors_c, fh.middle, jh.middle)
    if broken is not None:
        broken = replace(broken, at_min=broken.at_min + float(times[start]))
    is_f0 = reference.name == F0.name and broken is None
    return Fit(
        fh=fh,
        jh=jh,
        lethality_heating=heating,
        lethality_cooling=cooling,
        reference=reference,
        hold_c=hold,
        line_start_min=float(times[line][0]),
        line_end_min=float(times[line][-1]),
        readings_on_line=int(line.sum()),
        broken=broken,
        by_ball=_by_ball(fh, jh, hold, float(jar_c[start]), float(times[off] - times[start])) if is_f0 else None,
    )


def hold_start(log: ProbeLog, hold_c: float) -> int:
    """Index of the first reading of the hold: the canner within 1 °C of it, or the first reading without a canner."""
    if log.canner_c is None:
        return 0
    return int(np.argmax(np.asarray(log.canner_c) >= hold_c - 1.0))


def heat_off(log: ProbeLog, hold_c: float) -> int:
    """Index of the last reading of the hold; without a canner column, of the hottest reading of the jar."""
    if log.canner_c is None:
        return int(np.argmax(log.jar_c))
    return len(log.canner_c) - 1 - int(np.argmax(np.asarray(log.canner_c)[::-1] >= hold_c - 1.0))


def held_c(log: ProbeLog, hold_c: float | None) -> float:
    """What the canner held [°C]: where most of its hottest readings lie, or as given.

    Of the readings within 10 °C of the hottest, the median of those about the fullest degree: a pressure that shot up
    for a minute is no hold.
    """
    if log.canner_c is None:
        if hold_c is None:
            raise InputError("The log has no canner column, and nothing says what the canner held. Add “canner_c”.")
        return hold_c
    canner_c = np.asarray(log.canner_c)
    hot_c = canner_c[canner_c >= canner_c.max() - HOT_SPAN_C]
    counts, edges = np.histogram(hot_c, bins=int(HOT_SPAN_C), range=(canner_c.max() - HOT_SPAN_C, canner_c.max()))
    fullest_c = edges[:-1][counts == counts.max()][-1] + 0.5
    return float(np.median(hot_c[np.abs(hot_c - fullest_c) <= 1.0]))


def _straight_part(times: FloatArray, jar_c: FloatArray, hold: float, start: int, off: int) -> np.ndarray:
    gap = hold - jar_c
    index = np.arange(len(times))
    inside = (index >= start) & (index <= off) & (gap >= CLOSEST_C) & (gap <= LAG_SHARE * gap[start])
    if inside.sum() < FEWEST_ON_LINE:
        raise InputError(
            f"Only {int(inside.sum())} readings lie on the straight part of the heating line; {FEWEST_ON_LINE} are "
            "needed. Log more often, and check that the canner temperature belongs to this log."
        )
    return np.asarray(inside)


def _line(minutes: FloatArray, gap_c: FloatArray) -> _Line:
    """Least squares of log10(gap) on time with the errors of Student's t at 95 %."""
    from scipy.special import stdtrit

    y = np.log10(gap_c)
    spread = float(((minutes - minutes.mean()) ** 2).sum())
    slope = float(((minutes - minutes.mean()) * (y - y.mean())).sum()) / spread
    at_zero = float(y.mean() - slope * minutes.mean())
    scatter = float(((y - at_zero - slope * minutes) ** 2).sum()) / (len(minutes) - 2)
    times = float(stdtrit(len(minutes) - 2, 0.975))
    at_zero_error = times * math.sqrt(scatter * (1 / len(minutes) + minutes.mean() ** 2 / spread))
    return _Line(slope, times * math.sqrt(scatter / spread), at_zero, at_zero_error)


def _fh(lines: tuple[_Line, ...]) -> Band:
    ends = [-1 / slope for line in lines for slope in (line.slope - line.slope_error, line.slope + line.slope_error)]
    return Band(min(ends), -1 / lines[0].slope, max(ends), "min")


def _jh(lines: tuple[_Line, ...], first_gap_c: float) -> Band:
    ends = [line.at_zero + sign * line.at_zero_error for line in lines for sign in (-1, 1)]
    low, middle, high = (10**power / first_gap_c for power in (min(ends), lines[0].at_zero, max(ends)))
    return Band(low, middle, high, "-")


def _by_ball(fh: Band, jh: Band, hold_c: float, start_c: float, held_min: float) -> Band | None:
    """F0 [min] of the line by Ball's formula over both bands; None outside its table or where nothing was held."""
    if held_min <= 0:
        return None
    try:
        found = [
            ball.lethality_min(fh_min, lag, hold_c, start_c, held_min)
            for fh_min in (fh.middle, fh.low, fh.high)
            for lag in (jh.middle, jh.low, jh.high)
        ]
    except ValueError:
        return None
    return Band(min(found), found[0], max(found), "min")


def _lethality(log: ProbeLog, off: int, reference: Reference) -> tuple[Band, Band]:
    times, jar_c = np.asarray(log.time_min), np.asarray(log.jar_c)
    heating = _worth(times[: off + 1], jar_c[: off + 1], reference)
    return heating, _worth(times[off:], jar_c[off:], reference)


def _worth(times: FloatArray, jar_c: FloatArray, reference: Reference) -> Band:
    """Lethality of one part of the log [min]; a part of one reading is worth nothing."""
    if len(times) < 2:
        return Band(0.0, 0.0, 0.0, "min")
    shifted = [History(times, jar_c + error_c) for error_c in (-PROBE_ERROR_C, 0.0, PROBE_ERROR_C)]
    sums = [float(rule(history, reference)) for history in shifted for rule in (lethality_of, lethality_by_trapezoid)]
    return Band(min(sums), float(lethality_of(shifted[1], reference)), max(sums), "min")
