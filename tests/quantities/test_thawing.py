"""Thawing: the printed rules by weight, printed hours by thickness, and when to take out what."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import Refusal
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.freezing import PackKind
from stillroom.quantities.thawing import ThawPlace, keeps_thawed_days, thaw_time
from stillroom.units import G_PER_LB, MM_PER_IN

LB = G_PER_LB / 1000
INCH_M = MM_PER_IN / 1000


def test_the_printed_rules_by_weight() -> None:
    """R113: a day for 5 lb in the fridge, so 72 h for a bird of 15 lb. R114: a pound in at most an hour."""
    bird = thaw_time(food_parts("turkey, whole"), PackKind.ODD, 15 * LB)
    assert bird.times.rule_h == pytest.approx(72)
    assert bird.times.band.low <= 72 <= bird.times.band.high
    pound = thaw_time(food_parts("mince"), PackKind.FLAT, LB, thickness_m=INCH_M, place=ThawPlace.WATER)
    assert pound.times.rule_h == pytest.approx(1)
    assert pound.times.band.low <= 1 <= pound.times.band.high


def test_printed_hours_of_thin_packs() -> None:
    """Household chart, source not named: steak 1 in thick 12 to 14 h in the fridge, mince 1 in thick 24 h."""
    steak = thaw_time(food_parts("beef top sirloin"), PackKind.FLAT, 0.3, thickness_m=INCH_M)
    assert 12 <= steak.times.band.middle <= 14
    mince = thaw_time(food_parts("beef, ground 80/20"), PackKind.FLAT, LB, thickness_m=INCH_M)
    assert mince.allow_h == pytest.approx(24, rel=0.15)


@pytest.mark.parametrize(
    ("name", "days"),
    [
        *((name, 1) for name in ("mince", "beef, ground 80/20", "beef stewing meat", "chicken, whole", "cod", "stew")),
        *((name, 1) for name in ("beef", "pork trimmings", "beef liver", "pork sausage", "green bean", "lamb, ground")),
        *((name, 3) for name in ("beef top sirloin", "pork shoulder", "lamb leg")),
    ],
)
def test_how_long_it_keeps_thawed(name: str, days: int) -> None:
    """R113: ground and stew meat, poultry, fish 1 to 2 days more, cuts of red meat 3 to 5; the shorter ends."""
    assert keeps_thawed_days(food_parts(name)) == days


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 12.0), st.sampled_from(["mince", "pork shoulder", "stew", "chicken, whole"]))
def test_nothing_lies_thawed_for_longer_than_it_keeps(pack_kg: float, name: str) -> None:
    """By the quick side, unless the published rule itself says to take it out sooner."""
    found = thaw_time(food_parts(name), PackKind.ODD, pack_kg)
    lies_h = found.allow_h - found.times.band.low
    assert lies_h <= 24 * found.keeps_days + 1e-9 or found.allow_h == found.times.rule_h
    assert found.allow_h >= found.times.rule_h
    assert found.may_be_icy == (found.allow_h < found.times.band.high)


def test_take_out_moment() -> None:
    found = thaw_time(food_parts("pork shoulder"), PackKind.FLAT, 1.0, thickness_m=0.04)
    use_at = datetime.fromisoformat("2027-04-12 18:30")
    assert (use_at - found.take_out(use_at)).total_seconds() / 3600 == pytest.approx(found.allow_h, abs=1 / 60)
    assert found.take_out(use_at) <= use_at
    assert not found.may_be_icy


@pytest.mark.parametrize(
    ("place", "place_c"), [(ThawPlace.COUNTER, None), (ThawPlace.COUNTER, 10.0), (ThawPlace.FRIDGE, 9.0)]
)
def test_never_on_the_counter(place: ThawPlace, place_c: float | None) -> None:
    """R117."""
    with pytest.raises(Refusal, match="never on the counter"):
        thaw_time(food_parts("mince"), PackKind.FLAT, 0.5, thickness_m=0.03, place=place, place_c=place_c)


def test_warm_water_and_a_fridge_that_freezes_are_refused() -> None:
    for place, place_c in ((ThawPlace.WATER, 30.0), (ThawPlace.FRIDGE, 0.0)):
        with pytest.raises(Refusal):
            thaw_time(food_parts("mince"), PackKind.FLAT, 0.5, thickness_m=0.03, place=place, place_c=place_c)


def test_water_is_quick_and_means_cooking_at_once() -> None:
    slow, quick = (
        thaw_time(food_parts("mince"), PackKind.FLAT, 0.5, thickness_m=0.03, place=place)
        for place in (ThawPlace.FRIDGE, ThawPlace.WATER)
    )
    assert quick.times.band.high < slow.times.band.low
    assert quick.keeps_days == 0
    assert any("cook it at once" in words for words in quick.sentences)
    assert any("1 day more in the fridge" in words for words in slow.sentences)
