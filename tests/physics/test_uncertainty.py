"""The band: repeatable, bounded, independent of the chunk, and naming the factor that matters."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import spearmanr

from stillroom.heat.pack import jar_geometry
from stillroom.physics import uncertainty
from stillroom.physics.canner import BoilingSetting, CannerTiming, PressureSetting
from stillroom.physics.conduction import overall_w_m2k
from stillroom.physics.lethality import P93
from stillroom.physics.uncertainty import (
    ConductionFood,
    ConvectionFood,
    Spread,
    Surroundings,
    band_of,
    sample_lethality,
)

QUART = jar_geometry(946.35)
GLASS_W_M2K = float(overall_w_m2k(3000.0, QUART.wall_mm))
FOOD = ConductionFood(
    diffusivity_m2_s=Spread(1.1e-7, 1.4e-7, 1.8e-7),
    radius_mm=Spread(QUART.min_radius_mm, QUART.radius_mm, QUART.max_radius_mm),
    headspace_mm=Spread(20, 25, 32),
    inside_height_mm=QUART.height_mm,
    conductivity_w_mk=0.55,
    side_w_m2k=GLASS_W_M2K,
    base_w_m2k=GLASS_W_M2K,
    top_w_m2k=GLASS_W_M2K,
)
SURROUNDINGS = Surroundings(Spread(50, 65, 80), Spread(-1, 0, 1), Spread(110, 250, 330))
SETTING = PressureSetting(11.0, 90.0, 300.0)


def known(value):
    return Spread(value, value, value)


def test_same_seed_same_jars_whatever_the_chunk(monkeypatch):
    first = sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=300, seed=5)
    monkeypatch.setattr(uncertainty, "CHUNK", 64)
    second = sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=300, seed=5)
    np.testing.assert_allclose(first.lethality.total_min, second.lethality.total_min, rtol=1e-3)
    other = sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=300, seed=6)
    assert not np.allclose(first.lethality.total_min, other.lethality.total_min, rtol=1e-3)


@pytest.mark.parametrize("come_up_min", [1.0, 5.0])
def test_sampled_lethality_is_converged_to_a_tenth_of_a_percent(monkeypatch, come_up_min):
    setting = replace(SETTING, timing=CannerTiming(come_up_min=come_up_min))
    coarse = sample_lethality(FOOD, SURROUNDINGS, setting, samples=100).lethality
    original = uncertainty.respond
    monkeypatch.setattr(uncertainty, "FASTEST_PER_MIN", 60.0)
    monkeypatch.setattr(uncertainty, "respond", lambda *inputs: original(*inputs, step_min=0.2))
    fine = sample_lethality(FOOD, SURROUNDINGS, setting, samples=100).lethality
    np.testing.assert_allclose(coarse.heating_min, fine.heating_min, rtol=1e-3)
    np.testing.assert_allclose(coarse.cooling_min, fine.cooling_min, rtol=1e-3)


def test_the_band_holds_nine_jars_in_ten_and_its_parts_add_up():
    sampled = sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=1000)
    band = band_of(sampled.lethality.total_min, "min")
    inside = (sampled.lethality.total_min >= band.low) & (sampled.lethality.total_min <= band.high)
    assert 0.89 < inside.mean() < 0.91
    assert band.low < band.middle < band.high
    assert band_of(sampled.lethality.heating_min, "min").middle < band.middle
    np.testing.assert_allclose(
        sampled.lethality.total_min, sampled.lethality.heating_min + sampled.lethality.cooling_min
    )


def test_no_band_without_doubt():
    food = replace(FOOD, diffusivity_m2_s=known(1.4e-7), radius_mm=known(43.0), headspace_mm=known(25.0))
    certain = Surroundings(known(65.0), known(0.0), known(250.0))
    sampled = sample_lethality(food, certain, SETTING, samples=20)
    assert np.ptp(sampled.lethality.total_min) == pytest.approx(0, abs=1e-9)
    assert sampled.influence() == {}


@pytest.mark.parametrize(
    ("name", "sign"),
    [("gauge error", -1), ("fill temperature", 1), ("diffusivity", 1), ("radius", -1), ("cooling time", 1)],
)
def test_the_only_thing_in_doubt_is_named(name, sign):
    """One factor spreads; its rank correlation is ±1 with the sign of nature. In heating, but for the cooling time."""
    spreads = {**FOOD.spreads, **SURROUNDINGS.spreads}
    only = {key: spread if key == name else known(spread.likely) for key, spread in spreads.items()}
    food = replace(FOOD, diffusivity_m2_s=only["diffusivity"], radius_mm=only["radius"], headspace_mm=only["headspace"])
    around = Surroundings(only["fill temperature"], only["gauge error"], only["cooling time"])
    part = "cooling" if name == "cooling time" else "heating"
    influence = sample_lethality(food, around, SETTING, samples=60).influence(part)
    assert list(influence) == [name]
    assert influence[name] == pytest.approx(sign, abs=0.01)


def test_influence_is_spearmans_and_strongest_first():
    sampled = sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=400)
    influence = sampled.influence()
    for name, value in influence.items():
        assert value == pytest.approx(spearmanr(sampled.drawn[name], sampled.lethality.total_min)[0])
    strengths = [abs(value) for value in influence.values()]
    assert strengths == sorted(strengths, reverse=True)


def test_food_known_by_its_heating_curve_in_boiling_water():
    food = ConvectionFood(fh_min=Spread(8, 12, 20), jh=Spread(1.0, 1.2, 1.5))
    sampled = sample_lethality(food, SURROUNDINGS, BoilingSetting(40, 500), samples=200, reference=P93)
    assert sampled.lethality.reference is P93
    assert "gauge error" not in {name for name, value in sampled.influence("heating").items() if abs(value) > 0.25}
    assert sampled.influence("heating")["fh"] < -0.5


def test_a_million_jars_never_stand_in_memory_at_once(monkeypatch):
    """The modes and curves of one chunk are the only large arrays: none grows with the samples."""
    largest = []
    original = uncertainty.respond

    def watched(modes, history, initial_c):
        largest.append(modes.rate_per_min.shape[1])
        return original(modes, history, initial_c)

    monkeypatch.setattr(uncertainty, "respond", watched)
    sample_lethality(FOOD, SURROUNDINGS, SETTING, samples=2500)
    assert max(largest) <= uncertainty.CHUNK
    assert sum(largest) == 2500


def test_spreads_that_make_no_sense_are_refused():
    with pytest.raises(ValueError, match="rise"):
        Spread(2, 1, 3)
