"""Dough against the baker's rule and numbers; acids against other ways to solve them; both always as bands."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from stillroom.errors import OutsideTable
from stillroom.physics import acids
from stillroom.physics.acids import ACETIC, CITRIC, LACTIC, Acid, Liquid, PhEstimate, Solute
from stillroom.physics.band import Band
from stillroom.physics.dough import Lump, Stay, dough_temp_c, ready_h
from stillroom.physics.medium import Medium, fridge, still_air
from stillroom.physics.properties import Fractions, thermal
from stillroom.physics.yeast import BAKERS_YEAST, Cardinals, cardinal_rate, doubling_rate, rates
from stillroom.quantities.dough_temperature import time_at
from stillroom.tables.constants import constant

DOUGH = thermal(Fractions(0.42, 0.08, 0.02, 0.45, 0.02, 0.01), 24.0)
LUMP = Lump(1.0, DOUGH)
DOUBLING_K = constant("dough_doubling_f").value / 1.8
KNOWN = {"known_h": 3.0, "known_c": 24.0, "doubling_k": DOUBLING_K}

# yeast


def test_the_rule_is_that_of_the_sums() -> None:
    for temp_c in (10.0, 18.0, 24.0, 35.0):
        assert 180 / float(doubling_rate(temp_c, 24.0, DOUBLING_K)) == pytest.approx(time_at(180, 24.0, temp_c))


def test_printed_example_of_the_rule() -> None:
    """R226: 2 h at 80 °F = 4 h at 63 °F = 1 h at 97 °F; 97 °F is beyond the printed range and refused."""
    assert 2 / float(doubling_rate((63 - 32) / 1.8, (80 - 32) / 1.8, DOUBLING_K)) == pytest.approx(4)
    with pytest.raises(OutsideTable):
        doubling_rate((97 - 32) / 1.8, (80 - 32) / 1.8, DOUBLING_K)


def test_cardinal_model_is_one_at_its_best_and_nothing_at_its_ends() -> None:
    temps = np.linspace(BAKERS_YEAST.min_c, 45.0, 4000)
    rate = cardinal_rate(temps)
    assert temps[np.argmax(rate)] == pytest.approx(BAKERS_YEAST.best_c, abs=0.02)
    assert rate.max() == pytest.approx(1)
    assert rate[0] == pytest.approx(0, abs=1e-12)
    assert float(cardinal_rate(0.0)) == 0
    with pytest.raises(OutsideTable):
        cardinal_rate(50.0)
    with pytest.raises(ValueError, match="best"):
        Cardinals(0.0, 20.0, 45.0)


@given(st.floats(1, 32), st.floats(0.01, 1), st.floats(10, 30))
def test_rates_are_a_band_that_rises_to_the_best_temperature(temp_c: float, more: float, known_c: float) -> None:
    now, warmer = (rates(np.array([temp]), known_c, DOUBLING_K) for temp in (temp_c, min(temp_c + more, 32.3)))
    assert now[0] <= now[1] <= now[2]
    for slow, quick in zip(now, warmer, strict=True):
        assert slow[0] <= quick[0] + 1e-12


def test_rates_do_not_jump_where_the_rule_ends() -> None:
    for edge in (10.0, 35.0):
        below, above = (rates(np.array([edge + step]), 24.0, DOUBLING_K) for step in (-1e-7, 1e-7))
        for one, other in zip(below, above, strict=True):
            assert one[0] == pytest.approx(other[0], rel=1e-5)


# dough


def test_a_dough_that_stays_where_its_time_is_known_takes_that_time() -> None:
    band = ready_h(LUMP, 24.0, [Stay(still_air(24.0))], **KNOWN)
    assert band.middle == pytest.approx(3.0, abs=1e-6)
    assert band.low < 3.0 < band.high


@pytest.mark.parametrize("room_c", [14.0, 18.0, 21.0, 28.0])
def test_the_rule_lies_in_the_band_of_a_dough_of_room_temperature(room_c: float) -> None:
    band = ready_h(LUMP, room_c, [Stay(still_air(room_c))], **KNOWN)
    assert band.low <= time_at(180, 24.0, room_c) / 60 <= band.high


@settings(max_examples=30)
@given(st.floats(8, 28), st.floats(0.5, 3), st.floats(10, 28), st.floats(0.5, 3))
def test_a_warmer_dough_or_kitchen_is_ready_sooner(room_c: float, warmer: float, start_c: float, more: float) -> None:
    now = ready_h(LUMP, start_c, [Stay(still_air(room_c))], **KNOWN)
    for sooner in (
        ready_h(LUMP, start_c + more, [Stay(still_air(room_c))], **KNOWN),
        ready_h(LUMP, start_c, [Stay(still_air(room_c + warmer))], **KNOWN),
    ):
        assert sooner.low <= now.low
        assert sooner.middle <= now.middle
        assert sooner.high <= now.high


def test_a_night_in_the_fridge_delays_and_a_bigger_lump_cools_slower() -> None:
    room = ready_h(LUMP, 24.0, [Stay(still_air(21.0))], **KNOWN)
    night = ready_h(LUMP, 24.0, [Stay(still_air(21.0), 0.5), Stay(fridge(4.0), 10.0), Stay(still_air(21.0))], **KNOWN)
    assert night.low > room.low
    assert night.high > room.high
    times_h = np.array([0.0, 1.0, 4.0])
    small, large = (
        dough_temp_c(Lump(mass, DOUGH), 24.0, [Stay(fridge(4.0))], "middle", times_h) for mass in (0.5, 4.0)
    )
    assert small[0] == large[0] == 24
    assert (small[1:] < large[1:]).all()


def test_temperature_goes_on_where_the_last_stay_ended() -> None:
    stays = [Stay(still_air(21.0), 1.0), Stay(fridge(4.0), 10.0), Stay(still_air(21.0))]
    around = np.array([1.0, 11.0])
    before, after = (dough_temp_c(LUMP, 26.0, stays, "middle", around + step) for step in (-1e-6, 1e-6))
    assert before == pytest.approx(after, abs=1e-3)
    assert 4 < after[1] < 8 < after[0] < 26


def test_fridge_cold_enough_stops_the_slow_yeast() -> None:
    assert ready_h(LUMP, 4.0, [Stay(fridge(2.0))], **KNOWN).high == math.inf


def test_dough_by_numbers() -> None:
    """Drift and rise as one system of equations, integrated by solve_ivp: the rule's rate, one film."""
    film, room_c = 9.0, 14.0
    place = Medium(room_c, film, film, film)
    rate_per_h = LUMP.rate_per_h(film)

    def slope(_: float, state: np.ndarray) -> list[float]:
        temp_c, _done = state
        _, middle, _ = rates(np.array([temp_c]), 24.0, DOUBLING_K)
        return [rate_per_h * (room_c - temp_c), float(middle[0])]

    def ready(_: float, state: np.ndarray) -> float:
        return float(state[1]) - 3.0

    ready.terminal = True  # type: ignore[attr-defined]
    done = solve_ivp(slope, (0, 96), [26.0, 0.0], events=ready, rtol=1e-9, atol=1e-9, max_step=0.1)
    assert ready_h(LUMP, 26.0, [Stay(place)], **KNOWN).middle == pytest.approx(float(done.t_events[0][0]), rel=1e-3)


def test_mean_temperature_of_a_ball_by_numbers() -> None:
    """Conduction in a sphere with film and cover by finite volumes; the one-mode drift is within 1.5 °C."""
    cells, film = 80, 8.0
    radius = LUMP.radius_m
    edges = np.linspace(0, radius, cells + 1)
    volume, area, width = np.diff(edges**3) / 3, edges**2, radius / cells
    heat = DOUGH.density_kg_m3 * DOUGH.specific_heat_j_kg_k
    into = 1 / (1 / film + LUMP.cover_m2_k_w + width / 2 / DOUGH.conductivity_w_m_k)

    def slope(_: float, temp: np.ndarray) -> np.ndarray:
        flow = np.zeros(cells + 1)
        flow[1:-1] = DOUGH.conductivity_w_m_k * (temp[:-1] - temp[1:]) / width
        flow[-1] = into * (temp[-1] - 4.0)
        return -np.diff(area * flow) / (heat * volume)

    times_h = np.array([1.0, 2.0, 4.0, 8.0])
    done = solve_ivp(
        slope, (0, 8 * 3600), np.full(cells, 24.0), t_eval=times_h * 3600, method="LSODA", rtol=1e-7, lband=1, uband=1
    )
    mean_c = volume @ done.y / volume.sum()
    ours = dough_temp_c(LUMP, 24.0, [Stay(Medium(4.0, film, film, film))], "middle", times_h)
    assert np.abs(ours - mean_c).max() < 1.5


def test_dough_outside_its_range_is_refused() -> None:
    for bad in (
        lambda: ready_h(LUMP, 24.0, [Stay(still_air(45.0))], **KNOWN),
        lambda: ready_h(LUMP, 24.0, [Stay(still_air(20.0))], known_h=0.1, known_c=24.0, doubling_k=DOUBLING_K),
        lambda: ready_h(LUMP, 24.0, [Stay(still_air(20.0))], known_h=3, known_c=5.0, doubling_k=DOUBLING_K),
    ):
        with pytest.raises(OutsideTable):
            bad()
    for wrong in (lambda: Lump(0, DOUGH), lambda: Stay(still_air(20), 0), lambda: ready_h(LUMP, 24.0, [], **KNOWN)):
        with pytest.raises(ValueError, match=r"."):
            wrong()


# acids


concentrations = st.floats(1e-6, 3.0)


def ph_of(solutes: Sequence[Solute]) -> float:
    """The middle of the estimate; a number only in tests."""
    return acids.ph_estimate(Liquid(1000.0, tuple(solutes))).band.middle


@given(st.sampled_from([ACETIC, CITRIC, LACTIC]), concentrations, concentrations)
def test_more_acid_never_raises_ph(acid: Acid, mol_l: float, more: float) -> None:
    stronger = min(mol_l + more, 5.0)
    assert ph_of([Solute(acid, stronger)]) <= ph_of([Solute(acid, mol_l)]) + 1e-9


@given(concentrations, concentrations)
def test_a_second_acid_never_raises_ph(vinegar: float, citric: float) -> None:
    alone = ph_of([Solute(ACETIC, vinegar)])
    assert ph_of([Solute(ACETIC, vinegar), Solute(CITRIC, citric)]) <= alone + 1e-9


@given(st.floats(1e-4, 3.0))
def test_one_step_acid_against_its_cubic(mol_l: float) -> None:
    """[H]³ + Ka [H]² − (Ka c + Kw)[H] − Ka Kw = 0."""
    ka = 10 ** -ACETIC.pka[0]
    roots = np.roots([1.0, ka, -(ka * mol_l + 1e-14), -ka * 1e-14])
    hydrogen = max(root.real for root in roots if abs(root.imag) < 1e-12)
    assert ph_of([Solute(ACETIC, mol_l)]) == pytest.approx(-math.log10(hydrogen), abs=1e-6)


@given(st.floats(1e-4, 1.0))
def test_citric_acid_against_its_polynomial(mol_l: float) -> None:
    """Three steps and water: the charge balance as a polynomial of fifth degree in [H]."""
    k1, k2, k3 = (10**-pka for pka in CITRIC.pka)
    b1, b2, b3, kw = k1, k1 * k2, k1 * k2 * k3, 1e-14
    molecule = np.array([1.0, b1, b2, b3])
    charges = np.array([b1, 2 * b2, 3 * b3]) * mol_l
    balance = np.polysub(np.polymul(np.array([1.0, 0.0, -kw]), molecule), np.polymul(charges, np.array([1.0, 0.0])))
    hydrogen = max(root.real for root in np.roots(balance) if abs(root.imag) < 1e-9)
    assert ph_of([Solute(CITRIC, mol_l)]) == pytest.approx(-math.log10(hydrogen), abs=1e-5)


def test_water_is_neutral_and_dilution_raises_ph_by_little() -> None:
    assert ph_of([]) == pytest.approx(7.0, abs=1e-6)
    pure = acids.vinegar(100, 50)
    rise = ph_of(acids.mixed([pure, Liquid(100)]).solutes) - ph_of(pure.solutes)
    assert rise == pytest.approx(0.15, abs=0.01)  # printed beside the check rows of diluted vinegar


def test_an_estimate_always_says_measure_and_can_not_be_compared() -> None:
    estimate = acids.ph_estimate(acids.vinegar(100, 50))
    assert "measure" in str(estimate)
    assert "measure" in estimate.advice
    assert (estimate.band.low, estimate.band.high) == pytest.approx((2.32, 2.52), abs=0.01)  # 0.1 about the row AC-v1
    for wrong in (lambda: estimate < 4.6, lambda: float(estimate)):  # type: ignore[operator, arg-type]
        with pytest.raises(TypeError):
            wrong()
    with pytest.raises(ValueError, match="measure"):
        PhEstimate(Band(2, 3, 4, "pH"), "fine")


@given(st.lists(st.tuples(st.floats(1, 1000), st.floats(0, 100)), min_size=1, max_size=5))
def test_a_mixture_keeps_its_acid(parts: list[tuple[float, float]]) -> None:
    mixture = acids.mixed([acids.vinegar(volume, strength) for volume, strength in parts])
    acid_g = sum(volume * strength for volume, strength in parts) / 1000
    assert mixture.solutes[0].mol_l * ACETIC.molar_g * mixture.volume_ml / 1000 == pytest.approx(acid_g)


def test_acids_outside_their_range_are_refused() -> None:
    with pytest.raises(OutsideTable):
        Solute(ACETIC, 6.0)
    for wrong in (lambda: Liquid(0), lambda: acids.mixed([])):
        with pytest.raises(ValueError, match=r"."):
            wrong()
