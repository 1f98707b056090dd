"""When a dough is ready where it stands: printed rules of bakers lie in the band, and the ways out keep their word."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.quantities.dough_readiness import KnownRise, Stand, fridge_first_h, place_c, ready
from stillroom.units import celsius

OVERNIGHT = KnownRise(12.0, 20.0)


def test_the_printed_example_of_bakers_lies_in_the_band() -> None:
    """R226: 2 h at 80 °F are 4 h at 63 °F."""
    band = ready(1000.0, celsius(63), [Stand(celsius(63))], KnownRise(2.0, celsius(80)))
    assert band.low < 4.0 < band.high


def test_a_night_in_the_fridge_as_printed() -> None:
    """R230: 1 % instant yeast, 5 °C, fully proofed in 12 h; such a dough rises in 2 h at 24 °C (from memory)."""
    band = ready(1000.0, 24.0, [Stand(5.0)], KnownRise(2.0, 24.0))
    assert band.low < 12.0 < band.high


def test_a_dough_that_stays_where_it_is_known() -> None:
    band = ready(855.0, 20.0, [Stand(20.0)], OVERNIGHT)
    assert band.middle == pytest.approx(12.0, abs=0.02)
    assert band.low < 12.0 < band.high


def test_a_cold_kitchen_takes_longer_than_the_recipe_says() -> None:
    """The rule of doubling (R226) from 20 to 18 °C: 12 h become 13.9 h."""
    band = ready(855.0, 18.0, [Stand(18.0)], OVERNIGHT)
    assert band.low < 12.0 * 2 ** (2 / 9.444) < band.high
    assert band.middle > 13.0


@settings(max_examples=25, deadline=None)
@given(st.floats(16, 24), st.floats(1.0, 10.0), st.floats(300, 3000))
def test_first_the_fridge_then_the_room_keeps_its_word(room_c: float, more_h: float, mass_g: float) -> None:
    alone_h = ready(mass_g, room_c, [Stand(room_c)], OVERNIGHT).middle
    wanted_h = alone_h + more_h
    cold_h = fridge_first_h(mass_g, room_c, wanted_h, OVERNIGHT, room_c=room_c)
    assert cold_h is not None
    assert 0 < cold_h < wanted_h
    found = ready(mass_g, room_c, [Stand(4.0, cold_h), Stand(room_c)], OVERNIGHT).middle
    assert found == pytest.approx(wanted_h, abs=0.05)
    assert fridge_first_h(mass_g, room_c, alone_h - 0.5, OVERNIGHT, room_c=room_c) is None


@settings(max_examples=25, deadline=None)
@given(st.floats(8, 20), st.floats(300, 3000))
def test_a_place_that_has_it_ready_at_the_hour(wanted_h: float, mass_g: float) -> None:
    found_c = place_c(mass_g, 20.0, wanted_h, OVERNIGHT)
    assert found_c is not None
    assert ready(mass_g, 20.0, [Stand(found_c)], OVERNIGHT).middle == pytest.approx(wanted_h, rel=0.03)


def test_no_place_is_warm_or_cold_enough() -> None:
    assert place_c(855.0, 20.0, 1.0, OVERNIGHT) is None
    assert place_c(855.0, 20.0, 94.0, OVERNIGHT) is None


def test_never_in_the_cold() -> None:
    assert ready(855.0, 4.0, [Stand(1.5)], OVERNIGHT).high == math.inf


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: ready(5.0, 20.0, [Stand(20.0)], OVERNIGHT), "20 g to 50 kg"),
        (lambda: ready(855.0, 60.0, [Stand(20.0)], OVERNIGHT), "mixed at"),
        (lambda: Stand(60.0), "yeast is hurt"),
        (lambda: Stand(-5.0), "freezes"),
        (lambda: Stand(20.0, 0.0), "no time"),
        (lambda: KnownRise(0.1, 20.0), "quarter of an hour"),
        (lambda: KnownRise(3.0, 4.0), "50 to 95"),
    ],
)
def test_nonsense_is_refused(call: object, says: str) -> None:
    with pytest.raises(InputError, match=says):
        call()  # type: ignore[operator]
