"""What is learned of a cook's pace, and what is not."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import invgamma, norm

from stillroom.timetable.pace import LEAST_TIMES, MOST_OFF, MOST_RATIO, PRIOR_SHAPE, PRIOR_TIMES, Pace, learned
from stillroom.timetable.spread import SIGMA

PLANNED = 40.0


def cook(factor: float, times: int, *, sigma: float = 0.2, seed: int = 1) -> list[tuple[float, float]]:
    """Simulated records of somebody who takes `factor` times the planned minutes, give or take."""
    chance = random.Random(f"{factor}/{times}/{sigma}/{seed}")
    return [(PLANNED, PLANNED * factor * math.exp(sigma * chance.gauss(0, 1))) for _ in range(times)]


@pytest.mark.parametrize("factor", [0.6, 0.8, 1.0, 1.3, 2.0])
def test_it_converges_to_the_pace_of_the_cook(factor: float) -> None:
    errors = []
    for times in (5, 20, 200):
        found = [learned(cook(factor, times, seed=seed)).factor for seed in range(40)]
        errors.append(float(np.mean([abs(math.log(each / factor)) for each in found])))
    assert errors[0] >= errors[1] >= errors[2] or factor == 1.0
    assert errors[2] < 0.03


@pytest.mark.parametrize("sigma", [0.1, 0.25, 0.4])
def test_it_converges_to_the_spread_of_the_cook(sigma: float) -> None:
    found = [learned(cook(1.2, 300, sigma=sigma, seed=seed)).sigma for seed in range(20)]
    assert np.mean(found) == pytest.approx(sigma, rel=0.15)


def test_few_times_say_nothing_and_some_say_little() -> None:
    assert learned(cook(1.5, LEAST_TIMES - 1)) == Pace(times=LEAST_TIMES - 1)
    some = learned([(PLANNED, PLANNED * 1.5)] * 3).factor
    many = learned([(PLANNED, PLANNED * 1.5)] * 30).factor
    assert 1.1 < some < many < 1.5


def test_the_estimate_is_the_posterior_of_the_textbook() -> None:
    """Reference: the posterior on a grid of mean and variance, prior and likelihood by scipy.

    Normal-inverse-gamma prior as in K. P. Murphy (2007), section 6: mean given variance is normal around 0 with
    variance / 3, the variance inverse-gamma with shape 3 and mean 0.25².
    """
    logs = np.array([0.12, 0.31, 0.05, 0.24, 0.18])
    mean = np.linspace(-0.6, 0.8, 701)[:, None]
    variance = np.geomspace(0.004, 0.9, 901)[None, :]
    density = (
        invgamma.logpdf(variance, PRIOR_SHAPE, scale=(PRIOR_SHAPE - 1) * SIGMA**2)
        + norm.logpdf(mean, 0.0, np.sqrt(variance / PRIOR_TIMES))
        + sum(norm.logpdf(x, mean, np.sqrt(variance)) for x in logs)
    )
    weight = np.exp(density - density.max()) * variance  # steps of the grid grow with the variance
    weight /= weight.sum()
    found = learned([(PLANNED, PLANNED * math.exp(x)) for x in logs])
    assert math.log(found.factor) == pytest.approx(float((weight * mean).sum()), abs=1e-3)
    assert found.sigma**2 == pytest.approx(float((weight * variance).sum()), rel=5e-3)


@pytest.mark.parametrize(
    "taken",
    [0.0, -5.0, 9 * 60.0, 0.5, math.inf, math.nan],
    ids=["none", "less than none", "a timer of nine hours", "a slip of the finger", "for ever", "no number"],
)
def test_nonsense_teaches_nothing(taken: float) -> None:
    times = cook(1.3, 10)
    clean = learned(times)
    found = learned([*times, (PLANNED, taken)])
    assert (found.factor, found.sigma, found.times) == (clean.factor, clean.sigma, clean.times)
    assert found.ignored == 1
    assert learned([(PLANNED, taken)] * 20) == Pace(times=0, ignored=20)


def test_one_odd_time_changes_little() -> None:
    times = cook(1.0, 10)
    with_one = learned([*times, (PLANNED, 4.5 * PLANNED)])
    assert with_one.factor == pytest.approx(learned(times).factor, rel=0.06)
    assert learned([(PLANNED, 4.5 * PLANNED)]) == Pace(times=1)
    assert learned([(PLANNED, PLANNED), (PLANNED, PLANNED), (PLANNED, 4.5 * PLANNED)]).factor < 1.1


def test_a_cook_who_is_twice_as_slow_is_believed_in_the_end() -> None:
    """The clip follows the cook: it is no ceiling."""
    assert math.exp(MOST_OFF) < 2.2
    assert learned([(PLANNED, 2.2 * PLANNED)] * 100).factor == pytest.approx(2.2, rel=0.03)


records = st.lists(st.tuples(st.floats(-10, 1000), st.floats(-10, 6000)), max_size=30)


@given(records, st.randoms(use_true_random=False))
def test_any_records_give_a_pace_that_can_be_planned_with(
    times: list[tuple[float, float]], chance: random.Random
) -> None:
    found = learned(times)
    assert 1 / MOST_RATIO <= found.factor <= MOST_RATIO
    assert 0 < found.sigma <= 0.6
    assert found.times + found.ignored == len(times)
    mixed = list(times)
    chance.shuffle(mixed)
    again = learned(mixed)
    assert (again.factor, again.sigma) == pytest.approx((found.factor, found.sigma))


@given(st.lists(st.floats(0.3, 3.0), min_size=3, max_size=20))
def test_the_estimate_lies_between_the_plan_and_the_times(ratios: list[float]) -> None:
    found = learned([(PLANNED, PLANNED * ratio) for ratio in ratios])
    assert min(1.0, *ratios) - 1e-9 <= found.factor <= max(1.0, *ratios) + 1e-9
