"""Jars and canners of a kitchen: what is refused, the gauge, the acid, what to have ready."""

from datetime import date

import pytest
from small_kitchen import PORK, START, kitchen, tomato_card

from stillroom.model.kitchen import Canner
from stillroom.model.plan import Wanted
from stillroom.model.process import CannerKind
from stillroom.planning.jar_acid import acid_per_jar, lemon_juice_g
from stillroom.planning.variants import variants


def test_a_large_jar_is_refused_and_the_gauge_error_is_on_the_card() -> None:
    allowed, refused = variants([PORK], kitchen(), [], START)
    assert [(v.key, v.jar_work.card.minutes, v.jar_work.card.pressure_psi) for v in allowed if v.jar_work] == [
        ("pork_jars/quart/big", 90, 12.5)
    ]
    assert [(r.jar, r.refusal.rule) for r in refused] == [("1200 ml", "jar too large")]


def test_a_pot_too_small_to_be_a_canner_is_refused_not_an_accident() -> None:
    small = Canner("cooker", CannerKind.DIAL, 180, 150, 0.0, date(2027, 2, 1))
    allowed, refused = variants([PORK], kitchen(canners=(small,)), [], START)
    assert allowed == ()
    assert {r.refusal.rule for r in refused} == {"canner too small", "jar too large"}


def test_an_odd_jar_of_tomatoes_takes_the_acid_of_the_size_it_counts_as() -> None:
    """Univ. of Missouri Extension GH1456: 1 tbsp bottled lemon juice a pint, 2 tbsp a quart."""
    assert acid_per_jar(tomato_card("quart"))[0] == "2 tbsp bottled lemon juice"
    assert acid_per_jar(tomato_card("300 ml"))[0] == "1 tbsp bottled lemon juice"
    seven_tbsp_g = 7 * 14.787 * 1.03  # about: juice is a little heavier than water
    assert lemon_juice_g(tomato_card("300 ml"), 7) == pytest.approx(seven_tbsp_g, rel=0.05)


def test_food_that_is_acid_enough_gets_none() -> None:
    (variant,), _ = variants([PORK], kitchen(), [], START)
    assert variant.jar_work is not None
    assert (acid_per_jar(variant.jar_work.card), lemon_juice_g(variant.jar_work.card, 7)) == ((), 0.0)


def test_what_is_not_counted_has_to_be_got() -> None:
    assert Wanted("salt", 500, None, "g").to_get == 500
    assert Wanted("salt", 500, 200, "g").to_get == 300
    assert Wanted("salt", 500, 800, "g").to_get == 0
