"""Cold spot of food that flows, or of any food known by its heating curve: from fh and jh, also with a break."""

from __future__ import annotations

import numpy as np

from stillroom.physics.history import FloatArray, History
from stillroom.physics.history_response import Curve, Modes, respond

START_TIMES_FASTER = 20.0


def heating_curve_modes(fh_min: float | FloatArray, jh: float | FloatArray) -> Modes:
    """Two modes with the straight part  (T_out − T) = jh 10^(−t/fh) (T_out − T_start).

    fh [min]: time for the lag to fall to a tenth; jh [-]: lag factor. The second mode has the coefficient 1 − jh, so
    that the curve starts at the true temperature. For jh > 1 its rate makes the start flat, jh/(jh − 1) times the
    first; for jh ≤ 1 the rest heats at once: 20 times the first rate.

    Valid: fh > 0, 0 < jh < 5, else ValueError. Source: definition of fh and jh (Ball & Olson, 1957); the second mode is
    ours.
    """
    fh_min, jh = np.broadcast_arrays(np.atleast_1d(np.asarray(fh_min, float)), np.atleast_1d(np.asarray(jh, float)))
    if not ((fh_min > 0) & (jh > 0) & (jh < 5)).all():
        raise ValueError("fh must be positive and jh lie between 0 and 5.")
    slow = np.log(10) / fh_min
    above_one = np.maximum(jh - 1, 1 / START_TIMES_FASTER)
    fast = slow * np.where(jh > 1, np.minimum(jh / above_one, START_TIMES_FASTER), START_TIMES_FASTER)
    return Modes(np.stack([slow, fast]), np.stack([jh, 1 - jh]), jh / slow + (1 - jh) / fast)


def respond_with_break(
    before: Modes, fh_after_min: float, break_min: float, history: History, initial_c: float
) -> Curve:
    """Broken heating of one jar: modes `before` until `break_min`, then one mode of `fh_after_min` (it thickens).

    The break is one more kink than the history has: `Curve.lethality` counts it where it comes before heat off.
    Raises ValueError if the break lies outside the history. Source: the broken heating curve of Ball & Olson (1957).
    """
    if not history.time_min[0] < break_min < history.time_min[-1]:
        raise ValueError("The break must lie inside the history.")
    early, late = history.up_to(break_min), history.from_time(break_min)
    first = respond(before, early, initial_c)
    second = respond(heating_curve_modes(fh_after_min, 1.0), late, first.temp_c[-1])
    starts = first.piece_start + tuple(first.piece_start[-1] + start for start in second.piece_start[1:])
    return Curve(
        np.concatenate([first.time_min, second.time_min[1:]]),
        np.concatenate([first.temp_c, second.temp_c[1:]]),
        starts,
    )
