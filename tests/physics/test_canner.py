"""The run of a canner: phases, temperatures, cooling; and what is learnt from logs of runs made by another hand."""

from dataclasses import asdict

import numpy as np
import pytest
from chemicals.vapor_pressure import Psat_IAPWS, Tsat_IAPWS

from stillroom.errors import InputError
from stillroom.physics.canner import BOILING_WATER_TIMING, BoilingSetting, CannerTiming, PressureSetting, Swing
from stillroom.physics.canner_learning import LoggedRun, learn
from stillroom.physics.steam import boiling_point_c, canner_temp_c

ALTITUDE_M = 500.0
AIR_PA = 101325 * (1 - 0.0065 * ALTITUDE_M / 288.15) ** 5.25588


def phase_times(run):
    return {phase: float(run.history.time_min[kink]) for phase, kink in run.phase_end_kink.items()}


def test_phases_of_a_pressure_canner():
    timing = CannerTiming(heat_up_min=14, vent_min=10, come_up_min=4, cooling_time_constant_min=165, wait_min=10)
    run = PressureSetting(11, 75, 0, timing).run()
    ends = phase_times(run)
    assert (ends["heating"], ends["vent"], ends["come-up"], ends["hold"]) == (14, 24, 28, 103)
    assert run.history.time_min[run.heat_off_kink] == 103
    assert ends["jars in air"] - ends["cooling in the canner"] == 120


def test_temperatures_around_the_jars():
    run = PressureSetting(11, 75, ALTITUDE_M).run()
    boil_c = Tsat_IAPWS(AIR_PA) - 273.15
    hold_c = Tsat_IAPWS(AIR_PA + 11 * 6894.757) - 273.15
    ends = phase_times(run)
    assert run.history.at((ends["heating"] + ends["vent"]) / 2) == pytest.approx(boil_c, abs=0.01)
    assert run.history.at((ends["come-up"] + ends["hold"]) / 2) == pytest.approx(hold_c, abs=0.01)
    half_pressure_c = Tsat_IAPWS(AIR_PA + 5.5 * 6894.757) - 273.15
    assert run.history.at((ends["vent"] + ends["come-up"]) / 2) == pytest.approx(half_pressure_c, abs=0.01)


@pytest.mark.parametrize(("constant_min", "printed_min"), [(165, 30), (250, 45), (110, 20), (330, 60)])
def test_default_cooling_constants_are_the_printed_times_to_zero_pressure(constant_min, printed_min):
    """240 °F and a kitchen of 22 °C at sea level: pints 30, quarts 45, planning 20 to 60 min."""
    run = PressureSetting(10.29, 60, 0, CannerTiming(cooling_time_constant_min=constant_min, wait_min=0)).run()
    ends = phase_times(run)
    assert ends["cooling in the canner"] - ends["hold"] == pytest.approx(printed_min, rel=0.02)


def test_swings_stay_around_the_setting_and_end_at_it():
    run = PressureSetting(11, 61, 0, swing=Swing(1.0, 8.0)).run()
    hold = slice(run.phase_end_kink["come-up"], run.phase_end_kink["hold"] + 1)
    temps = run.history.temp_c[hold]
    assert temps.min() == pytest.approx(float(canner_temp_c(10, 0)))
    assert temps.max() == pytest.approx(float(canner_temp_c(12, 0)))
    assert temps[-1] == pytest.approx(float(canner_temp_c(11, 0)))
    ends = phase_times(run)
    assert ends["hold"] - ends["come-up"] == pytest.approx(61)


def test_a_run_for_each_sample():
    errors = np.array([-1.0, 0.0, 1.0])
    run = PressureSetting(11, 60, 0).run(gauge_error_psi=errors, cooling_time_constant_min=np.array([110, 165, 330]))
    assert run.history.temp_c.shape == run.history.time_min.shape == (len(run.history.time_min), 3)
    assert run.history.temp_c[run.heat_off_kink] == pytest.approx(canner_temp_c(11 - errors, 0))


def test_boiling_water_holds_at_the_local_boiling_point():
    run = BoilingSetting(40, 2000).run(gauge_error_psi=5.0)
    ends = phase_times(run)
    assert ends["hold"] - ends["heating"] == 40
    assert run.history.temp_c.max() == pytest.approx(float(boiling_point_c(2000)))
    assert ends["cooling in the canner"] - ends["hold"] == 5


def test_what_makes_no_sense_is_refused():
    with pytest.raises(ValueError, match="above zero"):
        PressureSetting(11, 60, 0).run(gauge_error_psi=12)
    with pytest.raises(ValueError, match="swing"):
        Swing(-1, 5)
    with pytest.raises(ValueError, match="hold"):
        PressureSetting(11, -1, 0).run()
    with pytest.raises(ValueError, match="hold"):
        BoilingSetting(float("nan"), 0).run()
    with pytest.raises(ValueError, match="constants"):
        CannerTiming(cooling_time_constant_min=0)
    with pytest.raises(ValueError, match="negative"):
        CannerTiming(vent_min=-1)


def test_a_hold_of_nothing_is_a_run_without_hold():
    run = PressureSetting(11, 0, 0).run()
    assert run.phase_end_kink["hold"] == run.phase_end_kink["come-up"] == run.heat_off_kink


def logged(heat_up, vent, come_up, hold, constant, *, noise_c=0.0, seed=1):
    """A run written down every half minute, made here from its parts, not with our canner."""
    times = np.arange(0, heat_up + vent + come_up + hold + 60, 0.5)
    boil_c, hold_c = (Tsat_IAPWS(AIR_PA + psi * 6894.757) - 273.15 for psi in (0, 12))
    ends = np.cumsum([0, heat_up, vent, come_up, hold])
    temps = np.interp(times, ends, [30, boil_c, boil_c, hold_c, hold_c])
    after = times > ends[-1]
    temps[after] = 22 + (hold_c - 22) * np.exp(-(times[after] - ends[-1]) / constant)
    return times, temps + np.random.default_rng(seed).normal(0, noise_c, len(times))


def test_learns_the_times_of_a_canner_from_temperatures():
    runs = [
        LoggedRun(*logged(heat, 10, 4, 60, constant, noise_c=0.1, seed=number), 12, ALTITUDE_M)
        for number, (heat, constant) in enumerate(((13, 190), (14, 200), (17, 215)))
    ]
    timing = learn(runs, CannerTiming())
    assert timing.heat_up_min == pytest.approx(14, abs=0.5)
    assert timing.vent_min == pytest.approx(10, abs=0.8)
    assert timing.come_up_min == pytest.approx(4, abs=0.6)
    assert timing.cooling_time_constant_min == pytest.approx(200, rel=0.05)
    assert timing.wait_min == CannerTiming().wait_min


def test_learns_what_a_gauge_can_show():
    """A gauge shows nothing below boiling: heating and vent stay as known, come-up and cooling are learnt."""
    times, temps = logged(13, 10, 4, 60, 200)
    psi = np.array([max((_saturation_pa(temp_c) - AIR_PA) / 6894.757, 0.0) for temp_c in temps])
    timing = learn([LoggedRun(times, canner_temp_c(psi, ALTITUDE_M), 12, ALTITUDE_M)], CannerTiming(heat_up_min=15))
    assert timing.heat_up_min == 15
    assert timing.vent_min == 10
    assert timing.come_up_min == pytest.approx(4, abs=0.6)
    assert timing.cooling_time_constant_min == pytest.approx(200, rel=0.05)


def _saturation_pa(temp_c):
    return Psat_IAPWS(temp_c + 273.15)


def test_logs_that_make_no_sense_are_refused():
    times, temps = logged(13, 10, 4, 60, 200)
    with pytest.raises(InputError, match="never reaches"):
        learn([LoggedRun(times, temps - 10, 12, ALTITUDE_M)], CannerTiming())
    with pytest.raises(InputError, match="times that rise"):
        LoggedRun(times[::-1], temps, 12, ALTITUDE_M)


def test_learns_how_long_a_boiling_water_canner_takes_to_boil():
    """Written by hand: 60 °C at the start, 0.8 °C a minute, so water that boils at 100 °C boils after 50 min."""
    times = np.arange(0.0, 91.0)
    temps = np.minimum(60 + 0.8 * times, 100.0)
    timing = learn([LoggedRun(times, temps, 0.0, 0.0)], BOILING_WATER_TIMING)
    assert timing.heat_up_min == pytest.approx(50, abs=1.5)  # a probe within a degree of the boil counts as boiling
    assert asdict(timing) == asdict(BOILING_WATER_TIMING) | {"heat_up_min": timing.heat_up_min}
    with pytest.raises(InputError):
        learn([LoggedRun(times, temps - 5, 0.0, 0.0)], BOILING_WATER_TIMING)
