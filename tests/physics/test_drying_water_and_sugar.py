"""Drying, water activity and syrup: second methods and directions that nature doesn't reverse."""

from __future__ import annotations

import math

import numpy as np
import pytest
from check_rows import row
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from stillroom.errors import OutsideTable
from stillroom.physics import sugar, water_activity
from stillroom.physics.drying import (
    Slice,
    diffusion_s,
    dried_mass_kg,
    dry_basis,
    drying_h,
    evaporation_s,
    water_left,
    wet_bulb_c,
)
from stillroom.physics.medium import moved_air
from stillroom.physics.steam import boiling_point_c, saturation_pressure_pa
from stillroom.tables.constants import constant
from stillroom.tables.gel_point import gel_points
from stillroom.units import celsius, metres

CARROT = Slice(0.006, 0.88, 0.10)
RULE_K = 8 / 1.8

# drying


@pytest.mark.parametrize("piece", [CARROT, Slice(0.008, 0.85, 0.20), Slice(0.006, 0.94, 0.10, both_faces=False)])
def test_diffusion_by_numbers(piece: Slice) -> None:
    """Finite volumes over half a slice, dry surface; mean moisture at the time the series gives, within 1 %."""
    diffusivity, cells = 5e-10, 200
    way_m = piece.thickness_m / (2 if piece.both_faces else 1)
    width = way_m / cells
    start, floor = dry_basis(piece.fresh_water), piece.floor_kg_kg

    def slope(_: float, moisture: np.ndarray) -> np.ndarray:
        flow = np.zeros(cells + 1)
        flow[1:-1] = diffusivity * (moisture[:-1] - moisture[1:]) / width
        flow[-1] = diffusivity * (moisture[-1] - floor) / (width / 2)
        return -np.diff(flow) / width

    time_s = diffusion_s(piece, diffusivity)
    done = solve_ivp(slope, (0, time_s), np.full(cells, start), method="LSODA", rtol=1e-8, lband=1, uband=1)
    assert done.y[:, -1].mean() == pytest.approx(dry_basis(piece.dried_water), rel=0.01)


@given(st.floats(0.002, 0.02), st.floats(1.05, 2), st.floats(40, 70), st.floats(0.5, 5), st.floats(0, 0.8))
def test_thick_cool_and_damp_dries_slower(
    thickness_m: float, more: float, air_c: float, warmer: float, humidity: float
) -> None:
    piece, thick = Slice(thickness_m, 0.88, 0.10), Slice(thickness_m * more, 0.88, 0.10)
    now = drying_h(piece, moved_air(air_c), room_humidity=humidity)
    for slower, faster in (
        (drying_h(thick, moved_air(air_c), room_humidity=humidity), now),
        (now, drying_h(piece, moved_air(air_c + warmer), room_humidity=humidity)),
        (drying_h(piece, moved_air(air_c), room_humidity=humidity + 0.2), now),
    ):
        assert faster.low <= slower.low
        assert faster.middle < slower.middle
        assert faster.high < slower.high


def test_usual_slices_fall_into_the_printed_hours() -> None:
    """R158: 6 to 16 h at 60 °C for vegetables; slices of 6 mm, and the band reaches over it."""
    band = drying_h(CARROT, moved_air(60))
    assert constant("drying_min_h").value <= band.middle <= constant("drying_max_h").value
    assert band.low < constant("drying_min_h").value
    assert band.high > constant("drying_max_h").value


def test_the_quickest_guess_is_the_slower_of_both_steps() -> None:
    """A thick slice waits for its water to come out, a thin one for the air to bring the heat."""
    thick, thin = Slice(0.02, 0.88, 0.10), Slice(0.001, 0.88, 0.10)
    assert drying_h(thick, moved_air(60)).low == pytest.approx(diffusion_s(thick, 1.2e-9) / 3600)
    wet_c = wet_bulb_c(60, 20, 0.5)
    assert drying_h(thin, moved_air(60)).low == pytest.approx(evaporation_s(thin, 30.0, 60.0, wet_c) / 3600)


def test_evaporation_by_hand() -> None:
    """6 mm of 1000 kg/m³ from 88 to 10 % lose 5.2 kg/m²; both faces, 17 W/(m² K), 30 K: 2.4e6·5.2/(2·17·30) s."""
    assert evaporation_s(CARROT, 17.0, 60.0, 30.0) == pytest.approx(2.4e6 * 5.2 / (2 * 17 * 30))
    on_a_tray = Slice(0.006, 0.88, 0.10, both_faces=False)
    assert evaporation_s(on_a_tray, 17.0, 60.0, 30.0) == pytest.approx(2.4e6 * 5.2 / (17 * 30))


def test_wet_bulb_between_dew_point_and_air() -> None:
    wet_c = wet_bulb_c(60, 20, 0.5)
    vapour_pa = 0.5 * float(saturation_pressure_pa(20.0))
    assert float(saturation_pressure_pa(wet_c)) > vapour_pa
    assert 20 < wet_c < 35
    assert wet_bulb_c(20, 20, 1.0) == pytest.approx(20)
    # psychrometric table: 20 °C dry and 50 % has a wet bulb of 13.8 °C (from memory)
    assert wet_bulb_c(20, 20, 0.5) == pytest.approx(13.8, abs=0.2)
    # nothing freezes inside the range: the coldest and driest air is still above 0 °C on a wet surface
    assert 0 < wet_bulb_c(10, 0, 0.0) < 1
    with pytest.raises(OutsideTable, match="10 to 80"):
        wet_bulb_c(9, 0, 0.0)


@given(st.floats(0.5, 20), st.floats(0.5, 0.95), st.floats(0.05, 0.4))
def test_weight_and_water_go_back_and_forth(fresh_kg: float, fresh: float, dried: float) -> None:
    assert water_left(fresh_kg, fresh, dried_mass_kg(fresh_kg, fresh, dried)) == pytest.approx(dried)


def test_drying_outside_its_range_is_refused() -> None:
    for bad in (lambda: drying_h(CARROT, moved_air(30)), lambda: wet_bulb_c(60, 70, 0.5)):
        with pytest.raises(OutsideTable):
            bad()
    for wrong in (
        lambda: Slice(0.006, 0.10, 0.88),
        lambda: dried_mass_kg(1, 0.1, 0.8),
        lambda: water_left(1, 0.85, 0.1),
        lambda: diffusion_s(CARROT, 0),
        lambda: dry_basis(1.0),
    ):
        with pytest.raises(ValueError, match=r"."):
            wrong()


# water activity


@given(st.floats(0, 0.66), st.floats(0.001, 0.05))
def test_more_sugar_binds_more_water(fraction: float, more: float) -> None:
    assert water_activity.sucrose(min(fraction + more, 0.67)) < water_activity.sucrose(fraction) <= 1


@given(st.floats(0, 6.1), st.floats(0.001, 0.05))
def test_more_salt_binds_more_water(molality: float, more: float) -> None:
    assert water_activity.salt(molality + more) < water_activity.salt(molality) <= 1


@pytest.mark.parametrize(("molality", "phi"), [(0.1, 0.9324), (1.0, 0.9355), (2.0, 0.9833), (4.0, 1.1158)])
def test_osmotic_coefficients_of_robinson_and_stokes_memory(molality: float, phi: float) -> None:
    """Electrolyte Solutions, appendix 8.3, from memory."""
    assert water_activity.salt_osmotic_coefficient(molality) == pytest.approx(phi, abs=0.0015)


def test_saturated_salt_by_both_ways() -> None:
    """The tabulated salt cell and the osmotic coefficient of saturated brine share nothing."""
    assert water_activity.salt(6.15) == pytest.approx(water_activity.saturated_salt(23.1092, 0.3607, 25.0), abs=0.003)


@given(st.floats(0.01, 0.85), st.floats(0.05, 0.3), st.floats(1.5, 20), st.floats(0.6, 1.05))
def test_isotherm_goes_back_and_forth(activity: float, monolayer: float, c: float, k: float) -> None:
    moisture = water_activity.gab_moisture(activity, monolayer, c, k)
    assert water_activity.gab_activity(moisture, monolayer, c, k) == pytest.approx(activity, rel=1e-6)


def test_isotherm_with_c_of_one_has_no_square_term() -> None:
    assert water_activity.gab_activity(water_activity.gab_moisture(0.5, 0.1, 1.0, 0.9), 0.1, 1.0, 0.9) == pytest.approx(
        0.5
    )


def test_activities_outside_their_tables_are_refused() -> None:
    for bad in (
        lambda: water_activity.sucrose(0.8),
        lambda: water_activity.salt(7.0),
        lambda: water_activity.gab_activity(50.0, 0.1, 10, 0.9),
        lambda: water_activity.gab_activity(1.2, 0.1, 10, 0.9),  # more than at an activity of 1
        lambda: water_activity.saturated_salt(23.1, 0.36, 90),
    ):
        with pytest.raises(OutsideTable):
            bad()


# sugar


@pytest.mark.parametrize("brix", [20, 30, 40, 50, 60])
def test_elevation_against_water_activity(brix: float) -> None:
    """Norrish and steam against the measured table: two ways that share nothing, within 0.5 K up to 60 Brix."""
    activity = water_activity.sucrose(brix / 100)
    temps_c = np.linspace(99.97, 110, 20001)
    by_activity = temps_c[np.argmax(saturation_pressure_pa(temps_c) >= 101325 / activity)] - 99.97
    assert sugar.boiling_elevation_k(brix) == pytest.approx(by_activity, abs=0.5)


@given(st.floats(0, 81), st.floats(0.01, 1), st.floats(85, 101))
def test_stronger_syrup_boils_hotter_and_its_elevation_shrinks_with_height(
    brix: float, more: float, water_c: float
) -> None:
    now = sugar.boiling_c(brix, water_c)
    assert sugar.boiling_c(brix + more, water_c) > now >= water_c - 1e-6
    assert sugar.boiling_c(brix, water_c - 1) - (water_c - 1) <= now - water_c + 1e-6


def test_elevation_at_height_by_clausius_and_clapeyron() -> None:
    """ΔT grows with T²/L: at 90 °C (2283 kJ/kg) against 100 °C (2257 kJ/kg) of the steam tables, from memory."""
    smaller = (363.15 / 373.15) ** 2 * 2257 / 2283
    assert sugar.boiling_c(65, 90.0) - 90.0 == pytest.approx(sugar.boiling_elevation_k(65) * smaller, rel=0.01)


def test_at_sea_level_the_table_is_given_back() -> None:
    sea_c = float(boiling_point_c(0.0))
    for brix, elevation_k in zip(sugar.ELEVATION_BRIX, sugar.ELEVATION_K, strict=True):
        assert sugar.boiling_c(brix, sea_c) - sea_c == pytest.approx(elevation_k, abs=1e-6)


@pytest.mark.parametrize("point", gel_points(), ids=lambda point: f"{point.altitude_ft:g} ft")
def test_printed_gel_points_by_altitude(point: object) -> None:
    """The leaflets count 2 °F for each 1,000 ft; steam and atmosphere come within 0.7 °C of them."""
    water_c = float(boiling_point_c(metres(point.altitude_ft)))  # type: ignore[attr-defined]
    band = sugar.gel_point_c(water_c, RULE_K)
    printed_c = celsius(point.temp_f)  # type: ignore[attr-defined]
    assert band.middle == pytest.approx(printed_c, abs=0.7)


@pytest.mark.parametrize("name", ["DW-jel", "DW-lo65"])
def test_the_dissenting_jelly_point_lies_in_the_band(name: str) -> None:
    value = row("drying_and_water", name).values[0]
    value_c = value + 100.0 if name == "DW-jel" else value
    band = sugar.gel_point_c(100.0, RULE_K)
    assert band.low - 0.01 <= value_c <= band.high


def test_thin_syrup_is_known_to_be_printed_too_high() -> None:
    """DW-b2 prints 0.3 K at 2 %; Raoult gives 0.03 K. We keep the printed point."""
    assert sugar.boiling_elevation_k(2) == pytest.approx(row("drying_and_water", "DW-b2").values[0])


@pytest.mark.parametrize("gravity", np.linspace(1.002, 1.175, 12))
def test_gravity_against_the_polynomial_of_the_same_table(gravity: float) -> None:
    """Published fit to the NBS table, up to 40 Brix; within 0.0005 of specific gravity."""
    brix = ((182.4601 * gravity - 775.6821) * gravity + 1262.7794) * gravity - 669.5622
    assert sugar.specific_gravity(brix) == pytest.approx(gravity, abs=5e-4)


@given(st.floats(0, 79), st.floats(0.01, 1))
def test_stronger_syrup_is_denser(brix: float, more: float) -> None:
    assert sugar.density_kg_m3(brix + more) > sugar.density_kg_m3(brix)
    gravity = sugar.specific_gravity(brix)
    assert sugar.gravity_of_baume(sugar.baume_deg(gravity)) == pytest.approx(gravity)


@given(st.floats(0, 99), st.floats(0.1, 1))
def test_warm_water_takes_up_more_sugar(temp_c: float, more: float) -> None:
    assert sugar.saturated_brix(temp_c + more) > sugar.saturated_brix(temp_c)


def test_sugar_outside_its_tables_is_refused() -> None:
    for bad in (
        lambda: sugar.boiling_elevation_k(85),
        lambda: sugar.boiling_c(50, 60),
        lambda: sugar.boiling_c(50, math.nan),
        lambda: sugar.specific_gravity(81),
        lambda: sugar.baume_deg(0.9),
        lambda: sugar.gravity_of_baume(100),
        lambda: sugar.saturated_brix(120),
    ):
        with pytest.raises(OutsideTable):
            bad()
    with pytest.raises(ValueError, match="jelly"):
        sugar.gel_point_c(100, 9)
