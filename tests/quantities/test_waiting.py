"""Filled jars that wait: Newton's law by hand, the two-hour rule, and directions that nature does not reverse."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import InputError, Refusal
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.waiting import Jar, Start, waiting

TOMATO = food_parts("tomato")
PINT, QUART = Jar(473.0, 81.0, 130.0, 0.5), Jar(946.0, 95.0, 172.0, 0.5)


def test_a_pint_by_hand() -> None:
    """About 0.42 kg of near-water and 0.29 kg of glass of 0.84 kJ/(kg K), side and top 0.038 m², 9 W/(m² K)."""
    found = waiting(TOMATO, PINT, 20.0, Start(90.0, 60.0, 20.0))
    food, glass = 0.42 * 4.06, 0.29 * 0.84
    filled_c = (food * 90 + glass * 60) / (food + glass)
    area_m2 = math.pi * 0.081 * (0.130 + 0.081 / 4)
    after_c = 20 + (filled_c - 20) * math.exp(-9e-3 * area_m2 * 1200 / (food + glass))
    assert found.filled.middle == pytest.approx(filled_c, abs=0.5)
    assert found.after.middle == pytest.approx(after_c, abs=1.0)
    assert found.after.low < after_c < found.after.high


def test_the_jar_weighs_what_jars_weigh() -> None:
    """Empty pints weigh 0.25 to 0.35 kg and quarts 0.4 to 0.5 kg on a scale: common knowledge, from memory."""
    assert 0.25 <= PINT.glass_kg <= 0.35
    assert 0.40 <= QUART.glass_kg <= 0.50
    assert 0.9 * 473 < PINT.food_ml < 473


@settings(deadline=None)
@given(st.floats(0, 110), st.floats(1, 10))
def test_longer_is_colder_and_larger_is_warmer(wait_min: float, more: float) -> None:
    first, later = (waiting(TOMATO, PINT, minutes, Start()) for minutes in (wait_min, wait_min + more))
    assert later.after.low < first.after.low
    assert waiting(TOMATO, QUART, wait_min + more, Start()).after.low > later.after.low
    draughty = waiting(TOMATO, PINT, wait_min + more, Start(is_draughty=True))
    assert draughty.after.low < later.after.low


@settings(deadline=None)
@given(st.floats(1, 110))
def test_it_is_surely_hot_until_the_mark_and_not_after(wait_min: float) -> None:
    found = waiting(TOMATO, PINT, wait_min, Start())
    assert found.is_surely_hot == (wait_min <= found.until_mark.low)


def test_what_stands_too_long_is_not_canned() -> None:
    """Two-hour rule, R103."""
    with pytest.raises(Refusal, match="120 min at the most"):
        waiting(TOMATO, PINT, 121.0, Start())


def test_nonsense_is_told() -> None:
    for wrong in (
        lambda: Start(food_c=150.0),
        lambda: Start(jar_c=-5.0),
        lambda: Start(room_c=60.0),
        lambda: waiting(TOMATO, Jar(10.0, 10.0, 10.0), 5.0, Start()),
        lambda: waiting(TOMATO, PINT, 5.0, Start(), mark_c=200.0),
    ):
        with pytest.raises(InputError):
            wrong()
