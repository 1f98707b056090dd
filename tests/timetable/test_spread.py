"""How real minutes stray: against the log-normal distribution of a statistics library, and by properties."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm, norm

from stillroom.model.work import Attention
from stillroom.timetable.problem import Mode, Task
from stillroom.timetable.spread import EXACT, Spread, drawn, quantile, still_needed, usual

sigmas = st.floats(0.05, 0.5)
planned = st.integers(1, 600)


@pytest.mark.parametrize("share", [0.01, 0.1, 0.5, 0.9, 0.95, 0.99])
@pytest.mark.parametrize("sigma", [0.1, 0.25, 0.5])
def test_quantiles_are_those_of_the_log_normal_distribution(share: float, sigma: float) -> None:
    """Reference: scipy.stats.lognorm, shape = sigma of the logarithm, scale = median."""
    assert quantile(90, Spread(sigma), share) == pytest.approx(lognorm.ppf(share, sigma, scale=90))
    # Of a canner load of 100 min the 75 of the process are exact.
    assert quantile(100, Spread(sigma, exact_min=75), share) == pytest.approx(75 + lognorm.ppf(share, sigma, scale=25))


def test_times_drawn_follow_the_distribution() -> None:
    """Reference: scipy: evenly spread normal numbers give evenly spread quantiles, to the half minute of rounding."""
    shares = (np.arange(1000) + 0.5) / 1000
    minutes = drawn(90, Spread(0.25), norm.ppf(shares))
    assert np.abs(minutes - lognorm.ppf(shares, 0.25, scale=90)).max() <= 0.5


def test_the_rest_of_a_late_task_is_the_middle_of_all_longer_times() -> None:
    """Reference: conditional median by scipy: P(T > rest | T > done) = 1/2."""
    law = lognorm(0.25, scale=40)
    for done in (40, 45, 60, 80):
        total = law.ppf(1 - law.sf(done) / 2)
        assert still_needed(40, Spread(0.25), done) == math.ceil(total) - done


def test_before_its_planned_end_a_task_needs_the_rest() -> None:
    assert still_needed(40, Spread(0.25), 0) == 40
    assert still_needed(40, Spread(0.25), 39) == 1
    assert still_needed(75, EXACT, 80) == 1


@given(planned, sigmas, st.floats(-4, 4), st.integers(0, 600))
def test_a_process_is_never_cut_short(minutes: int, sigma: float, luck: float, exact: int) -> None:
    normal = np.array([luck])
    assert drawn(minutes, Spread(sigma, has_floor=True), normal)[0] >= minutes
    assert drawn(minutes, Spread(sigma, exact_min=exact), normal)[0] >= min(exact, minutes)
    assert drawn(minutes, Spread(sigma), normal)[0] >= 1
    assert drawn(minutes, EXACT, normal)[0] == minutes
    assert drawn(0, Spread(sigma), normal)[0] == 0


@given(planned, sigmas, st.integers(0, 2000))
def test_something_is_always_left_of_what_goes_on(minutes: int, sigma: float, done: int) -> None:
    assert still_needed(minutes, Spread(sigma), done) >= 1


def test_the_usual_spread_depends_on_who_is_needed() -> None:
    def task(attention: Attention, earliest: int, latest: int) -> Task:
        return Task("a", "a", "run", (Mode(30),), attention, earliest, latest)

    assert usual(task(Attention.HANDS, 0, 100)).sigma == 0.25
    assert usual(task(Attention.NEAR, 0, 100)).sigma == 0.25
    assert usual(task(Attention.FREE, 0, 100)).has_floor
    assert usual(task(Attention.HANDS, 600, 630)) == EXACT  # sitting down to a meal


@pytest.mark.parametrize(("sigma", "exact"), [(-0.1, 0), (1.5, 0), (float("nan"), 0), (0.2, -1)])
def test_impossible_spreads_are_refused(sigma: float, exact: int) -> None:
    with pytest.raises(ValueError, match=r"spread|exact"):
        Spread(sigma, exact)
