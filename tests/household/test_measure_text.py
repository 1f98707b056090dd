"""Sizes, temperatures, gauge errors and clocks as people write them."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.household.measure_text import gauge_error_psi, keep_days, length_mm, room_c, volume_l


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (volume_l, "220 L", 220),
        (volume_l, "7.5 cu ft", 212.376),  # 7.5 × 28.316847 l
        (volume_l, "0 litres", 0),
        (length_mm, "82 mm", 82),
        (length_mm, "8.2 cm", 82),
        (length_mm, "3.25 in", 82.55),
        (room_c, "18 °C", 18),
        (room_c, "64.4 °F", 18),
        (room_c, "18 C", 18),
        (gauge_error_psi, "0.5 psi high", 0.5),
        (gauge_error_psi, "1 psi low", -1),
        (gauge_error_psi, "+0.5 psi", 0.5),
        (gauge_error_psi, "-1 psi", -1),
        (gauge_error_psi, "0 psi", 0),
        (gauge_error_psi, "6.894757 kPa high", 1),
        (keep_days, "3 days", 3),
        (keep_days, "1 day", 1),
        (keep_days, "2 weeks", 14),
        (keep_days, "0 days", 0),
    ],
)
def test_it_works(read: Callable[[str], float], text: str, value: float) -> None:
    assert read(text) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("read", "text", "words"),
    [
        (volume_l, "220", "litres, like"),
        (volume_l, "-5 L", "litres, like"),
        (volume_l, "a lot", "litres, like"),
        (length_mm, "82", "a length like"),
        (length_mm, "8,2 cm", "a length like"),
        (room_c, "18", "room temperature"),
        (room_c, "180 C", "between 5 and 45"),
        (room_c, "18 K", "room temperature"),
        (gauge_error_psi, "0.5 psi", "too high or too low"),
        (gauge_error_psi, "-0.5 psi low", "too high or too low"),
        (gauge_error_psi, "0.5 bar high", "too high or too low"),
        (keep_days, "3", "days or weeks"),
        (keep_days, "1.5 days", "days or weeks"),
        (keep_days, "-1 days", "days or weeks"),
        (keep_days, "300 weeks", "two years"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_can(read: Callable[[str], float], text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read(text)


@given(st.floats(min_value=0.01, max_value=15).map(lambda value: f"{value:.2f}"))
def test_high_and_low_differ_by_sign_only(number: str) -> None:
    assert gauge_error_psi(f"{number} psi high") == -gauge_error_psi(f"{number} psi low") >= 0


@given(st.text(max_size=12))
def test_any_text_is_a_number_or_an_input_error(text: str) -> None:
    for read in (volume_l, length_mm, room_c, gauge_error_psi, keep_days):
        try:
            assert math.isfinite(read(text))
        except InputError as error:
            assert str(error)
