"""Broken heating: jars made by a general solver of their differential equation, never by our own modes."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from made_up import canner_c, cold_spot_c
from scipy.integrate import solve_ivp

from stillroom.heat.fitting import fit
from stillroom.heat.probe_file import ProbeLog
from stillroom.physics.lethality import F0

TIMES = np.arange(0.0, 141.0)
CANNER = tuple(canner_c(minute) for minute in TIMES)
CASES = 200


def thickening_jar(fh_before: float, fh_after: float, break_min: float, start_c: float = 60.0) -> np.ndarray:
    """dT/dt = ln 10/fh (canner − T), with another fh after the break (Ball & Olson 1957)."""

    def slope(minute: float, temp_c: np.ndarray) -> np.ndarray:
        return math.log(10) / (fh_before if minute < break_min else fh_after) * (canner_c(minute) - temp_c)

    found = solve_ivp(slope, (0, 140), [start_c], t_eval=TIMES, max_step=0.25, rtol=1e-8)
    return np.asarray(found.y[0])


def log_of(jar_c: np.ndarray, noise_seed: int | None = None, noise_c: float = 0.1) -> ProbeLog:
    if noise_seed is not None:
        jar_c = jar_c + np.random.default_rng(noise_seed).normal(0, noise_c, len(jar_c))
    return ProbeLog(tuple(TIMES), tuple(map(float, jar_c)), CANNER)


@pytest.mark.parametrize(("before", "after", "at"), [(30.0, 90.0, 35.0), (25.0, 60.0, 32.0), (60.0, 30.0, 45.0)])
def test_both_slopes_and_the_break_are_found_again(before: float, after: float, at: float) -> None:
    broken = fit(log_of(thickening_jar(before, after, at), noise_seed=3)).broken
    assert broken is not None
    assert broken.fh_before.middle == pytest.approx(before, rel=0.1)
    assert broken.fh_after.middle == pytest.approx(after, rel=0.1)
    assert broken.at_min == pytest.approx(at, abs=3)
    assert broken.off_with_c < 0.6
    assert broken.off_without_c > 2 * broken.off_with_c


def test_a_published_break_by_its_own_equation() -> None:
    """Ball & Olson's broken curve: log gap falls by 1/fh up to the break and by 1/f2 after it, in a steady retort."""
    times = np.arange(0.0, 81.0)
    gap_c = 70 * 10 ** -(np.minimum(times, 20) / 20 + np.maximum(times - 20, 0) / 80)
    broken = fit(ProbeLog(tuple(times), tuple(121.0 - gap_c), tuple(121.0 for _ in times))).broken
    assert broken is not None
    assert (broken.fh_before.middle, broken.fh_after.middle) == pytest.approx((20, 80), rel=0.02)
    assert broken.at_min == pytest.approx(20, abs=1)


def test_one_line_is_hardly_ever_called_broken() -> None:
    """Not by scatter, nor by a probe that is half a degree off: in at most one of twenty logs (five in a hundred)."""
    draws = np.random.default_rng(7)
    called = 0
    for seed in range(CASES):
        fh, start_c, off_c = draws.uniform(12, 50), draws.uniform(20, 80), draws.uniform(-0.5, 0.5)
        jar_c = np.asarray(cold_spot_c(list(TIMES), fh, start_c)) + off_c
        called += fit(log_of(jar_c, noise_seed=seed)).broken is not None
    assert called <= CASES // 20


@pytest.mark.parametrize("jh", [1.3, 1.6, 2.0])
def test_the_lag_of_a_solid_at_the_start_is_no_break(jh: float) -> None:
    """The slowest five modes of a slab (Carslaw & Jaeger), scaled to a lag factor."""
    modes = [(jh if n == 0 else (1 - jh) * 0.25, (2 * n + 1) ** 2 / 30) for n in range(5)]
    gap_c = 55.6 * sum(share * np.exp(-rate * TIMES) for share, rate in modes)
    assert fit(ProbeLog(tuple(TIMES), tuple(115.6 - gap_c), tuple(115.6 for _ in TIMES))).broken is None


def test_ball_s_formula_lies_near_the_integral_of_a_jar_cooled_in_cold_water() -> None:
    """A steady retort, heating by one line, then Ball's own cooling curve stepped here: F0 of both within 10 %."""
    hold_c, fh_min, held_min = 121.0, 30.0, 60
    heating = [hold_c - 61 * 10 ** (-minute / fh_min) for minute in range(held_min + 1)]
    drop_c = heating[-1] - 21
    cooled = [0.3 * (math.sqrt(1 + (m / fh_min / 0.175) ** 2) - 1) for m in range(1, 10)]
    cooling = [heating[-1] - drop_c * share for share in cooled]
    jar_c = heating + cooling
    canner = [hold_c] * (held_min + 1) + [21.0] * len(cooling)
    found = fit(ProbeLog(tuple(map(float, range(len(jar_c)))), tuple(jar_c), tuple(canner)))
    fine = [temp + (later - temp) * part / 20 for temp, later in pairwise(jar_c) for part in range(20)]
    truth = sum(10 ** ((temp - F0.temp_c) / 10) for temp in fine) / 20
    assert found.by_ball is not None
    assert found.by_ball.middle == pytest.approx(truth, rel=0.1)
    assert found.by_ball.low < truth < found.by_ball.high
