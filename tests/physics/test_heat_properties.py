"""What can never happen, whatever the jar: found by hypothesis.

A bigger jar, a lower diffusivity, a lower temperature, a colder start, a shorter hold never raise what heating does.
Size and diffusivity only where the jar is no warmer than the water it goes into: a hotter one cools at first, and a
big or slow one less. For heating and cooling together only the last three hold: a big or slow jar that has come to
temperature also stays hot longer, which `test_a_slow_jar_can_gain_in_cooling` shows.
"""

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.physics.canner import BoilingSetting, PressureSetting
from stillroom.physics.conduction import ConductionJar, finite_cylinder_modes
from stillroom.physics.history import History
from stillroom.physics.history_response import respond

TOLERANCE = 1.002  # integration is converged to 0.1 %
NOTHING_MIN = 1e-6

sizes = st.tuples(st.floats(25, 55), st.floats(50, 180))
diffusivities = st.floats(1.0e-7, 1.9e-7)
fill_temps = st.floats(5, 90)
no_warmer_than_the_water = st.floats(5, 60)  # a hotter jar first cools, and a big or slow one less
tops = st.sampled_from([0.0, 40.0, 340.0])
runs = st.builds(PressureSetting, gauge_psi=st.floats(5, 15), hold_min=st.floats(5, 120), altitude_m=st.floats(0, 3000))
smaller = st.floats(0.5, 1.0)


def lethality(setting, size, diffusivity, top, fill_c):
    jar = ConductionJar(size[0], size[1], diffusivity, 0.55, 340.0, 340.0, top)
    run = setting.run()
    return respond(finite_cylinder_modes(jar), run.history, fill_c).lethality(run.heat_off_kink)


def never_more(less, more, parts):
    for part in parts:
        assert getattr(less, part)[0] <= getattr(more, part)[0] * TOLERANCE + NOTHING_MIN


@settings(max_examples=40, deadline=None)
@given(runs, sizes, diffusivities, tops, no_warmer_than_the_water, smaller)
def test_a_bigger_jar_never_heats_more(setting, size, diffusivity, top, fill_c, share):
    small = (size[0] * share, size[1] * share)
    never_more(
        lethality(setting, size, diffusivity, top, fill_c),
        lethality(setting, small, diffusivity, top, fill_c),
        ["heating_min"],
    )


@settings(max_examples=40, deadline=None)
@given(runs, sizes, diffusivities, tops, no_warmer_than_the_water, smaller)
def test_a_lower_diffusivity_never_heats_more(setting, size, diffusivity, top, fill_c, share):
    never_more(
        lethality(setting, size, diffusivity * share, top, fill_c),
        lethality(setting, size, diffusivity, top, fill_c),
        ["heating_min"],
    )


@settings(max_examples=40, deadline=None)
@given(runs, sizes, diffusivities, tops, fill_temps, smaller)
def test_a_lower_pressure_never_gives_more(setting, size, diffusivity, top, fill_c, share):
    never_more(
        lethality(replace(setting, gauge_psi=setting.gauge_psi * share), size, diffusivity, top, fill_c),
        lethality(setting, size, diffusivity, top, fill_c),
        ["heating_min", "total_min"],
    )


@settings(max_examples=40, deadline=None)
@given(runs, sizes, diffusivities, tops, fill_temps, smaller)
def test_a_colder_start_never_gives_more(setting, size, diffusivity, top, fill_c, share):
    never_more(
        lethality(setting, size, diffusivity, top, fill_c * share),
        lethality(setting, size, diffusivity, top, fill_c),
        ["heating_min", "cooling_min", "total_min"],
    )


@settings(max_examples=40, deadline=None)
@given(runs, sizes, diffusivities, tops, fill_temps, smaller)
def test_a_shorter_hold_never_gives_more(setting, size, diffusivity, top, fill_c, share):
    never_more(
        lethality(replace(setting, hold_min=setting.hold_min * share), size, diffusivity, top, fill_c),
        lethality(setting, size, diffusivity, top, fill_c),
        ["heating_min", "total_min"],
    )


@settings(max_examples=40, deadline=None)
@given(sizes, diffusivities, tops, fill_temps, st.floats(0, 3000), st.floats(0, 3000))
def test_boiling_water_is_never_more_at_a_greater_altitude(size, diffusivity, top, fill_c, first_m, second_m):
    low_m, high_m = sorted((first_m, second_m))
    never_more(
        lethality(BoilingSetting(40, high_m), size, diffusivity, top, fill_c),
        lethality(BoilingSetting(40, low_m), size, diffusivity, top, fill_c),
        ["heating_min", "total_min"],
    )


@settings(max_examples=40, deadline=None)
@given(
    sizes,
    diffusivities,
    tops,
    fill_temps,
    st.lists(st.tuples(st.floats(1, 60), st.floats(0, 120)), min_size=2, max_size=8),
)
def test_the_cold_spot_never_leaves_the_range_of_what_surrounds_it(size, diffusivity, top, fill_c, stretches):
    """Within 0.5 °C: pieces of one minute and jumps of 120 °C are harsher than any canner."""
    times = np.cumsum([minutes for minutes, _ in stretches])
    temps = np.array([temp_c for _, temp_c in stretches])
    jar = ConductionJar(size[0], size[1], diffusivity, 0.55, 340.0, 340.0, top)
    curve = respond(finite_cylinder_modes(jar), History(times, temps), fill_c)
    assert curve.temp_c.min() >= min(fill_c, temps.min()) - 0.5
    assert curve.temp_c.max() <= max(fill_c, temps.max()) + 0.5


def test_a_jar_filled_hotter_than_the_water_can_gain_by_being_slow():
    """Why the fill is limited above: over five minutes of hold the slow jar still has the heat of its filling."""
    short = PressureSetting(5, 5, 0)
    quick, slow = (lethality(short, (31.0, 50.0), each, 0.0, 90.0) for each in (1.5e-7, 0.75e-7))
    assert slow.heating_min[0] > 1.1 * quick.heating_min[0]


def test_a_slow_jar_can_gain_in_cooling():
    """Why size and diffusivity are promised for heating only: both jars come to temperature in two hours of hold."""
    quick, slow = (
        lethality(PressureSetting(11, 120, 0), size, 1.8e-7, 340.0, 80.0) for size in ((25.0, 50.0), (36.0, 95.0))
    )
    assert slow.heating_min[0] < quick.heating_min[0]
    assert slow.cooling_min[0] > quick.cooling_min[0]
