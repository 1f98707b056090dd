"""fh, jh and lethality of logs: a published history, and made-up jars whose truth is known."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_up import canner_c, cold_spot_c

from stillroom.errors import InputError
from stillroom.heat.fitting import fit
from stillroom.heat.probe_file import ProbeLog
from stillroom.physics.lethality import Reference

# Heat penetration of cans, retort 121 °C, readings 5 min apart; a student problem with a measured history. Worked out
# apart from this program: fh by regression over 25 to 75 min 41.4 ± 1 min; lethality by trapezoid with 121.1 °C and
# z 10 °C 20.98 min, 13.35 of them until 80 min.
PUBLISHED_C = (60, 61, 63, 66, 73, 85, 94, 101, 107, 110, 113, 114, 116, 117, 118, 119, 120, 119, 118, 106, 79, 67)
PUBLISHED_MIN = (*range(0, 95, 5), 95, 100, 105)


def published() -> ProbeLog:
    return ProbeLog(tuple(map(float, PUBLISHED_MIN)), tuple(map(float, PUBLISHED_C)), None)


def test_the_published_history() -> None:
    result = fit(published(), hold_c=121.0, reference=Reference("F0", 121.1, 10.0))
    assert result.fh.middle == pytest.approx(41.4, abs=1.0)
    assert result.fh.low < 41.4 < result.fh.high
    assert (result.line_start_min, result.line_end_min, result.readings_on_line) == (25.0, 75.0, 11)
    assert result.lethality_heating.low < 13.35 < result.lethality_heating.high
    whole = result.lethality_heating, result.lethality_cooling
    assert sum(part.low for part in whole) < 20.98 < sum(part.high for part in whole)


def test_half_a_degree_of_the_probe_is_in_the_band() -> None:
    """Over a hold at one temperature, half a degree is worth a factor of 10^0.05."""
    result = fit(published(), hold_c=121.0, reference=Reference("F0", 121.1, 10.0))
    assert result.lethality_heating.high / result.lethality_heating.middle >= 10**0.05 - 1e-9
    assert result.lethality_heating.middle / result.lethality_heating.low >= 10**0.05 - 1e-9


def test_a_pressure_that_shot_up_for_a_minute_is_no_hold() -> None:
    times = [float(minute) for minute in range(0, 141)]
    canner = [canner_c(minute) + (4.0 if minute in (21.0, 22.0) else 0.0) for minute in times]
    found = fit(ProbeLog(tuple(times), tuple(cold_spot_c(times, 30.0, 60.0)), tuple(canner)))
    assert found.hold_c == pytest.approx(115.6)
    assert found.fh.low < 30.0 < found.fh.high


@settings(max_examples=40, deadline=None)
@given(fh=st.floats(10, 45), start_c=st.floats(20, 80), every=st.sampled_from([0.5, 1.0]), noise=st.integers(0, 99))
def test_a_known_lag_is_found_again(fh: float, start_c: float, every: float, noise: int) -> None:
    times = [every * step for step in range(int(140 / every) + 1)]
    true_c = cold_spot_c(times, fh, start_c)
    spoilt = np.asarray(true_c) + np.random.default_rng(noise).normal(0, 0.1, len(true_c))
    result = fit(ProbeLog(tuple(times), tuple(spoilt), tuple(map(canner_c, times))))
    assert result.hold_c == pytest.approx(115.6, abs=0.01)
    assert result.fh.middle == pytest.approx(fh, rel=0.1)
    assert result.fh.low < fh < result.fh.high
    assert result.jh.low < 1.0 < result.jh.high  # one mode has no lag but its own
    fine_c = cold_spot_c([step / 10 for step in range(1401)], fh, start_c)
    exact = sum(10 ** ((temp - 121.11111) / 10) for temp in fine_c) / 10
    assert result.lethality_heating.low + result.lethality_cooling.low <= exact
    assert exact <= result.lethality_heating.high + result.lethality_cooling.high


def test_a_second_mode_shows_in_jh() -> None:
    """1.6 e^(−t/20) − 0.6 e^(−t/5) of the gap is left: the line has fh 20 ln 10 and jh 1.6 at a sudden start."""
    times = [float(minute) for minute in range(121)]
    gaps = [55.6 * (1.6 * math.exp(-minute / 20) - 0.6 * math.exp(-minute / 5)) for minute in times]
    log = ProbeLog(tuple(times), tuple(115.6 - gap for gap in gaps), tuple(115.6 for _ in times))
    result = fit(log)
    assert result.fh.middle == pytest.approx(20 * math.log(10), rel=0.02)
    assert result.jh.middle == pytest.approx(1.6, rel=0.03)


@pytest.mark.parametrize(
    ("jar_c", "canner_c", "hold_c", "says"),
    [
        ([60.0] * 8, None, None, "no canner column"),
        ([60, 115, 115, 115, 115, 115, 115, 115], None, 115.6, "straight part"),
        ([60, 40, 38, 36, 34, 32, 30, 28], [115.6] * 8, None, "straight part"),
    ],
)
def test_a_log_without_a_heating_line_is_refused(
    jar_c: list[float], canner_c: list[float] | None, hold_c: float | None, says: str
) -> None:
    times = tuple(float(minute) for minute in range(8))
    log = ProbeLog(times, tuple(map(float, jar_c)), tuple(canner_c) if canner_c else None)
    with pytest.raises(InputError, match=says):
        fit(log, hold_c=hold_c)


def test_a_jar_that_cools_in_a_hot_canner_is_the_wrong_column() -> None:
    times = tuple(float(minute) for minute in range(10))
    cooling = ProbeLog(times, (20.0, 80, 78, 76, 74, 72, 70, 68, 66, 64), (115.6,) * 10)
    with pytest.raises(InputError, match="which column"):
        fit(cooling)
