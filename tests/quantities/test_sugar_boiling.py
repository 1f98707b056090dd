"""Where syrup boils and jelly sets, against printed syrups, printed gel points and old hydrometer tables."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.quantities import sugar_boiling
from stillroom.tables.gel_point import gel_points
from stillroom.units import celsius, metres

SEA = sugar_boiling.measured(100.0)


@pytest.mark.parametrize(("percent", "elevation_k"), [(10, 0.4), (32, 1.1), (50, 2.0), (64, 4.0)])
def test_printed_boiling_points_of_syrup(percent: float, elevation_k: float) -> None:
    """Browne 1912, as tabled: how much hotter than water at the sea."""
    boils = sugar_boiling.syrup_boils(percent / 100, SEA)
    assert boils.middle - 100 == pytest.approx(elevation_k, abs=0.05)


def test_measured_water_leaves_no_band_and_an_altitude_that_of_the_weather() -> None:
    """Boiling water at 2,000 m: 93.3 °C by tables of cooks (from memory)."""
    water = sugar_boiling.water_boils(2000.0)
    assert water.low < 93.3 < water.high
    assert sugar_boiling.syrup_boils(0.5, SEA).low == sugar_boiling.syrup_boils(0.5, SEA).high
    assert sugar_boiling.syrup_boils(0.5, water).high - sugar_boiling.syrup_boils(0.5, water).low == pytest.approx(
        1.6, abs=0.1
    )


@pytest.mark.parametrize("point", gel_points(), ids=lambda point: f"{point.altitude_ft:g} ft")
def test_the_printed_gel_points_lie_in_the_band_of_their_water(point: object) -> None:
    """Water boils 8 °F below each printed line, by the rule it was made with; thermometers read whole degrees."""
    printed_c = celsius(point.temp_f)  # type: ignore[attr-defined]
    band = sugar_boiling.jelly_sets(celsius(point.temp_f - 8))  # type: ignore[attr-defined]
    assert band.low <= printed_c <= band.high
    water = sugar_boiling.water_boils(metres(point.altitude_ft))  # type: ignore[attr-defined]
    assert water.low - 0.2 <= celsius(point.temp_f - 8) <= water.high + 0.2  # type: ignore[attr-defined]


@pytest.mark.parametrize(("percent", "baume"), [(10, 5.57), (30, 16.57), (60, 32.49), (65, 35.04)])
def test_hydrometer_as_tabled(percent: float, baume: float) -> None:
    """Mohos 2010, table A2.1 (Brix and Baumé at 20 °C); its scale has the modulus 145."""
    assert sugar_boiling.syrup(percent / 100).baume_deg == pytest.approx(baume, abs=0.4)
    assert 100 * sugar_boiling.fraction_of_baume(baume) == pytest.approx(percent, abs=0.8)


@given(st.floats(0.01, 0.66))
def test_strength_and_reading_go_back_and_forth(fraction: float) -> None:
    assert sugar_boiling.fraction_of_baume(sugar_boiling.syrup(fraction).baume_deg) == pytest.approx(fraction, abs=1e-5)


def test_a_saturated_syrup_crystallises_below_room_temperature() -> None:
    """203.9 g in 100 g of water at 20 °C (Mohos 2010, A2.2): 67.1 %; nothing below 64 % crystallises above 0 °C."""
    assert sugar_boiling.syrup(0.67).crystals_below_c == pytest.approx(20.0, abs=1.0)
    assert sugar_boiling.syrup(0.60).crystals_below_c is None


def test_nonsense_is_refused() -> None:
    for call in (
        lambda: sugar_boiling.measured(60.0),
        lambda: sugar_boiling.measured(120.0),
        lambda: sugar_boiling.water_boils(9000.0),
        lambda: sugar_boiling.fraction_of_baume(60.0),
        lambda: sugar_boiling.fraction_of_baume(-1.0),
        lambda: sugar_boiling.fraction_of_baume(float("nan")),
    ):
        with pytest.raises(InputError):
            call()
