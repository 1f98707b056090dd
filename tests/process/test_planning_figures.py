"""Minutes of a load, jars for an amount, freezing and drying as ways out, the steps."""

from __future__ import annotations

from typing import Any

import pytest

from stillroom.model.process import CannerKind, JarSize, ProcessCard
from stillroom.process.cycle import Cycle, cycle
from stillroom.process.find import find
from stillroom.process.jars_needed import jars_needed
from stillroom.process.other_ways import freeze_mixture, other_ways
from stillroom.process.preparation import preparations
from stillroom.tables.processes import rows
from stillroom.tables.vocabulary import food

LB_G = 453.59237


def card(food_name: str, **parts: Any) -> ProcessCard:
    answer = find(food_name, **({"canner": CannerKind.DIAL, "altitude_m": 0.0, "jar": "quart"} | parts))
    assert isinstance(answer, ProcessCard)
    return answer


def test_a_quart_load_of_meat_takes_about_2_h_55_min() -> None:
    """R059: quarts with a 90 min process, about 2 h 55 min."""
    got = cycle(card("beef", form="ground", pack="hot"))
    assert got == Cycle(15, 10, 5, 90, 45, 10)
    assert (got.total_min, got.attended_min) == (175, 120)


def test_pints_cool_faster_and_boiling_water_does_not_vent() -> None:
    assert cycle(card("beets", jar="pint")).cool_min == 30
    jam = cycle(card("jam", form="with added pectin", jar="pint", canner=CannerKind.BOILING_WATER))
    assert (jam.vent_min, jam.come_up_min, jam.cool_min, jam.wait_min) == (0, 0, 0, 5)
    assert jam.total_min == jam.heat_up_min + 5 + 5


def test_jars_for_an_amount_by_the_printed_averages() -> None:
    """Snap beans: 14 lb for 7 quarts, 9 lb for 9 pints, 2 lb per quart."""
    quarts = jars_needed("snap beans", "any", 14 * LB_G, JarSize.QUART)
    pints = jars_needed("snap beans", "any", 9 * LB_G, JarSize.PINT)
    assert quarts is not None
    assert pints is not None
    assert (quarts.fewest, quarts.most) == (7, 7)
    assert (pints.fewest, pints.most) == (9, 9)
    half = jars_needed("snap beans", "any", 9 * LB_G, JarSize.HALF_PINT)
    assert half is not None
    assert half.most == 18


def test_jars_differ_by_form_and_are_not_guessed() -> None:
    """Tomatoes crushed 22 lb, whole 21 lb for 7 quarts."""
    crushed = jars_needed("tomatoes", "crushed, no added liquid", 22 * LB_G, JarSize.QUART)
    assert crushed is not None
    assert crushed.fewest == 7
    assert jars_needed("beef", "ground or chopped", 1000, JarSize.QUART) is None
    with pytest.raises(ValueError, match="no amount"):
        jars_needed("snap beans", "any", 0, JarSize.QUART)


def test_freezing_and_drying_come_from_their_tables() -> None:
    ways = [way.what for way in other_ways("green bean")]
    assert any("Blanch it first (whole or cut: 3 min in boiling water)" in way for way in ways)
    assert any(way.startswith("Dry it: ") for way in ways)
    assert all(way.source for way in other_ways("green bean"))


def test_a_minute_more_of_blanching_at_5000_ft() -> None:
    """R132."""
    assert "4 min" in other_ways("green bean", 5000)[0].what
    assert "3 min" in other_ways("green bean", 4999)[0].what


def test_what_the_freezer_spoils_is_said() -> None:
    assert "limp" in other_ways("cabbage")[0].what
    assert "limp" in freeze_mixture((food("cabbage"), food("carrot")))[0].what
    assert freeze_mixture(()) == ()


def test_what_is_not_to_be_frozen_is_not_offered_and_cured_meat_has_its_own_time() -> None:
    """Pickled eggs go to the refrigerator; cured meat has a general rule for the freezer."""
    assert other_ways("pickled egg") == ()
    assert other_ways("ham, cured")[0].what.startswith("Freeze it")


def test_nothing_is_offered_that_the_tables_do_not_know() -> None:
    assert other_ways("salt") == ()


def test_short_and_endless_keeping_times_are_said_in_days() -> None:
    said = {way.what for key in ("garlic", "french bread", "beef liver") for way in other_ways(key)}
    assert all("months" in text or "days" in text for text in said)
    assert any("30 days" in text for text in said)


def test_every_preparation_belongs_to_a_printed_row() -> None:
    printed = {(row.food, row.form, row.pack) for row in rows()}
    for line in preparations():
        assert any(
            line.food == name and line.form_part in form and line.pack in ("", pack) for name, form, pack in printed
        ), line
        assert line.source


def test_low_acid_rows_all_say_what_comes_before_packing() -> None:
    covered = {line.food for line in preparations()}
    assert {row.food for row in rows() if row.key.startswith("low_acid")} <= covered


def test_acid_food_without_its_own_line_points_to_the_tested_recipe() -> None:
    steps = card("apples", canner=CannerKind.BOILING_WATER).steps
    assert "proportions" in steps[0]
    raw = card("apricots", pack="raw", canner=CannerKind.BOILING_WATER).steps
    assert "raw" in raw[0]
    assert "140 °F" in " ".join(raw)
