"""Broken heating: a heating line with two slopes, of food that thickens (or thins) while it heats.

A break is told only where scatter can't explain it, where it stays when the probe is half a degree off either way, and
where a curve with the break follows the log better than one without.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.physics.band import Band
from stillroom.physics.convection import heating_curve_modes, respond_with_break
from stillroom.physics.history import FloatArray, History
from stillroom.physics.history_response import respond

FEWEST_ON_A_LEG = 4
CHANCE = 1e-3  # of a break by scatter alone (F test of two slopes against one): judgement
LEAST_CHANGE = 1.4  # of fh: smaller bends come from a probe that is off or from the last fast mode: judgement
FOLLOWS_BETTER = 2.0  # times nearer to the log with the break than without: judgement
LARGEST_JH = 4.9


@dataclass(frozen=True, slots=True)
class BrokenLine:
    """fh [min] before and after the break, when it was [min of the log], and how far the curves are from the log."""

    fh_before: Band
    fh_after: Band
    at_min: float
    off_with_c: float  # at worst, the curve with the break [°C]
    off_without_c: float


@dataclass(frozen=True, slots=True)
class _Legs:
    knot_min: float
    start: float  # log10 of the gap at time zero
    before: float  # slopes, per minute
    after: float
    squares: float

    @property
    def fh_min(self) -> tuple[float, float]:
        return -1 / self.before, -1 / self.after


@dataclass(frozen=True, eq=False, slots=True)
class Heating:
    """The hold of one log: minutes from its first reading, jar and canner [°C]; `line` marks the straight part."""

    minutes: FloatArray
    jar_c: FloatArray
    canner_c: FloatArray
    line: np.ndarray
    hold_c: float


def broken_line(heating: Heating, errors_c: tuple[float, ...], fh_min: float, jh: float) -> BrokenLine | None:
    """The break of the line, or None; `fh_min` and `jh` are those of one line through all of it.

    Two straight lines that meet: least squares of log10(hold − T) for every place of the break between the readings,
    the best one kept. Source: the broken heating curve of Ball & Olson (1957).
    """
    minutes, jar_c = heating.minutes[heating.line], heating.jar_c[heating.line]
    legs = [_best_legs(minutes, np.log10(heating.hold_c + error_c - jar_c)) for error_c in errors_c]
    first = legs[0]
    if first is None or not _is_real(minutes, np.log10(heating.hold_c - jar_c), first):
        return None
    ratios = [each.before / each.after for each in legs if each is not None]
    if len(ratios) < len(legs) or not (min(ratios) >= LEAST_CHANGE or max(ratios) <= 1 / LEAST_CHANGE):
        return None
    before, after = (Band.spanning("min", *(each.fh_min[leg] for each in legs if each)) for leg in (0, 1))
    with_c, without_c = _off_c(heating, first, fh_min, jh)
    if not with_c * FOLLOWS_BETTER <= without_c:
        return None
    return BrokenLine(before, after, first.knot_min, with_c, without_c)


def _best_legs(minutes: FloatArray, y: FloatArray) -> _Legs | None:
    """Best place of the break with readings enough on both sides; None where a leg does not close in on the canner."""
    best: _Legs | None = None
    for knot_min in minutes[FEWEST_ON_A_LEG - 1 : 1 - FEWEST_ON_A_LEG]:
        columns = np.stack([np.ones_like(minutes), minutes, np.maximum(minutes - knot_min, 0.0)], axis=1)
        found = np.linalg.lstsq(columns, y, rcond=None)[0]
        squares = float(((y - columns @ found) ** 2).sum())
        if best is None or squares < best.squares:
            best = _Legs(float(knot_min), float(found[0]), float(found[1]), float(found[1] + found[2]), squares)
    return best if best is not None and best.before < 0 and best.after < 0 else None


def _is_real(minutes: FloatArray, y: FloatArray, legs: _Legs) -> bool:
    """Whether scatter about one line would so rarely look like a break."""
    from scipy.special import fdtrc

    spare = len(minutes) - 4  # two slopes, one level, one place
    if spare < 1:
        return False
    slope, level = np.polyfit(minutes, y, 1)
    one = float(((y - level - slope * minutes) ** 2).sum())
    rise = (one - legs.squares) / 2 / max(legs.squares / spare, 1e-12)
    return bool(fdtrc(2, spare, rise) < CHANCE)


def _off_c(heating: Heating, legs: _Legs, fh_min: float, jh: float) -> tuple[float, float]:
    """How far the curves with and without the break are from the log at worst, both run in the canner as logged."""
    history = History(heating.minutes, heating.canner_c)
    start_c, gap_c = float(heating.jar_c[0]), float(heating.hold_c - heating.jar_c[0])
    jh_before = 10**legs.start / gap_c
    if not (0 < jh_before < LARGEST_JH and 0 < jh < LARGEST_JH):
        return np.inf, np.inf
    fh_before, fh_after = legs.fh_min
    broken = respond_with_break(heating_curve_modes(fh_before, jh_before), fh_after, legs.knot_min, history, start_c)
    whole = respond(heating_curve_modes(fh_min, jh), history, start_c)

    def off_c(times: FloatArray, temps_c: FloatArray) -> float:
        at_line = np.interp(heating.minutes[heating.line], times[:, 0], temps_c[:, 0])
        return float(np.abs(at_line - heating.jar_c[heating.line]).max())

    return off_c(broken.time_min, broken.temp_c), off_c(whole.time_min, whole.temp_c)
