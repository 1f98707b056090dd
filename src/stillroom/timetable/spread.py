"""How far real minutes stray from planned ones.

Minutes of people are log-normal: the planned minutes are the middle (as often shorter as longer), and the spread is
that of their logarithm. What nobody hurries (a process, a rise, a rest) is nearly exact and never shorter than planned.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from stillroom.model.work import Attention
from stillroom.timetable.problem import Task

SIGMA = 0.25  # of people's work: two thirds of all times lie within 78 to 128 % (common practice, no source)
FREE_SIGMA = 0.05  # of what runs by itself

Whole = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Spread:
    """exact + (planned - exact) × exp(sigma × z), z standard normal; with a floor never below the planned minutes.

    `sigma` is the standard deviation of the logarithm (0 to 1), `exact_min` the part without any spread: of a canner
    load the minutes of its process.
    """

    sigma: float
    exact_min: int = 0
    has_floor: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.sigma <= 1:
            raise ValueError(f"A spread must lie between 0 and 1, not {self.sigma}.")
        if self.exact_min < 0:
            raise ValueError(f"The exact part of a time must not be negative ({self.exact_min}).")


EXACT = Spread(0.0)


def usual(task: Task) -> Spread:
    """The spread of a task of which nothing else is known.

    A task that fits its hours only at one minute (sitting down to a meal) is an appointment: it is exact.
    """
    if task.latest_end - task.earliest <= min(mode.minutes for mode in task.modes):
        return EXACT
    if task.attention is Attention.FREE:
        return Spread(FREE_SIGMA, has_floor=True)
    return Spread(SIGMA)


def drawn(planned_min: int, spread: Spread, normal: npt.NDArray[np.float64]) -> Whole:
    """Whole minutes for each standard normal number; at least one minute if any were planned."""
    exact = min(spread.exact_min, planned_min)
    minutes = exact + (planned_min - exact) * np.exp(spread.sigma * normal)
    least = planned_min if spread.has_floor else min(1, planned_min)
    whole: Whole = np.maximum(np.rint(minutes), least).astype(np.int64)
    return whole


def quantile(planned_min: int, spread: Spread, share: float) -> float:
    """Minutes that the task keeps below in `share` (0 to 1, both excluded) of all cases.

    exact + (planned - exact) × exp(sigma × Φ⁻¹(share))
    Source: the quantile of the log-normal distribution (any handbook of statistics).
    """
    exact = min(spread.exact_min, planned_min)
    minutes = exact + (planned_min - exact) * math.exp(spread.sigma * NormalDist().inv_cdf(share))
    return max(minutes, planned_min) if spread.has_floor else minutes


def still_needed(planned_min: int, spread: Spread, done_min: int) -> int:
    """Minutes that a task still takes, most likely, when it has been going on for `done_min` [min]; at least 1.

    Before its planned end that is the rest; after it, the middle of all longer times:
    share = (1 + share of times up to now) / 2.
    """
    if done_min < planned_min:
        return planned_min - done_min
    exact = min(spread.exact_min, planned_min)
    if spread.sigma == 0 or planned_min == exact:
        return 1
    so_far = NormalDist().cdf(math.log(max(1, done_min - exact) / (planned_min - exact)) / spread.sigma)
    share = min((1 + so_far) / 2, 0.999)
    return max(1, math.ceil(quantile(planned_min, spread, share)) - done_min)
