"""How fast somebody really is at a task: learned from what it took, shrunk towards what was planned.

The logarithm of (taken / planned) is normal with a mean and a variance that are not known; what was planned is worth as
much as three times of one's own. So a few odd times change little, and many equal ones change all.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import fmean, median

from stillroom.timetable.spread import SIGMA

PRIOR_TIMES = 3.0  # so many times of one's own the planned minutes are worth (common practice, no source)
PRIOR_SHAPE = 3.0
LEAST_TIMES = 3  # fewer say nothing
MOST_RATIO = 5.0  # a time beyond this many times the planned one, or this part of it, is a forgotten timer or a slip
MOST_OFF, MOST_WIDE = 2 * SIGMA, 3 * SIGMA  # further from the middle of all times one does not pull mean and spread
MOST_SIGMA = 0.6


@dataclass(frozen=True, slots=True)
class Pace:
    """Planned minutes are multiplied by `factor`; `sigma` is the spread around that. `ignored` times were nonsense."""

    factor: float = 1.0
    sigma: float = SIGMA
    times: int = 0
    ignored: int = 0


def learned(times: Iterable[tuple[float, float]]) -> Pace:
    """The pace from pairs of planned and taken minutes; in any order.

    x = ln(taken / planned), no further than `MOST_OFF` (in the spread `MOST_WIDE`) from the median of all x and of
    `PRIOR_TIMES` zeros.
    Posterior of a normal-inverse-gamma prior (m0 = 0, k0 = 3, a0 = 3, b0 = (a0 - 1) sigma0²):
    kn = k0 + n; mn = sum(x) / kn; an = a0 + n/2; bn = b0 + sum((x - mean)²)/2 + k0 n mean² / (2 kn).
    factor = exp(mn), sigma² = bn / (an - 1).
    Source: K. P. Murphy, Conjugate Bayesian analysis of the Gaussian distribution (2007), section 6; from memory. We
    differ: times that can't be are left out, and far ones pull no further than those.
    """
    pairs = list(times)
    logs = [math.log(taken / planned) for planned, taken in pairs if _can_be(planned, taken)]
    ignored = len(pairs) - len(logs)
    if len(logs) < LEAST_TIMES:
        return Pace(times=len(logs), ignored=ignored)
    middle = median([0.0] * round(PRIOR_TIMES) + logs)
    near, wide = (_within(logs, middle, most) for most in (MOST_OFF, MOST_WIDE))
    count, mean = len(near), fmean(near)
    weight = PRIOR_TIMES + count
    spread = sum((x - mean) ** 2 for x in wide) / 2 + PRIOR_TIMES * count * mean**2 / (2 * weight)
    variance = ((PRIOR_SHAPE - 1) * SIGMA**2 + spread) / (PRIOR_SHAPE + count / 2 - 1)
    return Pace(math.exp(sum(near) / weight), min(MOST_SIGMA, math.sqrt(variance)), count, ignored)


def _within(logs: list[float], middle: float, most: float) -> list[float]:
    return [min(max(x, middle - most), middle + most) for x in logs]


def _can_be(planned: float, taken: float) -> bool:
    is_number = math.isfinite(planned) and math.isfinite(taken) and planned > 0 and taken > 0
    return is_number and 1 / MOST_RATIO <= taken / planned <= MOST_RATIO
