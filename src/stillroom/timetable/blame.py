"""Where lateness comes from on simulated days, and the slack that would take it away."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from stillroom.timetable.problem import Lag
from stillroom.timetable.simulate import ON_TIME_MIN, Simulated
from stillroom.timetable.slack import Slack

LEAST_BLAME = 0.1  # a task that explains less of the lateness gets no slack for it

Real = npt.NDArray[np.float64]
_Miss = tuple[Real, float, Lag | None]


def slack_for(seen: Simulated, meals_share: float, clocks_share: float) -> Slack:
    """Slack for whatever makes meals and safety clocks late too often; empty when nothing is.

    A task is blamed for the share of the variance of the lateness that it explains: the minutes of tasks are
    independent, so a regression on each of them alone tells. It gets that share of the minutes that are missing: after
    it, or, where it makes a clock run out by ending early, off the clock.
    """
    minutes = (seen.days.ends - seen.days.starts).astype(np.float64)
    minutes -= minutes.mean(axis=1, keepdims=True)
    variance = (minutes**2).mean(axis=1)
    after: dict[str, int] = {}
    clocks: dict[Lag, int] = {}
    for over, share, lag in _misses(seen, meals_share, clocks_share):
        slopes = minutes @ (over - over.mean()) / over.size / np.maximum(variance, 1e-9)
        explained = np.where(variance > 1e-9, slopes**2 * variance, 0.0)
        shares = explained / max(float(explained.sum()), 1e-9)
        short_min = max(1.0, float(np.quantile(over, share)))
        for number in np.flatnonzero(shares > LEAST_BLAME):
            key, wanted = seen.net.nodes[number].task.key, math.ceil(short_min * shares[number])
            if slopes[number] > 0:
                after[key] = max(wanted, after.get(key, 0))
            elif lag is not None:
                clocks[lag] = max(wanted, clocks.get(lag, 0))
    return Slack(after=after, clocks=clocks)


def _misses(seen: Simulated, meals_share: float, clocks_share: float) -> Iterator[_Miss]:
    """Of all that is late too often: minutes too late on each day, the share of days it must not be, and its clock."""
    for number, node in enumerate(seen.net.nodes):
        if node.task.due is not None:
            yield from _missed(seen.days.ends[number] - node.task.due - float(ON_TIME_MIN), meals_share)
        for clock in node.clocks:
            if clock.lag.is_safety and clock.lag.max_lag is not None:
                wait = seen.days.starts[number] - seen.days.ends[clock.before]
                yield from _missed(wait - float(clock.lag.max_lag), clocks_share, clock.lag)


def _missed(over: Real, share: float, lag: Lag | None = None) -> Iterator[_Miss]:
    if float(np.mean(over <= 0)) < share:
        yield over, share, lag
