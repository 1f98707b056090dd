"""Properties of food: arrays, ranges and directions; and the band itself."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band
from stillroom.physics.properties import (
    Fractions,
    Thermal,
    conductivity_w_m_k,
    density_kg_m3,
    ice_fraction,
    per_100_g,
    specific_heat_j_kg_k,
    thermal,
)
from stillroom.tables.composition import Composition, compositions

BEEF = Fractions(0.717, 0.206, 0.067, 0.0, 0.0, 0.01)


def test_arrays_are_the_same_as_one_by_one() -> None:
    temps_c = np.array([-30.0, -5.0, 0.0, 20.0, 90.0, 121.0])
    for find in (density_kg_m3, conductivity_w_m_k, specific_heat_j_kg_k):
        assert find(BEEF, temps_c) == pytest.approx([find(BEEF, float(temp_c)) for temp_c in temps_c])
    assert ice_fraction(BEEF, temps_c, -1.2) == pytest.approx([ice_fraction(BEEF, t, -1.2) for t in temps_c])


def test_pure_water_is_near_the_steam_tables() -> None:
    """At 20 °C: 998.2 kg/m³, 4184 J/(kg K), 0.598 W/(m K) (steam tables, from memory)."""
    water = thermal(Fractions(1.0), 20.0)
    assert water.density_kg_m3 == pytest.approx(998.2, rel=0.005)
    assert water.specific_heat_j_kg_k == pytest.approx(4184, rel=0.003)
    assert water.conductivity_w_m_k == pytest.approx(0.598, rel=0.02)


@given(st.floats(0.3, 0.95), st.floats(0.01, 0.04), st.floats(1, 120))
def test_wetter_food_holds_and_conducts_more_heat(water: float, more: float, temp_c: float) -> None:
    dry, wet = (thermal(Fractions(w, protein=1 - w), temp_c) for w in (water, water + more))
    assert wet.specific_heat_j_kg_k > dry.specific_heat_j_kg_k
    assert wet.conductivity_w_m_k > dry.conductivity_w_m_k


def test_ice_conducts_more_weighs_less_and_holds_less_heat() -> None:
    thawed, frozen = thermal(BEEF, -18.0), thermal(BEEF, -18.0, ice_fraction(BEEF, -18.0, -1.2))
    assert frozen.conductivity_w_m_k > 2 * thawed.conductivity_w_m_k
    assert frozen.density_kg_m3 < thawed.density_kg_m3
    assert frozen.specific_heat_j_kg_k < thawed.specific_heat_j_kg_k


@pytest.mark.parametrize("food", compositions(), ids=lambda food: food.food)
def test_every_food_of_the_table_has_plausible_properties(food: Composition) -> None:
    """Or a refusal, where alcohol, acid or spice is missing from the printed parts."""
    row = food
    grams = (row.water_g, row.protein_g, row.fat_g, row.carb_g)
    if not 97 <= sum(grams) + row.ash_g <= 103:
        with pytest.raises(OutsideTable, match="leaves out"):
            per_100_g(*grams, row.fibre_g, row.ash_g)
        return
    found = thermal(per_100_g(*grams, row.fibre_g, row.ash_g), 20.0)
    assert 850 < found.density_kg_m3 < 2450
    assert 1000 < found.specific_heat_j_kg_k < 4190
    assert 0.15 < found.conductivity_w_m_k < 0.62
    if row.water_g > 60:
        assert 1.2e-7 < found.diffusivity_m2_s < 1.5e-7


def test_bad_numbers_are_refused() -> None:
    for bad in (lambda: thermal(BEEF, 160.0), lambda: thermal(BEEF, math.nan), lambda: ice_fraction(BEEF, -5, 0.0)):
        with pytest.raises(OutsideTable):
            bad()
    for wrong in (
        lambda: Fractions(0.5),
        lambda: Fractions(1.2, -0.2),
        lambda: thermal(BEEF, -5.0, 0.9),
        lambda: Thermal(1000, 0, 0.5),
    ):
        with pytest.raises(ValueError, match=r"."):
            wrong()


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=7))
def test_a_band_spans_its_values(values: list[float]) -> None:
    band = Band.spanning("h", *values)
    assert (band.low, band.high) == (min(values), max(values))
    assert band.middle == pytest.approx(float(np.median(values)))
    assert band.in_units(60, "min").high == pytest.approx(60 * band.high)


def test_a_band_reads_as_a_band() -> None:
    assert str(Band(1.234, 2.0, 104.4, "h")) == "1.23 to 104 h, about 2"
    assert str(Band(1, 2, math.inf, "h")) == "at least 1 h, about 2, perhaps never"
    assert str(Band(1, math.inf, math.inf, "h")) == "at least 1 h, perhaps never"
    assert str(Band(math.inf, math.inf, math.inf, "h")) == "never"
    for low, middle, high in ((2, 1, 3), (1, math.nan, 3), (1, 4, 3)):
        with pytest.raises(ValueError, match="band"):
            Band(low, middle, high, "h")
    with pytest.raises(ValueError, match="factor"):
        Band(1, 2, 3, "h").in_units(0, "min")
