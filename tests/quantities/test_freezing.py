"""Freezing: hours by shape, the load per day and the room, against the printed rules and directions of nature."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import InputError, Refusal
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.freezing import (
    Cold,
    PackKind,
    bag_thickness_m,
    freezer_load,
    pack_time,
    thickest_flat_m,
)
from stillroom.quantities.freezing_answer import freeze, freezing_cautions
from stillroom.units import G_PER_LB, L_PER_CUBIC_FOOT

MEAT, STEW = food_parts("beef chuck roast"), food_parts("stew")


def test_half_a_pig_in_a_freezer_of_200_litres() -> None:
    """R259: 50 lb (23 kg) at 32 to 48 g per litre and day take 2.4 to 3.6 days."""
    load = freezer_load(MEAT, 23.0, 200.0)
    assert (load.days.low, load.days.high) == (pytest.approx(2.4, abs=0.05), pytest.approx(3.6, abs=0.05))
    assert load.per_day_kg == pytest.approx(6.4)
    assert sum(load.loads_kg) == pytest.approx(23.0)
    assert max(load.loads_kg) <= 6.4


def test_minnesotas_freezer_of_20_cubic_feet() -> None:
    """R125: 40 to 60 pints at most, a pint a pound; the lower is planned."""
    load = freezer_load(MEAT, 1.0, 20 * L_PER_CUBIC_FOOT)
    assert load.per_day_kg == pytest.approx(40 * G_PER_LB / 1000, rel=0.01)


def test_warm_food_counts_as_more_by_its_heat() -> None:
    """Meat of 67 % water: 16 K more at 3.5 kJ/(kg K) on top of some 260 kJ/kg from 4 to −18 °C: a fifth."""
    assert freezer_load(MEAT, 10.0, 200.0, Cold(from_c=20.0)).counts_as_kg == pytest.approx(12.1, abs=0.5)
    assert freezer_load(MEAT, 10.0, 200.0, Cold(from_c=1.0)).counts_as_kg == 10.0


@settings(max_examples=30, deadline=None)
@given(st.floats(0.2, 5.0), st.floats(0.01, 0.05), st.floats(-30, -16), st.floats(1, 20), st.booleans())
def test_no_time_is_below_the_heat_of_freezing_alone(
    pack_kg: float, thickness_m: float, freezer_c: float, from_c: float, is_boxed: bool
) -> None:
    """Plank through a perfect surface is a lower bound for every real one."""
    cold = Cold(from_c, freezer_c, is_boxed)
    for kind in PackKind:
        way = pack_time(MEAT, kind, pack_kg, thickness_m=thickness_m, cold=cold)
        assert way.at_least_h < way.solid.low <= way.down.low


def test_flat_beats_a_block_beats_a_ball() -> None:
    flat, block, lump, odd = (pack_time(STEW, kind, 1.0, thickness_m=0.025, total_kg=10.0) for kind in PackKind)
    assert flat.solid.middle < block.solid.middle < lump.solid.middle
    assert flat.room.middle < block.room.middle < lump.room.middle < odd.room.middle


def test_irregular_packs_take_the_printed_room() -> None:
    """R258: 25 to 30 lb per cubic foot."""
    room = pack_time(MEAT, PackKind.ODD, 2.0, total_kg=10.0).room
    for lb in (25, 30):
        assert room.low * 0.99 <= 10.0 / (lb * G_PER_LB / 1000) * L_PER_CUBIC_FOOT <= room.high * 1.01


def test_a_bag_is_as_thick_as_what_lies_in_it() -> None:
    """A kilogram of about 1 kg/L in 20 by 25 cm: 2 cm."""
    assert bag_thickness_m(MEAT, 1.0, 0.25, 0.20) == pytest.approx(0.02, rel=0.06)


def test_the_thickest_pack_is_solid_in_a_day_and_a_thicker_is_not_sure_to_be() -> None:
    thick_m = thickest_flat_m(STEW)
    assert thick_m is not None
    wide_kg = 1000 * thick_m * 0.6**2  # edges far away
    surely = pack_time(STEW, PackKind.FLAT, wide_kg, thickness_m=thick_m)
    thicker = pack_time(STEW, PackKind.FLAT, wide_kg, thickness_m=thick_m + 0.005)
    assert surely.solid.high <= 24
    assert thicker.solid.high > 22.5
    boxed = thickest_flat_m(STEW, Cold(is_boxed=True))
    assert boxed is not None
    assert boxed < thick_m
    assert (thickest_flat_m(STEW, Cold(freezer_c=-30.0)) or 0) > thick_m


def test_warm_food_is_refused_and_nonsense_too() -> None:
    with pytest.raises(Refusal, match="Cool it first"):
        Cold(from_c=60.0)
    for wrong in (lambda: Cold(from_c=-3.0), lambda: Cold(freezer_c=-60.0), lambda: Cold(freezer_c=-5.0)):
        with pytest.raises(InputError):
            wrong()
    for bad in (
        lambda: pack_time(MEAT, PackKind.FLAT, 0.5, thickness_m=0.12),
        lambda: pack_time(MEAT, PackKind.FLAT, 0.5, thickness_m=0.0),
        lambda: pack_time(MEAT, PackKind.BALL, 1000.0),
        lambda: pack_time(food_parts("maple syrup"), PackKind.BALL, 1.0),
        lambda: freezer_load(MEAT, 10.0, 5.0),
        lambda: freeze(MEAT, 1.0, pack_kg=2.0),
    ):
        with pytest.raises(InputError):
            bad()


def test_the_answer_says_what_fits() -> None:
    answer = freeze(MEAT, 10.0, pack_kg=0.5, freezer_l=(220.0, 165.0))
    assert answer.packs == 20
    assert answer.free_l == pytest.approx(220 * 0.85 - 165)
    said = " ".join(answer.sentences)
    assert "it fits as flat packs" in said
    assert "bird or joints" not in said.split("fits as")[1]
    full = freeze(MEAT, 30.0, freezer_l=(220.0, 180.0))
    assert "may not fit in any shape" in " ".join(full.sentences)
    assert "yours is warmer" in freezing_cautions(Cold(freezer_c=-14.0))[0]
    assert "yours is warmer" not in freezing_cautions(Cold())[0]


def test_small_packs_get_a_thickness_that_they_can_have() -> None:
    assert freeze(MEAT, 0.02).ways[0].thickness_m < 0.03
    assert freeze(MEAT, 5.0).pack_kg == 1.0
    assert freeze(MEAT, 5.0, bag_m=(0.25, 0.2)).ways[0].thickness_m == pytest.approx(0.02, rel=0.06)
