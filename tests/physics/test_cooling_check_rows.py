"""Cooling against the checks of the reference: published examples of pots, pans and the two-stage rule."""

from __future__ import annotations

import math

import pytest
from check_rows import row

from stillroom.physics.medium import Medium, fridge, ice_bath, moved_air
from stillroom.physics.pots import (
    Pan,
    Pot,
    newton_rate_per_s,
    newton_time_s,
    still_time_s,
    time_h,
)
from stillroom.physics.properties import (
    Fractions,
    thermal,
)
from stillroom.physics.two_stages import TwoStages, Verdict, cooling
from stillroom.tables.constants import constant
from stillroom.units import ML_PER_GALLON, ML_PER_QUART, celsius

SOUP = thermal(Fractions(0.9, 0.02, 0.02, 0.05, 0.0, 0.01), 40.0)
THICK = thermal(Fractions(0.75, 0.08, 0.06, 0.08, 0.02, 0.01), 40.0)


def test_newton_rows() -> None:
    soup = row("cooling", "CL-n1")
    rate = newton_rate_per_s(100, 60, 10, 600)
    assert 60 * rate == pytest.approx(soup.values[0], abs=1e-4)
    assert newton_time_s(100, 20, 10, rate) / 60 == pytest.approx(soup.values[1], abs=0.1)
    rate = newton_rate_per_s(90, 50, 20, 25 * 60)
    further, colder = row("cooling", "CL-n2").values
    assert newton_time_s(50, 30, 20, rate) / 60 == pytest.approx(further, abs=0.1)
    assert newton_time_s(90, 30, -15, rate) / 60 == pytest.approx(colder, abs=0.1)
    fahrenheit = newton_rate_per_s(celsius(350), celsius(175), celsius(71), 15 * 60)
    assert 60 * fahrenheit == pytest.approx(row("cooling", "CL-n4").values[0], abs=5e-4)
    # warming follows the same law: mirrored, a steak of 40 °F above a place of 0 falls to 8
    assert newton_time_s(40, 40 - 32, 0, 1 / 5.05) == pytest.approx(row("cooling", "CL-n6").values[0], abs=0.01)


@pytest.mark.parametrize(("name", "wall_m2_k_w"), [("CL-k1", 0.0), ("CL-k2", 0.005)])
def test_bowl_of_soup_in_ice_stirred_all_the_time(name: str, wall_m2_k_w: float) -> None:
    """2.5 US quarts in a half ball, here as a cylinder of its radius and volume; the glass counted 5 mm thick."""
    radius_m = (3 * 2.5 * ML_PER_QUART * 1e-6 / (2 * math.pi)) ** (1 / 3)
    bowl = Pot(2 * radius_m, 2 / 3 * radius_m, wall_m2_k_w)
    band = time_h(bowl, SOUP, ice_bath(), from_c=celsius(174), to_c=celsius(80), stirred=True).in_units(60, "min")
    measured = row("cooling", name).values[0]
    assert band.low <= measured <= band.high
    assert band.middle == pytest.approx(measured, rel=0.25)


def test_white_sauce_in_eight_gallons_by_conduction() -> None:
    """The place isn't in the abstract; a fridge of 2 to 7 °C and a pot as wide as deep are taken."""
    size_m = (8 * ML_PER_GALLON * 1e-6 * 4 / math.pi) ** (1 / 3)
    pot = Pot(size_m, size_m)
    sauce = thermal(Fractions(0.75, 0.03, 0.10, 0.11, 0.0, 0.01), 27.0)
    times = [
        still_time_s(pot, sauce, fridge(place_c), film, from_c=celsius(105), to_c=celsius(57)) / 3600
        for place_c, film in ((2.0, 12.0), (4.0, 8.0), (7.0, 5.0))
    ]
    assert times[0] <= row("cooling", "CL-d1").values[0] <= times[-1]
    assert times[1] == pytest.approx(row("cooling", "CL-d1").values[0], rel=0.15)


def test_twice_the_size_takes_four_times_as_long_where_the_surface_offers_no_resistance() -> None:
    strong = Medium(0.0, 1e5, 1e5, 1e5, touches_bottom=True)
    small, large = (
        still_time_s(Pan(0.5, 0.5, depth_m), THICK, strong, 1e5, from_c=57, to_c=21) for depth_m in (0.02, 0.04)
    )
    assert large / small == pytest.approx(row("cooling", "CL-d3").values[0], rel=0.02)


def printed_rule() -> TwoStages:
    return TwoStages(
        celsius(constant("cooling_start_f").value),
        celsius(constant("cooling_first_end_f").value),
        constant("cooling_first_h").value,
        celsius(constant("cooling_second_end_f").value),
        constant("cooling_total_h").value,
    )


def test_the_rule_of_the_tables_is_the_printed_limit_or_stricter() -> None:
    first_h, total_h = row("cooling", "CL-l1").values
    rule = printed_rule()
    assert (rule.first_h, rule.total_h) == (first_h, total_h)
    assert (rule.start_c, rule.first_c) == pytest.approx((celsius(135), celsius(70)))
    assert rule.last_c <= celsius(41)


@pytest.mark.parametrize(
    "vessel",
    [Pan(0.53, 0.325, 0.0635), Pan(0.53, 0.325, 0.1016), Pot(0.25, 0.23)],
    ids=["2.5 inch pan", "4 inch pan", "3-gallon stockpot"],
)
def test_chili_that_failed_in_a_walk_in_refrigerator_is_not_told_to_make_it(vessel: Pan | Pot) -> None:
    """CL-o1: all failed; pans of the usual full size and a fan are taken."""
    assert row("cooling", "CL-o1").value == "all fail"
    found = cooling(vessel, THICK, moved_air(3.0, on_rack=True), printed_rule(), filled_c=80.0, stirred=False)
    assert found.verdict is Verdict.FAILS
