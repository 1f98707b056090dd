"""Drying against printed end points and hours, a table of water activities, and a slab solved another way."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from stillroom.errors import InputError, OutsideTable
from stillroom.physics.water_activity import dry_plant, sucrose, sweet_fruit
from stillroom.quantities.drying import (
    Dryer,
    Kind,
    activity_of,
    dried,
    heat_through_min,
    inside_c,
    kind_of,
    salt_test,
    water_now,
)
from stillroom.tables.composition import of
from stillroom.tables.constants import constant
from stillroom.tables.vocabulary import Food, food, hear

DRYER = Dryer()


def known(name: str) -> Food:
    return hear(name).food


@pytest.mark.parametrize(("name", "share"), [("apple", 0.19), ("carrot", 0.13), ("tomato", 0.07)])
def test_what_is_left_as_rule_r166_works_it_out(name: str, share: float) -> None:
    """19, 13 and 7 % of the prepared weight, from 85, 88 and 94 % of water; the composition table differs by 1 %."""
    assert dried(known(name), 6.0, DRYER).share_left == pytest.approx(share, abs=0.012)


@pytest.mark.parametrize("name", ["carrot", "onion", "beet", "zucchini"])
def test_slices_of_vegetables_dry_in_about_the_printed_hours(name: str) -> None:
    """R158: 6 to 16 h at 60 °C; slices of 4 to 6 mm, the band reaches into it from both sides."""
    band = dried(known(name), 5.0, DRYER).hours
    assert constant("drying_min_h").value <= band.middle <= constant("drying_max_h").value
    assert band.low < constant("drying_min_h").value
    assert band.high > 12


def test_an_oven_without_fan_takes_about_twice_as_long() -> None:
    """R159 says twice; still air against moved air, both on mesh."""
    oven, machine = (dried(known("apple"), 6.0, Dryer(has_fan=fan)).hours for fan in (False, True))
    assert 1.2 < oven.middle / machine.middle < 2.5


# Water activity after the table of Beuchat (1981): dried fruit of 15 to 20 % water 0.60 to 0.65, dried vegetables of
# 5 % 0.20, spices of 10 % and pasta of 12 % 0.50.


def test_raisins_as_tabled() -> None:
    """USDA: 15.4 % water and 59 % sugar."""
    raisin = of("raisin")
    band = sweet_fruit(raisin.water_g / 100, raisin.sugar_g / 100)  # type: ignore[operator]
    for tabled in (0.60, 0.65):
        assert band.low < tabled < band.high


@pytest.mark.parametrize(("water", "tabled"), [(0.05, 0.20), (0.10, 0.50), (0.12, 0.50)])
def test_dry_plants_as_tabled(water: float, tabled: float) -> None:
    band = dry_plant(water / (1 - water))
    assert band.low < tabled < band.high


@given(st.floats(0.15, 0.5), st.floats(0.6, 0.95))
def test_all_sucrose_is_the_equation_of_syrup(water: float, sugary: float) -> None:
    sugar = (1 - water) * sugary
    band = sweet_fruit(water, sugar)
    assert band.low < band.middle < band.high
    if (strength := sugar / (sugar + water)) <= 0.67:
        assert band.high == pytest.approx(sucrose(strength))


@pytest.mark.parametrize(("name", "wettest"), [("apple", 0.5), ("apricot", 0.5), ("carrot", 0.24)])
def test_drier_is_safer(name: str, wettest: float) -> None:
    bands = [activity_of(known(name), water) for water in np.linspace(0.11, wettest, 20)]
    for drier, wetter in pairwise(bands):
        assert drier.low < wetter.low
        assert drier.high < wetter.high


def test_fruit_may_be_damp_enough_for_mould_and_vegetables_are_not() -> None:
    assert dried(known("apple"), 6.0, DRYER).activity.high > 0.65
    assert dried(known("carrot"), 6.0, DRYER).activity.high < 0.60


def test_far_from_dry_no_activity_is_said() -> None:
    for name in ("tomato", "apple"):
        with pytest.raises(OutsideTable):
            activity_of(known(name), 0.8)


def test_a_damp_room_dries_slower_and_a_wet_one_never() -> None:
    dry, damp = (dried(known("apple"), 6.0, Dryer(50.0, 25.0, share)).hours for share in (0.3, 0.9))
    assert dry.low < damp.low
    assert dry.high < damp.high
    with pytest.raises(InputError, match="does not get dry"):
        dried(known("carrot"), 6.0, Dryer(40.0, 38.0, 0.95))


def test_weight_now_tells_the_water_left() -> None:
    """2 kg of apple of 85.56 % water hold 288.8 g that is not water; at 577.6 g half of it is water."""
    assert water_now(known("apple"), 2000.0, 577.6) == pytest.approx(0.5, abs=1e-3)
    for wrong_g in (250.0, 2001.0):
        with pytest.raises(InputError, match="Weigh again"):
            water_now(known("apple"), 2000.0, wrong_g)


def test_kinds() -> None:
    for name, kind in (("mushrooms", Kind.VEGETABLE), ("parsley", Kind.VEGETABLE), ("venison", Kind.MEAT)):
        assert kind_of(known(name)) is kind
    for name in ("cheddar cheese", "salmon", "wheat flour, bread"):
        with pytest.raises(InputError, match="not for"):
            kind_of(known(name))


@pytest.mark.parametrize(
    ("name", "thickness_mm", "dryer", "says"),
    [
        ("venison", 6.0, DRYER, "heated through"),
        ("apple", 30.0, DRYER, "cut them thinner"),
        ("apple", math.nan, DRYER, "cut them thinner"),
        ("raisin", 5.0, DRYER, "dry already"),
        ("apple", 6.0, Dryer(air_c=90.0), "40 to 75"),
        ("apple", 6.0, Dryer(room_c=-5.0), "0 to 40"),
        ("apple", 6.0, Dryer(room_humidity=3.0), "0% to 100%"),
    ],
)
def test_nonsense_is_refused(name: str, thickness_mm: float, dryer: Dryer, says: str) -> None:
    with pytest.raises(InputError, match=says):
        dried(known(name), thickness_mm, dryer)


def test_a_strip_in_boiling_marinade_by_numbers() -> None:
    """Finite volumes over half a strip of 6 mm, both films of the model; R173 asks for 71 °C in the middle."""
    venison, cells, half_m = food("venison"), 60, 0.003
    k, rho, cp = 0.5, 1060.0, 3500.0  # lean meat near 40 °C, after Choi & Okos
    width = half_m / cells
    found = []
    for film in (1500.0, 300.0):
        into = 1 / (1 / film + width / 2 / k)

        def slope(_: float, temp: np.ndarray, into: float = into) -> np.ndarray:
            flow = np.zeros(cells + 1)
            flow[1:-1] = k * (temp[1:] - temp[:-1]) / width
            flow[-1] = into * (95.0 - temp[-1])
            return np.diff(flow) / (rho * cp * width)

        def hot(_: float, temp: np.ndarray) -> float:
            return float(temp[0]) - inside_c(venison)

        hot.terminal = True  # type: ignore[attr-defined]
        done = solve_ivp(slope, (0, 1000), np.full(cells, 4.0), events=hot, method="LSODA", rtol=1e-7, lband=1, uband=1)
        found.append(float(done.t_events[0][0]) / 60)
    band = heat_through_min(venison, 6.0)
    assert [band.low, band.high] == pytest.approx(found, rel=0.1)
    assert inside_c(venison) == pytest.approx(71.1, abs=0.1)
    assert inside_c(food("chicken")) == pytest.approx(73.9, abs=0.1)


def test_the_salt_that_checks_a_hygrometer() -> None:
    """Greenspan 1977: 75.5 % at 20 °C, 75.3 % at 25 °C over wet table salt."""
    assert salt_test(20.0) == pytest.approx(0.755, abs=0.003)
    assert salt_test(25.0) == pytest.approx(0.753, abs=0.003)
