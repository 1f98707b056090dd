"""Seconds of work that are counted, not measured, so that a search ends alike on a busy machine and on an idle one."""

from __future__ import annotations

import time

LEAST_WALL_S = 2.0
PATIENCE = 4.0  # seconds of the wall for a second of work: more nobody should wait on a slow machine


def wall_s(seconds: float) -> float:
    """Seconds of the wall after which a solver stops whose `seconds` of work are counted."""
    return LEAST_WALL_S + PATIENCE * seconds


class WorkClock:
    """How much was done [s of an otherwise idle machine like the one on which the charges were measured].

    Whoever works charges for it: so many tasks laid, steps of a solver, days simulated. The same search is charged the
    same everywhere, so what it finds depends neither on the machine nor on what else that does. Only where the work
    takes longer than `wall_s` says does the clock on the wall push it on.
    """

    def __init__(self) -> None:
        self._charged_s = 0.0
        self._begun = time.perf_counter()

    @property
    def now_s(self) -> float:
        """Seconds of work since the beginning."""
        wall = time.perf_counter() - self._begun
        return max(self._charged_s, (wall - LEAST_WALL_S) / PATIENCE)

    def charge(self, seconds: float) -> None:
        """Counts work that was done."""
        self._charged_s += seconds
