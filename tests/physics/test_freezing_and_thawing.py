"""Freezing and thawing against enthalpy by numbers, and directions that nature doesn't reverse."""

from __future__ import annotations

import math

import pytest
from enthalpy_numbers import Body, block_time_to_centre, time_to_centre
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import OutsideTable, Refusal
from stillroom.physics.freezer import (
    BLOCKS,
    FLAT_PACKS,
    ODD_SHAPES,
    ROUND_PIECES,
    daily_loads_kg,
    days_to_freeze,
    heat_to_freeze_kj,
    load_per_day_kg,
    space_l,
)
from stillroom.physics.freezing import (
    Freezable,
    Pack,
    Shape,
    ball,
    dimensions,
    freezable,
    freezing_h,
    layer_thickness_m,
    pham_s,
    plank_s,
)
from stillroom.physics.medium import Medium, freezer, fridge, still_air, water_bath
from stillroom.physics.properties import Fractions, ice_fraction, thermal
from stillroom.physics.thawing import Thawing, rule_h, thawing_h, thawing_s
from stillroom.tables.constants import constant
from stillroom.units import G_PER_LB

BEEF = Fractions(0.717, 0.206, 0.067, 0.0, 0.0, 0.01)
APPLE_SAUCE = Fractions(0.8835, 0.0018, 0.0005, 0.1142)
FOODS = {"beef": freezable(BEEF, -1.2), "apple sauce": freezable(APPLE_SAUCE, -1.2)}
THAWED_K = {"beef": thermal(BEEF, 5).conductivity_w_m_k, "apple sauce": thermal(APPLE_SAUCE, 5).conductivity_w_m_k}
thicknesses_m = st.floats(0.01, 0.2)


def body(name: str) -> Body:
    food = FOODS[name]
    return Body(
        food.density_kg_m3,
        food.unfrozen_heat_j_kg_k,
        food.frozen_heat_j_kg_k,
        food.latent_j_kg,
        THAWED_K[name],
        food.frozen_conductivity_w_m_k,
        food.freezing_c,
    )


@pytest.mark.parametrize("name", FOODS)
@pytest.mark.parametrize("power", [0, 1, 2], ids=["slab", "cylinder", "sphere"])
@pytest.mark.parametrize(
    ("half_m", "film", "around_c"), [(0.01, 10, -20), (0.05, 30, -20), (0.1, 8, -18), (0.03, 15, -30)]
)
def test_pham_against_enthalpy(name: str, power: int, half_m: float, film: float, around_c: float) -> None:
    """Within 10 %, the error claimed for the method."""
    numeric_s = time_to_centre(body(name), half_m, film, from_c=10, around_c=around_c, stop_c=-10, power=power)
    ours = pham_s(FOODS[name], half_m, film, from_c=10, centre_c=-10, around_c=around_c, dimensions=power + 1)
    assert ours == pytest.approx(numeric_s, rel=0.10)


@pytest.mark.parametrize("name", FOODS)
@pytest.mark.parametrize("power", [0, 1, 2], ids=["slab", "cylinder", "sphere"])
@pytest.mark.parametrize(
    ("half_m", "film", "around_c", "error"),
    [(0.01, 10, 4, 0.12), (0.05, 8, 7, 0.12), (0.1, 12, 2, 0.12), (0.05, 200, 10, 0.15), (0.02, 300, 20, 0.15)],
)
def test_thawing_against_enthalpy(
    name: str, power: int, half_m: float, film: float, around_c: float, error: float
) -> None:
    numeric_s = time_to_centre(
        body(name), half_m, film, from_c=-18, around_c=around_c, stop_c=-0.9, power=power, days=60
    )
    slab_s = thawing_s(FOODS[name], THAWED_K[name], half_m, film, from_c=-18, around_c=around_c)
    assert slab_s / (power + 1) == pytest.approx(numeric_s, rel=error)


@pytest.mark.parametrize(
    ("half_m", "film", "wide", "long"), [(0.04, 40, 1, 1), (0.04, 40, 2, 2), (0.06, 60, 1, 3), (0.06, 150, 1, 1)]
)
def test_block_against_enthalpy_in_three_dimensions(half_m: float, film: float, wide: int, long: int) -> None:
    """The equivalent dimension is slab time over block time, both by numbers; within 7 %."""
    how = {"from_c": 10, "around_c": -20, "stop_c": -10}
    slab_s = time_to_centre(body("beef"), half_m, film, **how)
    block_s = block_time_to_centre(
        body("beef"), (half_m, half_m * wide, half_m * long), film, **how, cells=(10, 10, 12)
    )
    pack = Pack(2 * half_m, 2 * half_m * wide, 2 * half_m * long)
    biot = film * half_m / FOODS["beef"].frozen_conductivity_w_m_k
    assert dimensions(pack, biot) == pytest.approx(slab_s / block_s, rel=0.07)


def test_dimensions_at_the_limits() -> None:
    """Without inner resistance only surface over volume counts; a sphere is 3, a slab 1, a long square rod 2."""
    for is_round in (False, True):
        assert dimensions(Pack(0.1, 0.1, 0.1, round=is_round), 1e-9) == pytest.approx(3, rel=1e-3)
        assert dimensions(Pack(0.1, 0.2, 0.4, round=is_round), 1e-9) == pytest.approx(1 + 1 / 2 + 1 / 4, rel=1e-3)
        assert dimensions(Pack(0.1, round=is_round), 0.5) == 1
        assert dimensions(Pack(0.1, 0.1, round=is_round), 1e-9) == pytest.approx(2, rel=1e-3)
    assert dimensions(ball(1, 1000), 5) == pytest.approx(3)


@given(thicknesses_m, st.floats(1.01, 2.0), st.sampled_from(["beef", "apple sauce"]))
def test_thicker_freezes_and_thaws_slower(thickness_m: float, more: float, name: str) -> None:
    food, thin, thick = FOODS[name], Pack(thickness_m), Pack(min(thickness_m * more, 0.4))
    assert freezing_h(thin, food, freezer(), from_c=5).middle < freezing_h(thick, food, freezer(), from_c=5).middle
    times = [thawing_h(pack, food, THAWED_K[name], fridge(4)).middle for pack in (thin, thick)]
    assert times[0] < times[1]


@given(thicknesses_m, st.floats(-35, -18), st.floats(0.5, 7))
def test_colder_air_freezes_faster(thickness_m: float, air_c: float, less: float) -> None:
    colder, warmer = (
        freezing_h(Pack(thickness_m), FOODS["beef"], freezer(temp_c), from_c=5) for temp_c in (air_c - less, air_c)
    )
    assert colder.low < warmer.low
    assert colder.high < warmer.high


@given(thicknesses_m, st.floats(0, 0.05), st.floats(0.001, 0.05), st.floats(0, 60), st.floats(0.1, 30))
def test_wrap_and_warm_food_freeze_slower(
    thickness_m: float, wrap: float, more: float, from_c: float, warmer: float
) -> None:
    food = FOODS["beef"]
    bare, wrapped = (
        freezing_h(Pack(thickness_m, wrap_m2_k_w=w), food, freezer(), from_c=from_c).middle for w in (wrap, wrap + more)
    )
    assert bare < wrapped
    assert bare < freezing_h(Pack(thickness_m, wrap_m2_k_w=wrap), food, freezer(), from_c=from_c + warmer).middle


@given(st.sampled_from(list(Shape)), thicknesses_m, st.floats(3, 40))
def test_plank_is_below_pham(shape: Shape, size_m: float, film: float) -> None:
    count = {Shape.SLAB: 1, Shape.CYLINDER: 2, Shape.SPHERE: 3}[shape]
    food = FOODS["beef"]
    whole = pham_s(food, size_m / 2, film, from_c=5, centre_c=-10, around_c=-25, dimensions=count)
    assert plank_s(shape, food, size_m, film, around_c=-25) < whole


def test_the_same_mass_flat_freezes_faster_than_as_a_lump() -> None:
    """A kilogram as a ball and as a bag of 20 by 25 cm, which is 2 cm thick."""
    food = FOODS["beef"]
    thickness_m = layer_thickness_m(1.0, food.density_kg_m3, 0.25, 0.20)
    assert thickness_m == pytest.approx(0.02, rel=0.01)
    flat = freezing_h(Pack(thickness_m, 0.20, 0.25), food, freezer(), from_c=5)
    lump = freezing_h(ball(1.0, food.density_kg_m3), food, freezer(), from_c=5)
    assert 2 * flat.middle < lump.middle


def test_freezing_outside_its_range_is_refused() -> None:
    food = FOODS["beef"]
    for bad in (
        lambda: freezing_h(Pack(0.05), food, freezer(-5), from_c=5),
        lambda: freezing_h(Pack(0.05), food, freezer(), from_c=-10),
        lambda: freezing_h(Pack(0.05), food, freezer(), from_c=5, centre_c=-19),
        lambda: pham_s(food, 0.3, 100, from_c=5, centre_c=-10, around_c=-20, dimensions=1),
        lambda: freezable(BEEF, -20.0),
    ):
        with pytest.raises(OutsideTable):
            bad()
    for wrong in (
        lambda: Pack(0.1, 0.05),
        lambda: Pack(0.0),
        lambda: freezable(Fractions(0.1, 0.1, 0.8)),
        lambda: plank_s(Shape.SLAB, food, 0.05, 10, around_c=0.0),
        lambda: Freezable(1000, 3600, 1800, 0, 1.5),
    ):
        with pytest.raises(ValueError, match=r"."):
            wrong()


def test_ice_grows_towards_the_freezable_water() -> None:
    shares = [ice_fraction(BEEF, temp_c, -1.2) for temp_c in (5, -1.2, -2, -5, -18, -40)]
    assert shares[:2] == [0, 0]
    assert shares == sorted(shares)
    assert shares[-1] < BEEF.water - 0.4 * BEEF.protein


# thawing: rule and refusal


def test_the_rule_for_a_turkey_and_the_take_out_time() -> None:
    """24 h for each 5 lb: a bird of 15 lb takes three days."""
    per_kg = constant("thaw_refrigerator_h_per_5_lb").value / (5 * G_PER_LB / 1000)
    by_rule = rule_h(15 * G_PER_LB / 1000, per_kg)
    assert by_rule == pytest.approx(72)
    bird = thawing_h(ball(15 * G_PER_LB / 1000, 1050), FOODS["beef"], THAWED_K["beef"], fridge(4))
    assert bird.low <= by_rule <= bird.high
    assert Thawing(24.0, bird).take_out_h(keeps_h=1000) == bird.high > 72
    assert Thawing(24.0, bird).take_out_h(keeps_h=24) == bird.low + 24
    assert Thawing(by_rule, bird).take_out_h(keeps_h=0) == by_rule
    with pytest.raises(ValueError, match="keeps"):
        Thawing(24.0, bird).take_out_h(-1)


@pytest.mark.parametrize(
    "place", [still_air(20), still_air(8), water_bath(30)], ids=["counter", "cellar", "warm water"]
)
def test_never_on_the_counter(place: Medium) -> None:
    with pytest.raises(Refusal, match="never on the counter"):
        thawing_h(Pack(0.05), FOODS["beef"], THAWED_K["beef"], place)


def test_cold_water_of_the_rule_thaws_a_pound_in_about_an_hour() -> None:
    """R114: a pound in at most one hour. A pound of mince 2.5 cm thick in water of 10 to 15 °C."""
    pack = Pack(0.025, 0.12, 0.15)
    assert thawing_h(pack, FOODS["beef"], THAWED_K["beef"], water_bath(13)).middle == pytest.approx(1.0, rel=0.4)


# freezer


def test_half_a_pig_in_a_freezer_of_200_litres() -> None:
    """R259: 50 lb (23 kg) at 32 to 48 g per litre and day take 2.4 to 3.6 days."""
    low, high = constant("freezer_load_g_per_l_day").value, constant("freezer_load_max_g_per_l_day").value
    band = days_to_freeze(23, 200, low, high)
    assert (band.low, band.high) == (pytest.approx(2.4, abs=0.05), pytest.approx(3.6, abs=0.05))
    assert load_per_day_kg(200, low) == pytest.approx(6.4)
    loads = daily_loads_kg(23, 200, low)
    assert len(loads) == 4
    assert sum(loads) == pytest.approx(23)


@given(st.floats(0.1, 100), st.floats(20, 800), st.floats(20, 60))
def test_no_load_is_above_the_rule(mass_kg: float, freezer_l: float, rule: float) -> None:
    loads = daily_loads_kg(mass_kg, freezer_l, rule)
    assert sum(loads) == pytest.approx(mass_kg)
    assert max(loads) <= load_per_day_kg(freezer_l, rule) * (1 + 1e-9)


def test_flat_packs_take_less_room_and_blocks_agree_with_the_printed_figure() -> None:
    flat, blocks, balls, odd = (space_l(10, 1000, kind) for kind in (FLAT_PACKS, BLOCKS, ROUND_PIECES, ODD_SHAPES))
    assert flat.middle < blocks.middle < balls.middle < odd.middle
    printed_l = 10 / (constant("freezer_irregular_lb_per_cubic_foot").value * 0.45359237 / 28.316846592)
    assert odd.low < printed_l <= odd.high * 1.001
    with pytest.raises(ValueError, match="packing"):
        space_l(10, 1000, (0.5, 0.9, 1.2))


def test_heat_of_freezing_by_hand() -> None:
    food = Freezable(1000, 3600, 1800, 250e3, 1.2, -1.0)
    assert heat_to_freeze_kj(food, 2, from_c=9, to_c=-21) == pytest.approx(2 * (36 + 250 + 36))
    with pytest.raises(ValueError, match="freezes"):
        heat_to_freeze_kj(food, 2, from_c=-5)


def test_rod_of_no_end_is_between_slab_and_cube() -> None:
    for biot in (0.1, 1.0, 5.0):
        slab, rod, cube = (dimensions(pack, biot) for pack in (Pack(0.1), Pack(0.1, 0.1), Pack(0.1, 0.1, 0.1)))
        assert slab < rod < cube <= 3
        assert math.isfinite(cube)
