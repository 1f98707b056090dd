"""The cold spot against an independent finite-volume solution, product solutions of textbooks, and itself refined."""

from dataclasses import replace

import numpy as np
import pytest
from check_rows import row, rows
from finite_volume_jar import FiniteVolumeJar, solve
from scipy.integrate import solve_ivp

from stillroom.heat.pack import jar_geometry
from stillroom.physics.canner import BoilingSetting, CannerTiming, PressureSetting, Swing
from stillroom.physics.conduction import (
    ConductionJar,
    axial_series,
    finite_cylinder_modes,
    overall_w_m2k,
    radial_series,
)
from stillroom.physics.convection import heating_curve_modes, respond_with_break
from stillroom.physics.first_term import Shape, roots, temperature_ratio
from stillroom.physics.history import History
from stillroom.physics.history_response import respond
from stillroom.physics.lethality import P82, lethality_of

GLASS_W_M2K = float(overall_w_m2k(3000.0, 3.0))
QUART = ConductionJar(43.0, 135.0, 1.3e-7, 0.55, GLASS_W_M2K, GLASS_W_M2K, GLASS_W_M2K)
PINT_TOP_INSULATED = ConductionJar(37.0, 90.0, 1.6e-7, 0.58, GLASS_W_M2K, GLASS_W_M2K, 0.0)
HALF_PINT_TOP_HALF = ConductionJar(31.0, 62.0, 1.5e-7, 0.55, GLASS_W_M2K, 200.0, 30.0)
STEADY = PressureSetting(11.0, 90.0, 300.0)
SWINGING = PressureSetting(13.0, 55.0, 1800.0, swing=Swing(1.0, 8.0))


def same_jar(jar):
    return FiniteVolumeJar(
        jar.radius_mm / 1000,
        jar.height_mm / 1000,
        *(jar.diffusivity_m2_s, jar.conductivity_w_mk, jar.side_w_m2k, jar.base_w_m2k, jar.top_w_m2k),
    )


def cold_height_m(jar):
    biots = (
        np.array([film * jar.height_mm / 1000 / jar.conductivity_w_mk]) for film in (jar.base_w_m2k, jar.top_w_m2k)
    )
    return float(axial_series(*biots, 1)[2][0]) * jar.height_mm / 1000


@pytest.mark.parametrize(
    ("jar", "setting", "fill_c"),
    [(QUART, STEADY, 40.0), (PINT_TOP_INSULATED, SWINGING, 70.0), (HALF_PINT_TOP_HALF, STEADY, 20.0)],
    ids=["quart", "pint, insulated top, swinging pressure", "half pint, resisting top"],
)
def test_agrees_with_finite_volumes(jar, setting, fill_c):
    """Within 0.1 °C at all times and 1 % of heating and cooling lethality; the place is the coldest on the axis."""
    run = setting.run()
    curve = respond(finite_cylinder_modes(jar), run.history, fill_c)
    solution = solve(same_jar(jar), run.history.time_min, run.history.temp_c, fill_c, curve.time_min[:, 0])
    other_c = solution.at_height(cold_height_m(jar))
    assert np.abs(curve.temp_c[:, 0] - other_c).max() < 0.1
    ours = curve.lethality(run.heat_off_kink)
    theirs = replace(curve, temp_c=other_c[:, None]).lethality(run.heat_off_kink)
    assert ours.heating_min == pytest.approx(theirs.heating_min, rel=0.01)
    assert ours.cooling_min == pytest.approx(theirs.cooling_min, rel=0.01)
    along_axis = replace(curve, temp_c=solution.axis_c, time_min=curve.time_min).lethality(run.heat_off_kink)
    assert ours.total_min[0] < 1.01 * along_axis.total_min.min()


@pytest.mark.parametrize("jar", [QUART, PINT_TOP_INSULATED, HALF_PINT_TOP_HALF])
@pytest.mark.parametrize("setting", [STEADY, SWINGING, replace(STEADY, timing=CannerTiming(come_up_min=1.0))])
def test_lethality_is_converged_to_a_tenth_of_a_percent(jar, setting):
    run = setting.run()
    coarse = respond(finite_cylinder_modes(jar), run.history, 60.0).lethality(run.heat_off_kink)
    fine_modes = finite_cylinder_modes(jar, fastest_per_min=100.0)
    fine = respond(fine_modes, run.history, 60.0, step_min=0.2).lethality(run.heat_off_kink)
    assert coarse.heating_min == pytest.approx(fine.heating_min, rel=1e-3)
    assert coarse.cooling_min == pytest.approx(fine.cooling_min, rel=1e-3)


def test_a_sudden_change_is_the_product_of_slab_and_cylinder():
    around = History(np.array([0.0, 60.0]), np.array([100.0, 100.0]))
    curve = respond(finite_cylinder_modes(QUART), around, 20.0)
    for index in (4, 12, 20, 30):
        seconds = curve.time_min[index, 0] * 60
        radial = temperature_ratio(Shape.CYLINDER, GLASS_W_M2K * 0.043 / 0.55, 1.3e-7 * seconds / 0.043**2)
        axial = temperature_ratio(Shape.SLAB, GLASS_W_M2K * 0.0675 / 0.55, 1.3e-7 * seconds / 0.0675**2)
        assert curve.temp_c[index, 0] == pytest.approx(100 - 80 * radial * axial, abs=0.005)


def test_can_in_boiling_water():
    """A textbook's can; its chart answer of 48.4 °C is off."""
    check = row("conduction", "CO-e11")
    diffusivity = check.number("k") / (check.number("rho") * 3500)
    can = ConductionJar(40.5, 110.0, diffusivity, check.number("k"), 2000.0, 2000.0, 2000.0)
    curve = respond(finite_cylinder_modes(can), History(np.array([0.0, 30.0]), np.array([100.0, 100.0])), 35.0)
    assert curve.temp_c[-1, 0] == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_lag_factor_of_a_can_without_surface_resistance():
    check = row("conduction", "CO-fc2")
    can = ConductionJar(40.0, 110.0, 1.5e-7, 0.55, 1e9, 1e9, 1e9)
    assert finite_cylinder_modes(can).coefficient[0, 0] == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_from_memory_fh_of_a_can_without_surface_resistance():
    """fh = 0.398/(α (1/a² + 0.427/b²)), Ball & Olson; evidence memory. Constants to three figures."""
    can = ConductionJar(40.0, 110.0, 1.5e-7, 0.55, 1e9, 1e9, 1e9)
    fh_min = np.log(10) / finite_cylinder_modes(can).rate_per_min[0, 0]
    assert fh_min == pytest.approx(0.398 / (1.5e-7 * (1 / 0.040**2 + 0.427 / 0.055**2)) / 60, rel=2e-3)


def test_from_memory_a_glass_wall_slows_heating_by_7_to_8_percent():
    """A 3 mm wall is 350 W/(m² K); evidence memory."""
    wall = float(overall_w_m2k(1e9, 3.0))
    assert wall == pytest.approx(350, rel=0.01)
    bare, glass = (
        np.log(10) / finite_cylinder_modes(ConductionJar(43.0, 1e4, 1.5e-7, 0.55, film, film, film)).rate_per_min[0, 0]
        for film in (1e9, wall)
    )
    assert 1.07 < glass / bare < 1.081


def test_printed_diffusivities_lie_in_the_stated_range():
    printed = [check.values[0] for check in rows("conduction") if check.group == "thermal_diffusivity"]
    assert len(printed) == 16
    assert 1.0 <= min(printed) <= max(printed) <= 1.9


@pytest.mark.parametrize("biot", [0.0011, 0.1, 1.0, 27.0, 3e4])
def test_radial_roots_from_the_table_meet_exact_ones(biot):
    lambdas, _ = radial_series(np.array([biot]), 12)
    np.testing.assert_allclose(lambdas[:, 0], roots(Shape.CYLINDER, biot, 12), rtol=1e-6)


@pytest.mark.parametrize("biot", [1e-3, 0.5, 80.0])
def test_equal_faces_make_the_symmetric_slab(biot):
    """Even modes of the whole height are the roots of the half height twice over; odd ones vanish in the middle."""
    betas, coefficients, place = axial_series(np.array([2 * biot]), np.array([2 * biot]), 6)
    np.testing.assert_allclose(betas[::2, 0], 2 * np.array(roots(Shape.SLAB, biot, 3)), rtol=1e-8)
    np.testing.assert_allclose(coefficients[1::2, 0], 0.0, atol=1e-9)
    assert place[0] == pytest.approx(0.5)


@pytest.mark.parametrize("jar", [QUART, PINT_TOP_INSULATED, HALF_PINT_TOP_HALF])
def test_ramp_lag_is_the_sum_over_all_modes(jar):
    modes = finite_cylinder_modes(jar, fastest_per_min=150.0)
    listed = (modes.coefficient / modes.rate_per_min).sum(axis=0)
    assert listed == pytest.approx(modes.ramp_lag_min, abs=0.01)


def test_jars_sampled_together_are_the_jars_alone():
    radii = np.array([36.0, 43.0])
    run = STEADY.run(gauge_error_psi=np.array([-1.0, 1.0]))
    jars = replace(QUART, radius_mm=radii)
    both = respond(finite_cylinder_modes(jars), run.history, np.array([60.0, 40.0]))
    for number, (radius, error, fill_c) in enumerate(((36.0, -1.0, 60.0), (43.0, 1.0, 40.0))):
        alone = STEADY.run(gauge_error_psi=error)
        curve = respond(finite_cylinder_modes(replace(QUART, radius_mm=radius)), alone.history, fill_c)
        apart = curve.lethality(alone.heat_off_kink).total_min[0]
        assert both.lethality(run.heat_off_kink).total_min[number] == pytest.approx(apart, rel=1e-3)


def test_effective_cooling_in_air_is_cautious():
    """A jar that loses 12 W/(m² K) to air of 22 °C once it is out, by finite volumes, against our outside of glass."""
    run = STEADY.run()
    ours = respond(finite_cylinder_modes(QUART), run.history, 60.0).lethality(run.heat_off_kink).total_min[0]
    out = run.phase_end_kink["cooling in the canner"]
    times, temps = run.history.time_min[: out + 1], run.history.temp_c[: out + 1]
    at_min = np.linspace(0, times[-1], 400)
    inside = solve(same_jar(QUART), times, temps, 60.0, at_min)
    film = 1 / (1 / 12 + 0.003 / 1.05)
    in_air = replace(same_jar(QUART), side_w_m2k=film, base_w_m2k=film, top_w_m2k=film)
    air_min = np.linspace(0, 60, 121)
    cooling = solve(in_air, np.array([0.0, 60.0]), np.array([22.0, 22.0]), inside.last_c, air_min)
    height = cold_height_m(QUART)
    truth = lethality_of(History(at_min, inside.at_height(height))) + lethality_of(
        History(air_min, cooling.at_height(height))
    )
    assert 0.96 * truth < ours < 1.005 * truth


@pytest.mark.parametrize("jar_ml", [236.6, 473.2, 946.4])
@pytest.mark.parametrize("lid_w_m2k", [10.0, 20.0])
def test_no_place_gets_less_than_an_insulated_lid_says(jar_ml, lid_w_m2k):
    """A lid that passes heat cools the food under it later: least is then got there, not where heating is slowest."""
    size = jar_geometry(jar_ml)
    radius_mm, height_mm, side, base = size.radius_mm, size.height_mm - 20, 290.0, 250.0
    run = BoilingSetting(40.0, 300.0).run()
    insulated = ConductionJar(radius_mm, height_mm, 1.4e-7, 0.55, side, base, 0.0)
    curve = respond(finite_cylinder_modes(insulated), run.history, 30.0)
    said = curve.lethality(run.heat_off_kink, P82).total_min[0]
    other = FiniteVolumeJar(radius_mm / 1000, height_mm / 1000, 1.4e-7, 0.55, side, base, lid_w_m2k)
    times, temps = run.history.time_min, run.history.temp_c
    solution = solve(other, times, temps, 30.0, curve.time_min[:, 0], radial_cells=16, axial_cells=24)
    everywhere = replace(curve, temp_c=solution.axis_c).lethality(run.heat_off_kink, P82).total_min
    assert said < everywhere.min()
    assert said > 0.5 * everywhere.min()


def test_heating_curve_has_the_fh_and_jh_it_was_made_from():
    around = History(np.array([0.0, 100.0]), np.array([100.0, 100.0]))
    for fh_min, jh in ((30.0, 1.4), (12.0, 1.0), (25.0, 0.8), (20.0, 1.03)):
        curve = respond(heating_curve_modes(fh_min, jh), around, 40.0)
        late = (curve.time_min[:, 0] > fh_min) & (curve.temp_c[:, 0] < 99)  # the straight part
        slope, at_zero = np.polyfit(curve.time_min[late, 0], np.log10(100 - curve.temp_c[late, 0]), 1)
        assert -1 / slope == pytest.approx(fh_min, rel=2e-3)
        assert 10**at_zero / 60 == pytest.approx(jh, rel=0.01)
        assert curve.temp_c[0, 0] == 40.0
        assert (np.diff(curve.temp_c[:, 0]) >= 0).all()


def test_broken_heating_against_the_differential_equation():
    """After the break the lag decays with the second fh alone; solved again with a general solver."""
    run = STEADY.run()
    curve = respond_with_break(heating_curve_modes(15.0, 1.2), 60.0, 50.0, run.history, 60.0)
    at_break = int(np.searchsorted(curve.time_min[:, 0], 50.0 - 1e-9))
    assert curve.time_min[at_break, 0] == 50.0
    rate = np.log(10) / 60.0
    solved = solve_ivp(
        lambda t, y: rate * (np.interp(t, run.history.time_min, run.history.temp_c) - y),
        (50.0, curve.time_min[-1, 0]),
        curve.temp_c[at_break],
        t_eval=curve.time_min[at_break:, 0],
        max_step=0.2,
    )
    np.testing.assert_allclose(curve.temp_c[at_break:, 0], solved.y[0], atol=0.02)
    with pytest.raises(ValueError, match="break"):
        respond_with_break(heating_curve_modes(15.0, 1.2), 60.0, 1e4, run.history, 60.0)


def test_a_break_that_changes_nothing_is_no_break():
    """fh before and after alike and no lag factor: the same lethality as without a break."""
    run = STEADY.run()
    whole = respond(heating_curve_modes(25.0, 1.0), run.history, 60.0).lethality(run.heat_off_kink)
    assert run.history.time_min[run.heat_off_kink] > 70
    broken = respond_with_break(heating_curve_modes(25.0, 1.0), 25.0, 70.0, run.history, 60.0).lethality(
        run.heat_off_kink + 1
    )
    assert broken.heating_min == pytest.approx(whole.heating_min, rel=1e-3)
    assert broken.cooling_min == pytest.approx(whole.cooling_min, rel=1e-3)


def test_what_makes_no_sense_is_refused():
    with pytest.raises(ValueError, match="positive"):
        replace(QUART, diffusivity_m2_s=0.0)
    with pytest.raises(ValueError, match="top"):
        replace(QUART, top_w_m2k=-1.0)
    with pytest.raises(ValueError, match="Biot"):
        finite_cylinder_modes(replace(QUART, side_w_m2k=1e-4))
    with pytest.raises(ValueError, match="start"):
        respond(finite_cylinder_modes(QUART), STEADY.run().history, float("nan"))
    with pytest.raises(ValueError, match="fh"):
        heating_curve_modes(0.0, 1.4)
