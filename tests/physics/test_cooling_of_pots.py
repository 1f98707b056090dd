"""Pots, pans and waiting jars: directions that nature doesn't reverse, and a slab by numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from stillroom.errors import OutsideTable
from stillroom.physics.medium import Medium, fridge, ice_bath, moved_air, still_air, water_bath
from stillroom.physics.pots import Pan, Pot, newton_rate_per_s, newton_time_s, still_time_s, stirred_time_s, time_h
from stillroom.physics.properties import Fractions, thermal
from stillroom.physics.two_stages import TwoStages, Verdict, cooling, ice_kg, shallow_pans, temp_with_ice_c
from stillroom.physics.waiting import FilledJar, filled_c, minutes_until, temp_after_c

STEW = thermal(Fractions(0.78, 0.07, 0.05, 0.08, 0.01, 0.01), 50.0)
RULE = TwoStages(57.2, 21.1, 2.0, 5.0, 6.0)
JAR = FilledJar(0.095, 0.175, 0.90, 0.45, thermal(Fractions(0.90, 0.02, 0.01, 0.07), 80.0))
depths_m = st.floats(0.01, 0.3)
widths_m = st.floats(0.05, 0.5)
films = st.floats(3.0, 400.0)


@given(depths_m, widths_m, st.floats(1.05, 3.0), films)
def test_a_bigger_pot_cools_slower(depth_m: float, width_m: float, more: float, film: float) -> None:
    small, large = Pot(width_m, depth_m), Pot(min(width_m * more, 2.0), min(depth_m * more, 1.0))
    for find in (stirred_time_s, still_time_s):
        times = [find(pot, STEW, fridge(3.0), film, from_c=80, to_c=21) for pot in (small, large)]
        assert times[0] < times[1]


@given(depths_m, widths_m, films, st.floats(-18, 15), st.floats(0.1, 4.0))
def test_a_colder_place_cools_faster(depth_m: float, width_m: float, film: float, place_c: float, less: float) -> None:
    pan = Pan(width_m, width_m, depth_m)
    for find in (stirred_time_s, still_time_s):
        cold, warm = (
            find(pan, STEW, Medium(temp_c, film, film, film), film, from_c=90, to_c=21)
            for temp_c in (place_c - less, place_c)
        )
        assert cold < warm


@given(depths_m, widths_m, films, st.booleans())
def test_still_is_never_faster_than_stirred(depth_m: float, width_m: float, film: float, bottom: bool) -> None:
    pot = Pot(width_m, depth_m)
    around = Medium(4.0, film, film, film, touches_bottom=bottom)
    stirred = stirred_time_s(pot, STEW, around, film, from_c=57, to_c=21)
    assert stirred <= still_time_s(pot, STEW, around, film, from_c=57, to_c=21) * (1 + 1e-9)


def test_thin_layer_with_a_weak_film_cools_as_one_temperature() -> None:
    pan = Pan(2.0, 2.0, 0.005)
    around = still_air(0.0, on_rack=True)
    still, stirred = (find(pan, STEW, around, 2.0, from_c=57, to_c=21) for find in (still_time_s, stirred_time_s))
    assert still == pytest.approx(stirred, rel=0.01)


@pytest.mark.parametrize(("depth_m", "film", "bottom"), [(0.05, 8.0, True), (0.10, 20.0, False), (0.04, 200.0, True)])
def test_slab_by_numbers(depth_m: float, film: float, bottom: bool) -> None:
    """Method of lines with a film on top and, if touched, below; sides far away. Within half a per cent."""
    cells = 200
    width = depth_m / cells
    k, heat = STEW.conductivity_w_m_k, STEW.density_kg_m3 * STEW.specific_heat_j_kg_k
    into = 1 / (1 / film + width / 2 / k)

    def slope(_: float, temp: np.ndarray) -> np.ndarray:
        flow = np.zeros(cells + 1)
        flow[1:-1] = k * (temp[:-1] - temp[1:]) / width
        flow[-1] = into * (temp[-1] - 4.0)
        flow[0] = -into * (temp[0] - 4.0) if bottom else 0.0
        return -np.diff(flow) / (heat * width)

    def arrived(_: float, temp: np.ndarray) -> float:
        return float(temp.max()) - 21.0

    arrived.terminal = True  # type: ignore[attr-defined]
    start = np.full(cells, 80.0)
    done = solve_ivp(slope, (0, 1e6), start, method="LSODA", events=arrived, rtol=1e-8, atol=1e-8, lband=1, uband=1)
    around = Medium(4.0, film, film, film, touches_bottom=bottom)
    ours = still_time_s(Pan(2.0, 2.0, depth_m), STEW, around, film, from_c=80.0, to_c=21.0)
    assert ours == pytest.approx(float(done.t_events[0][0]), rel=5e-3)


@given(depths_m, widths_m)
def test_a_lid_and_a_shelf_never_help(depth_m: float, width_m: float) -> None:
    for vessel in (Pot(width_m, depth_m), Pan(width_m, width_m, depth_m)):
        open_rack, covered_rack, covered_shelf = (
            time_h(vessel, STEW, place, from_c=57, to_c=21, stirred=False)
            for place in (
                still_air(4.0, on_rack=True),
                still_air(4.0, on_rack=True, covered=True),
                still_air(4.0, covered=True),
            )
        )
        assert open_rack.low < covered_rack.low < covered_shelf.low
        assert open_rack.high <= covered_rack.high <= covered_shelf.high


def test_a_place_that_is_not_cold_enough_never_does_it() -> None:
    band = time_h(Pot(0.2, 0.1), STEW, still_air(22.0), from_c=80, to_c=21, stirred=False)
    assert band.low == math.inf
    found = cooling(Pot(0.2, 0.1), STEW, still_air(22.0), RULE, filled_c=80, stirred=True)
    assert found.verdict is Verdict.FAILS


def test_a_big_still_pot_fails_and_the_same_pot_in_ice_water_stirred_makes_it() -> None:
    pot = Pot(0.28, 0.20)
    assert cooling(pot, STEW, fridge(4.0), RULE, filled_c=90, stirred=False).verdict is Verdict.FAILS
    assert cooling(pot, STEW, ice_bath(), RULE, filled_c=90, stirred=True).verdict is Verdict.MAKES_IT


@given(st.floats(0.15, 0.35), depths_m, st.floats(21.2, 100), st.booleans())
def test_a_yes_keeps_the_rule_with_the_whole_band(width_m: float, depth_m: float, filled: float, stirred: bool) -> None:
    found = cooling(Pot(width_m, depth_m), STEW, ice_bath(), RULE, filled_c=filled, stirred=stirred, then=fridge(2.0))
    keeps = found.first.high <= 2.0 and found.total.high <= 6.0
    assert (found.verdict is Verdict.MAKES_IT) == keeps
    assert found.total.low >= found.first.low


def test_a_change_of_place_after_the_first_stage_is_on_the_safe_side() -> None:
    """Moving from a fridge to the same fridge starts from an evened-out pot: never faster than one curve."""
    pot = Pan(0.4, 0.3, 0.05)
    one = cooling(pot, STEW, fridge(2.0), RULE, filled_c=80, stirred=False)
    two = cooling(pot, STEW, fridge(2.0), RULE, filled_c=80, stirred=False, then=fridge(2.0))
    assert two.total.high >= one.total.high
    assert two.total.low == pytest.approx(one.total.low)


@settings(max_examples=25)
@given(st.floats(0.5e-3, 20e-3))
def test_pans_hold_the_volume_and_keep_the_rule(volume_m3: float) -> None:
    found = shallow_pans(volume_m3, Pan(0.5, 0.3, 0.05), STEW, ice_bath(), RULE, filled_c=90, then=fridge(2.0))
    assert found is not None
    assert found.pans * 0.5 * 0.3 * found.depth_m >= volume_m3 * (1 - 1e-9)
    assert found.cooling.verdict is Verdict.MAKES_IT
    deeper = Pan(0.5, 0.3, found.depth_m + 0.005)
    checked = cooling(deeper, STEW, ice_bath(), RULE, filled_c=90, stirred=False, then=fridge(2.0))
    assert checked.verdict is not Verdict.MAKES_IT


def test_no_pan_makes_it_in_a_warm_fridge() -> None:
    assert shallow_pans(5e-3, Pan(0.4, 0.3, 0.05), STEW, fridge(6.0), RULE, filled_c=90) is None


@given(st.floats(0.1, 30), st.floats(0.0, 10), st.floats(0.0, 10))
def test_more_ice_cools_further(food_kg: float, ice: float, more: float) -> None:
    temps = [temp_with_ice_c(food_kg, 3900, 90, kg) for kg in (ice, ice + more)]
    assert temps[1] <= temps[0] <= 90 + 1e-9
    assert more < 0.01 or temps[0] == 0 or temps[1] < temps[0]


@given(st.floats(0.5, 30), st.floats(1, 60), st.floats(0.1, 20), st.floats(0, 30))
def test_ice_for_a_bath_grows_with_the_task(food_kg: float, to_c: float, less: float, water_kg: float) -> None:
    def ice(target_c: float, water: float) -> float:
        return ice_kg(food_kg, 3900, from_c=90, to_c=target_c, water_kg=water, water_c=15).low

    assert ice(to_c, water_kg) <= ice(max(to_c - less, 0.5), water_kg)
    assert ice(to_c, water_kg) <= ice(to_c, water_kg + 1)


def test_ice_in_soup_by_hand() -> None:
    """10 kg of water of 80 °C and 2 kg of ice of 0 °C: (10·4186·80 − 2·333600)/(12·4186) = 53.4 °C."""
    assert temp_with_ice_c(10, 4186, 80, 2, ice_c=0) == pytest.approx((10 * 80 - 2 * 333_600 / 4186) / 12)


@given(st.floats(30, 99), st.floats(1, 20), st.floats(60, 7200))
def test_a_rate_learned_from_two_readings_gives_the_readings_back(warm_c: float, drop_k: float, time_s: float) -> None:
    assume(warm_c - drop_k > 21)
    rate = newton_rate_per_s(warm_c, warm_c - drop_k, 20.0, time_s)
    assert newton_time_s(warm_c, warm_c - drop_k, 20.0, rate) == pytest.approx(time_s)


def test_bad_numbers_are_refused() -> None:
    for bad in (
        lambda: Pot(3.0, 0.1),
        lambda: Pan(0.3, 0.2, 0.0),
        lambda: newton_rate_per_s(50, 60, 20, 10),
        lambda: newton_rate_per_s(50, 20, 20, 10),
        lambda: newton_time_s(50, 40, 20, 0.0),
        lambda: TwoStages(57, 60, 2, 5, 6),
        lambda: cooling(Pot(0.2, 0.1), STEW, ice_bath(), RULE, filled_c=15, stirred=True),
        lambda: ice_kg(1, 3900, from_c=90, to_c=-1, water_kg=1, water_c=10),
        lambda: temp_with_ice_c(1, 3900, 90, -1),
        lambda: Medium(4, 10, 5, 20),
    ):
        with pytest.raises(ValueError, match=r"."):
            bad()
    with pytest.raises(OutsideTable):
        still_air(200.0)


# waiting jars


@given(st.floats(25, 95), st.floats(0, 600), st.floats(0.1, 600))
def test_a_jar_that_waits_longer_is_colder(start_c: float, wait_min: float, more: float) -> None:
    longer = min(wait_min + more, 1440)
    first, second = (temp_after_c(JAR, start_c, still_air(20), minutes) for minutes in (wait_min, longer))
    assert second.low <= first.low <= start_c + 1e-9
    assert second.high <= first.high


@given(st.floats(50, 95), st.floats(1, 25))
def test_minutes_until_and_temperature_after_agree(start_c: float, drop_k: float) -> None:
    minutes = minutes_until(JAR, start_c, still_air(20), start_c - drop_k)
    assert temp_after_c(JAR, start_c, still_air(20), minutes.low).low == pytest.approx(start_c - drop_k)
    assert temp_after_c(JAR, start_c, still_air(20), minutes.high).high == pytest.approx(start_c - drop_k)


def test_a_cold_jar_takes_its_share_and_a_draught_cools_faster() -> None:
    assert filled_c(JAR, 95, 20) < filled_c(JAR, 95, 80) < 95
    assert minutes_until(JAR, 90, moved_air(20), 80).middle < minutes_until(JAR, 90, still_air(20), 80).middle
    assert minutes_until(JAR, 90, water_bath(20), 80).low < minutes_until(JAR, 90, still_air(20), 80).low
    assert minutes_until(JAR, 90, still_air(20), 15).low == math.inf
    with pytest.raises(OutsideTable):
        temp_after_c(JAR, 90, still_air(20), 2000)
