"""Percentages, temperatures and times are read with their unit or not at all."""

from __future__ import annotations

import pytest

from stillroom.errors import InputError
from stillroom.quantities.measured_text import (
    read_difference_k,
    read_length_mm,
    read_percent,
    read_ppm,
    read_temp_c,
    read_time_min,
)


def test_read_with_their_units() -> None:
    assert read_percent("2.5%") == pytest.approx(0.025)
    assert read_percent(" 65 % ") == pytest.approx(0.65)
    assert read_ppm("120") == 120
    assert read_ppm("156 ppm") == 156
    assert read_temp_c("24 C") == 24
    assert read_temp_c("75 °F") == pytest.approx(23.8889, abs=1e-4)
    assert read_temp_c("-4F") == pytest.approx(-20)
    assert read_difference_k("20 F") == pytest.approx(11.1111, abs=1e-4)
    assert read_difference_k("11 C") == 11
    assert read_time_min("2 h") == 120
    assert read_time_min("90 min") == 90
    assert read_length_mm("1.5 in") == pytest.approx(38.1)
    assert read_length_mm("4 cm") == 40
    assert read_length_mm("40 mm") == 40


@pytest.mark.parametrize("text", ["", "2.5", "0.025", "%", "2,5%", "-1%", "1e2%", "nan%", "2000%"])
def test_percent_refused(text: str) -> None:
    with pytest.raises(InputError, match="%"):
        read_percent(text)


@pytest.mark.parametrize("text", ["", "24", "C", "24 K", "1,5 C"])
def test_temperature_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_temp_c(text)
    with pytest.raises(InputError):
        read_difference_k(text)


@pytest.mark.parametrize("text", ["", "2", "2 days", "-2 h"])
def test_others_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_time_min(text)
    with pytest.raises(InputError):
        read_length_mm(text)
    with pytest.raises(InputError):
        read_ppm(text + "x")
