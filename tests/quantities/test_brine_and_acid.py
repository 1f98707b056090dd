"""Brines against the salometer table, vinegar against the mass balances of the checks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError, Refusal
from stillroom.quantities.acid import Vinegar, blend, check_strength, mixed
from stillroom.quantities.brine import BrineBasis, brine


@pytest.mark.parametrize(
    ("salometer_deg", "percent"), [(10, 2.64), (30, 7.92), (40, 10.56), (60, 15.84), (70, 18.48), (90, 23.76)]
)
def test_salometer(salometer_deg: float, percent: float) -> None:
    """The Salometer and how to use it: per cent salt by weight at 60 °F, 100° = 26.395 %."""
    made = brine(1000, percent / 100, BrineBasis.BRINE)
    assert made.salometer_deg == pytest.approx(salometer_deg, abs=0.05)
    assert made.poured_fraction == pytest.approx(percent / 100)


def test_the_three_meanings_of_five_per_cent() -> None:
    """5 % of 1000 g water is 50 g; of the brine 1000·5/95 = 52.6 g; of water and 500 g food 75 g."""
    assert brine(1000, 0.05, BrineBasis.WATER).salt_g == pytest.approx(50)
    assert brine(1000, 0.05, BrineBasis.BRINE).salt_g == pytest.approx(52.63, abs=0.005)
    with_food = brine(1000, 0.05, BrineBasis.WATER_AND_FOOD, food_g=500)
    assert with_food.salt_g == pytest.approx(75)
    assert with_food.evened_fraction == pytest.approx(75 / 1575)


def test_dill_pickles_brine() -> None:
    """½ cup salt (146 g), 8 cups water (1893 g), 4 lb cucumbers: about 7 % as poured, 3.5 to 4 % evened out."""
    made = brine(1893, 146 / 1893, BrineBasis.WATER, food_g=1814)
    assert made.poured_fraction == pytest.approx(0.07, abs=0.003)
    assert made.evened_fraction == pytest.approx(0.0375, abs=0.003)


@pytest.mark.parametrize(
    ("water_g", "fraction", "basis", "food_g"),
    [
        (0, 0.05, BrineBasis.WATER, 0),
        (1000, 0, BrineBasis.WATER, 0),
        (1000, 1, BrineBasis.BRINE, 0),
        (1000, 0.05, BrineBasis.WATER_AND_FOOD, 0),
        (1000, 0.05, BrineBasis.WATER, -1),
        (1000, 0.27, BrineBasis.BRINE, 0),
        (1000, 0.36, BrineBasis.WATER, 0),
        (float("nan"), 0.05, BrineBasis.WATER, 0),
    ],
)
def test_brines_that_are_none(water_g: float, fraction: float, basis: BrineBasis, food_g: float) -> None:
    with pytest.raises(InputError):
        brine(water_g, fraction, basis, food_g)


def test_mixture_arithmetic() -> None:
    """1 L of 5 % vinegar + 1 L water = 2.5 %; 600 ml of 6 % + 400 ml of 5 % = 5.6 % (mass balance)."""
    assert mixed(Vinegar(1000, 0.05), Vinegar(1000, 0)).strength == pytest.approx(0.025)
    assert mixed(Vinegar(600, 0.06), Vinegar(400, 0.05)).strength == pytest.approx(0.056)


def test_essence_down_to_five_per_cent() -> None:
    made = blend(1000, 0.05, 0.25)
    assert (made.stronger_ml, made.weaker_ml) == pytest.approx((200, 800))


def test_never_below_what_recipes_were_tested_with() -> None:
    with pytest.raises(Refusal, match="below 5%"):
        blend(1000, 0.049, 0.10)
    with pytest.raises(Refusal, match="weaker than the 5%"):
        check_strength(0.04)
    check_strength(0.05)
    check_strength(0.06)


@pytest.mark.parametrize(
    ("volume_ml", "wanted", "stronger", "weaker"),
    [(1000, 0.07, 0.06, 0), (1000, 0.05, 0.1, 0.06), (1000, 0.05, 0.05, 0.05), (0, 0.05, 0.1, 0), (1000, 0.05, 0.8, 0)],
)
def test_blends_that_are_none(volume_ml: float, wanted: float, stronger: float, weaker: float) -> None:
    with pytest.raises(InputError):
        blend(volume_ml, wanted, stronger, weaker)


@given(st.floats(1, 1e5), st.floats(0.05, 0.3), st.floats(0, 0.3), st.floats(0, 0.3))
def test_a_blend_mixes_back_to_what_was_wanted(volume_ml: float, wanted: float, one: float, other: float) -> None:
    weaker, stronger = sorted((one, other))
    try:
        made = blend(volume_ml, wanted, stronger, weaker)
    except InputError:
        assert not (weaker < stronger and weaker <= wanted <= stronger)
        return
    assert made.stronger_ml + made.weaker_ml == pytest.approx(volume_ml)
    acid_ml = made.stronger_ml * stronger + made.weaker_ml * weaker
    assert acid_ml / volume_ml == pytest.approx(wanted)
