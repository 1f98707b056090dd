"""How a point inside a jar follows the outside: a sum of first-order modes, exact for every piecewise-linear history.

The lag behind the outside is  lag = Σ cᵢ yᵢ  with  yᵢ' = −rᵢ yᵢ + T_out'.  On a straight piece of slope s every mode
tends to s/rᵢ, so after a time t on the piece

    T = T_out − s Σ cᵢ/rᵢ − Σ pᵢ e^(−rᵢ t)

The first sum is known in closed form for all modes (the ramp lag), so only modes that are still alive at a step are
carried; faster ones cost nothing and lose nothing. A mode is dropped when it is worth less than `NEGLIGIBLE_C`.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from stillroom.physics.history import FloatArray, History
from stillroom.physics.lethality import F0, Lethality, Reference, lethal_rate

NEGLIGIBLE_C = 1e-3
STEP_MIN = 2.0


@dataclass(frozen=True, eq=False)
class Modes:
    """First-order modes of one point of each sampled jar, slowest first.

    `rate_per_min`, `coefficient`: shape (modes, samples); `ramp_lag_min`: shape (samples,), the lag in minutes behind
    an outside that rises steadily, over all modes, also those not listed.
    """

    rate_per_min: FloatArray
    coefficient: FloatArray
    ramp_lag_min: FloatArray


@dataclass(frozen=True, eq=False)
class Curve:
    """Temperature of the point on a grid: `time_min`, `temp_c` of shape (steps + 1, samples).

    `piece_start`: index of the first grid point of each straight piece of the history, and last of the final point;
    within a piece the steps are equal and even in number.
    """

    time_min: FloatArray
    temp_c: FloatArray
    piece_start: tuple[int, ...]

    def lethality(self, heat_off_kink: int, reference: Reference = F0) -> Lethality:
        """Minutes at the reference before and after the kink of the history where the heat goes off.

        Simpson's rule on each piece; halving the steps changes it by less than 0.1 %.
        """
        rate = lethal_rate(self.temp_c, reference)
        heating, cooling = np.zeros(rate.shape[1]), np.zeros(rate.shape[1])
        for piece, (first, last) in enumerate(pairwise(self.piece_start)):
            weights = np.full(last - first + 1, 2.0)
            weights[1::2] = 4.0
            weights[[0, -1]] = 1.0
            step_min = self.time_min[first + 1] - self.time_min[first]
            part = heating if piece < heat_off_kink else cooling
            part += weights @ rate[first : last + 1] * step_min / 3
        return Lethality(reference, heating, cooling)


def respond(modes: Modes, history: History, initial_c: float | FloatArray, *, step_min: float = STEP_MIN) -> Curve:
    """Temperature of the point [°C], starting from `initial_c` throughout (scalar or shape (samples,)).

    Steps of `step_min` at most; shorter ones only draw a finer curve. Raises ValueError for a start that is not finite.
    """
    if not np.isfinite(initial_c).all():
        raise ValueError("The temperature at the start must be a finite number.")
    times, outside = history.columns
    samples = modes.rate_per_min.shape[1]
    steps = _steps(times, step_min)
    piece_start = (0, *np.cumsum(steps).tolist())
    time_min, temp_c = np.empty((piece_start[-1] + 1, samples)), np.empty((piece_start[-1] + 1, samples))
    time_min[0], temp_c[0] = times[0], initial_c
    ramp_share = modes.coefficient / modes.rate_per_min
    largest_share, slowest = np.abs(ramp_share).max(axis=1), modes.rate_per_min.min(axis=1)
    parts = modes.coefficient * (outside[0] - initial_c)
    bound = np.abs(parts).max(axis=1)  # of each mode over the samples, never too low
    slope = np.zeros(1)
    for piece, count in enumerate(steps):
        span = times[piece + 1] - times[piece]
        new_slope = (outside[piece + 1] - outside[piece]) / span
        bound += np.abs(slope - new_slope).max() * largest_share
        alive = _alive(bound, slowest * (span.min() / count), count)
        parts[: alive[0]] += (slope - new_slope) * ramp_share[: alive[0]]
        slope, lag = new_slope, new_slope * modes.ramp_lag_min
        decay = np.exp(-modes.rate_per_min[: alive[0]] * (span / count))
        for number, kept in enumerate(alive, 1):
            row, live = piece_start[piece] + number, parts[:kept]
            live *= decay[:kept]
            time_min[row] = times[piece] + number / count * span
            temp_c[row] = outside[piece] + slope * span * (number / count) - lag - live.sum(axis=0)
        bound *= np.exp(-slowest * span.min())
        bound[alive[-1] :] = 0.0
        parts[alive[-1] :] = 0.0
    return Curve(time_min, temp_c, piece_start)


def _steps(times: FloatArray, step_min: float) -> list[int]:
    """Even number of steps of at most `step_min` for each straight piece, the same for all samples."""
    longest = np.diff(times, axis=0).max(axis=1)
    return [2 * max(1, int(np.ceil(minutes / (2 * step_min)))) for minutes in longest]


def _alive(bound: FloatArray, slowest_per_step: FloatArray, count: int) -> list[int]:
    """For each step of a piece, how many modes still count at its end; never rising."""
    reach = np.log(np.maximum(bound, 1e-300) / NEGLIGIBLE_C) / slowest_per_step  # in steps; below 1: dead at once
    reach = np.maximum.accumulate(reach[::-1])  # a mode stays while a faster one is alive; now rising
    return (len(reach) - np.searchsorted(reach, np.arange(1, count + 1))).tolist()  # type: ignore[no-any-return]
