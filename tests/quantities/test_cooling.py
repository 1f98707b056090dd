"""Pots, pans and ice against published measurements, the two-stage rule, and a heat balance by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.physics.pots import Pan
from stillroom.physics.two_stages import Verdict
from stillroom.quantities.cooling import Around, cooling_rule, ice_for, pace, pans_for, pot_of, ways_for, with_ice_c
from stillroom.quantities.cooling_answer import cool, cooling_cautions, pace_words
from stillroom.quantities.food_parts import food_parts
from stillroom.units import ML_PER_GALLON, MM_PER_IN

STEW, STOCK = food_parts("stew"), food_parts("chicken stock")


def test_the_rule_is_that_of_the_food_code() -> None:
    """57 to 21 °C in 2 h, to 5 °C in 6 h: FDA Food Code 3-501.14 (number from memory), rule R095; not warmer."""
    rule = cooling_rule()
    assert (rule.start_c, rule.first_c) == pytest.approx((57, 21), abs=0.3)
    assert (rule.first_h, rule.total_h) == (2, 6)
    assert rule.last_c <= 5


def test_no_layer_that_failed_when_measured_is_told_to_make_it() -> None:
    """Chili in pans of 2.5 and 4 in failed in a walk-in refrigerator (Olds & Sneed 2005); a household's is slower."""
    chili = food_parts("chile con carne")
    fridge = next(pans for pans in pans_for(chili, 8.0, Around()) if "fridge" in pans.how)
    assert fridge.depth_m is not None
    assert fridge.depth_m < 2.5 * MM_PER_IN / 1000


def test_the_stockpot_that_failed_when_measured_fails_in_the_fridge() -> None:
    """A 3-gallon stockpot of chili (Olds & Sneed 2005)."""
    chili = food_parts("chile con carne")
    mass_kg = chili.mass_kg(f"{3 * ML_PER_GALLON} ml")
    found = {way.how: way.cooling.verdict for way in ways_for(chili, pot_of(chili, mass_kg, 0.25), Around())}
    assert found["in the fridge"] is Verdict.FAILS
    assert found["on the counter, then in the fridge"] is Verdict.FAILS
    assert found["in ice water, stirred"] is Verdict.MAKES_IT


def test_what_makes_it_makes_it_with_the_whole_band() -> None:
    rule = cooling_rule()
    for way in ways_for(STEW, pot_of(STEW, 4.0, 0.24), Around()):
        keeps = way.cooling.first.high <= rule.first_h and way.cooling.total.high <= rule.total_h
        assert (way.cooling.verdict is Verdict.MAKES_IT) == keeps


def test_a_pot_is_as_deep_as_its_volume_says() -> None:
    pot = pot_of(STOCK, 8.0, 0.28)
    assert pot.depth_m == pytest.approx(8.0e-3 / (math.pi * 0.14**2), rel=0.03)
    for width_m, mass_kg in ((0.02, 1.0), (2.0, 1.0), (0.1, 30.0), (1.0, 0.5)):
        with pytest.raises(InputError, match="pot"):
            pot_of(STOCK, mass_kg, width_m)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.5, 40))
def test_pans_hold_the_food(mass_kg: float) -> None:
    for pans in pans_for(STEW, mass_kg, Around(), Pan(0.5, 0.3, 0.05)):
        assert pans.depth_m is not None
        assert pans.count * 500 * 300 * pans.depth_m / 1000 >= mass_kg * 1000 / 1050


def test_ice_melts_by_the_heat_of_fusion() -> None:
    """334 kJ melts a kilogram: 5 kg of stock from 95 to 4.4 °C and 5 kg of water of 15 °C, at 3.9 to 4.19 kJ/(kg K)."""
    ice = ice_for(STOCK, 5.0, Around(tap_c=15.0))
    by_hand = [5 * (heat * (95 - 4.4) + 4.19 * 15) / 334 for heat in (3.9, 4.19)]
    assert by_hand[0] <= ice.at_once.low <= by_hand[1]
    assert ice.after_water.high < ice.at_once.low


def test_ice_in_the_food() -> None:
    """10 kg of near-water at 95 °C and 2 kg of ice of −18 °C: (10·95 − 2·(334 + 37)/4.1)/12 = 64 °C."""
    assert with_ice_c(STOCK, 10.0, 95.0, 2.0) == pytest.approx((10 * 95 - 2 * (334 + 37) / 4.1) / 12, abs=1.0)


def test_two_readings_go_on_by_newtons_law() -> None:
    """The big pot of soup (school worksheet): 100 to 60 °C in 10 min at 10 °C, k 0.058779 a minute."""
    found = pace(100.0, 60.0, 10.0, 10.0)
    rule = cooling_rule()
    by_hand_h = math.log((rule.start_c - 10) / (rule.first_c - 10)) / 0.058779 / 60
    assert found.first.middle == pytest.approx(by_hand_h, rel=1e-3)
    assert found.first.low < by_hand_h < found.first.high
    assert math.isinf(found.total.low)  # never colder than what is around it
    assert found.verdict is Verdict.FAILS
    assert "never" in pace_words(found)
    cold = pace(80.0, 50.0, 10.0, 0.0)
    assert cold.verdict is Verdict.MAKES_IT
    assert cold.left.middle < cold.first.middle


def test_a_pot_that_began_before_the_readings_is_never_told_to_make_it() -> None:
    """From 40 °C on in ice water nobody knows for how long it stood lukewarm before (clock of R095: from 57 °C)."""
    late = pace(40.0, 30.0, 10.0, 0.0)
    assert late.first.high < cooling_rule().first_h
    assert late.verdict is Verdict.UNCERTAIN
    assert "throw it out if nobody knows" in pace_words(late)
    assert "before the first reading" not in pace_words(pace(80.0, 50.0, 10.0, 0.0))


def test_more_than_a_kitchen_cools_is_refused() -> None:
    with pytest.raises(InputError, match="no pot of a kitchen"):
        cool(STEW, 9999.0, Around())


def test_a_missed_stage_is_not_rescued_later() -> None:
    said = cooling_cautions()[0]
    assert "when the 2 h are over: reheat it then and there" in said
    assert "Found out later, or the second stage missed: throw it out" in said


@pytest.mark.parametrize(
    "readings", [(50, 60, 10, 4), (60, 58, 10, 4), (60, 5, 10, 4), (60, 50, 0, 4), (200, 50, 10, 4), (60, 50, 10, -90)]
)
def test_readings_that_tell_no_pace(readings: tuple[float, float, float, float]) -> None:
    with pytest.raises(InputError, match="no pace"):
        pace(*readings)


def test_a_kitchen_has_limits() -> None:
    for wrong in ({"room_c": 60}, {"tap_c": 0}, {"fridge_c": 15}):
        with pytest.raises(InputError):
            Around(**wrong)


def test_sentences_name_the_rule_the_pans_and_the_ice() -> None:
    answer = cool(STEW, 8.0, Around(), pot_m=0.28)
    said = " ".join(answer.sentences)
    assert "21 °C (70 °F) within 2 h" in said
    assert "in ice water, stirred" in said
    assert f"no deeper than {100 * answer.pans[0].depth_m:.1f} cm" in said
    assert "Ice for a bath" in said
    assert cool(STEW, 8.0, Around()).ways == ()
