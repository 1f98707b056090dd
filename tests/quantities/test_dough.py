"""Dough sums against the printed worked examples (R217 to R228) and by heat balance."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError, OutsideTable
from stillroom.quantities.dough import Formula, Preferment
from stillroom.quantities.dough_temperature import dough_water, friction_k, time_at, water_temp_c
from stillroom.units import celsius, fahrenheit


def test_bakers_percentages() -> None:
    """R217: flour is 100 %; 1000 g flour at 65 % water, 2 % salt, 1 % yeast make 1680 g."""
    dough = Formula(water=0.65, salt=0.02, yeast=0.01).from_flour(1000)
    assert (dough.water_g, dough.salt_g, dough.yeast_g) == (650, 20, 10)
    assert dough.total_g == pytest.approx(1680)


def test_flour_of_the_preferment_counts() -> None:
    """R217: with 20 % of the flour in a starter of 100 % water, the rest of 1000 g flour and 700 g water is added."""
    dough = Formula(0.70, 0.02, 0.01, preferment=Preferment(0.20, 1.0, 0.005)).from_flour(1000)
    assert dough.preferment_flour_g == pytest.approx(200)
    assert dough.preferment_water_g == pytest.approx(200)
    assert dough.final_flour_g == pytest.approx(800)
    assert dough.final_water_g == pytest.approx(500)
    assert dough.final_yeast_g == pytest.approx(9)
    assert dough.total_g == pytest.approx(1730)


@pytest.mark.parametrize(
    ("dough_f", "flour_f", "room_f", "friction_f", "preferment_f", "water_f"),
    [
        (75, 71, 71, 20, 71, 67),  # R223: 75×4 − 71−71−71 − 20
        (75, 65, 65, 8, None, 87),  # R224: 75×3 − 65−65−8
        (80, 65, 75, 35, None, 65),  # R225: 80×3 − 65−75−35
    ],
)
def test_water_temperature(
    dough_f: float, flour_f: float, room_f: float, friction_f: float, preferment_f: float | None, water_f: float
) -> None:
    preferment_c = None if preferment_f is None else celsius(preferment_f)
    found = water_temp_c(celsius(dough_f), celsius(flour_f), celsius(room_f), friction_f / 1.8, preferment_c)
    assert fahrenheit(found) == pytest.approx(water_f)


def test_friction_from_a_measured_dough() -> None:
    """R222: friction = n·(dough reached) − sum of temperatures; turns R224 round."""
    found = friction_k(celsius(75), (celsius(65), celsius(65), celsius(87)))
    assert found * 1.8 == pytest.approx(8)


@given(st.floats(0, 40), st.floats(1, 5000), st.floats(-10, 40))
def test_ice_keeps_the_heat_balance(tap_c: float, water_g: float, target_c: float) -> None:
    """Heat given by tap water = heat to melt the ice (333.55 J/g) and warm it (4.186 J/(g K))."""
    try:
        mixing = dough_water(target_c, water_g, tap_c)
    except InputError:
        assert tap_c - target_c > (tap_c + 79) / 3
        return
    assert mixing.ice_g + mixing.tap_water_g == pytest.approx(water_g)
    if mixing.ice_g:
        given_j = mixing.tap_water_g * 4.186 * (tap_c - target_c)
        taken_j = mixing.ice_g * (333.55 + 4.186 * target_c)
        assert given_j == pytest.approx(taken_j, rel=1e-9)
    else:
        assert target_c >= tap_c or mixing.ice_g == pytest.approx(0, abs=1e-6)


def test_hot_water_and_hopeless_ice_are_refused() -> None:
    assert dough_water(30, 500, 15).note == "warm the tap water"
    assert dough_water(15, 500, 15).ice_g == 0
    with pytest.raises(InputError, match="hurt the yeast"):
        dough_water(51, 500, 15)
    with pytest.raises(InputError, match="chill the flour"):
        dough_water(-20, 500, 15)
    with pytest.raises(InputError, match="Tap water"):
        dough_water(20, 500, 60)


def test_rising_time_doubles_each_17_fahrenheit() -> None:
    """R226: 2 h at 80 °F = 4 h at 63 °F."""
    assert time_at(120, celsius(80), celsius(63)) == pytest.approx(240)
    assert time_at(240, celsius(63), celsius(80)) == pytest.approx(120)


@pytest.mark.parametrize(("known_f", "wanted_f"), [(80, 97), (80, 49.9), (40, 80), (95.1, 80)])
def test_rising_time_holds_between_50_and_95_fahrenheit(known_f: float, wanted_f: float) -> None:
    """R227; the 1 h at 97 °F of R226 lies outside and is refused."""
    with pytest.raises(OutsideTable, match="50 to 95 °F"):
        time_at(120, celsius(known_f), celsius(wanted_f))


def test_limits_of_the_rule_are_included() -> None:
    assert time_at(60, celsius(50), celsius(95)) == pytest.approx(60 / 2 ** (45 / 17))
    with pytest.raises(InputError):
        time_at(0, 20, 25)


@pytest.mark.parametrize(
    "wrong",
    [
        {"water": 6.5, "salt": 0.02},
        {"water": 0.65, "salt": 2},
        {"water": 0.65, "salt": 0.02, "yeast": 0.5},
        {"water": -0.1, "salt": 0.02},
        {"water": 0.65, "salt": 0.02, "others": {"butter": 10}},
        {"water": 0.2, "salt": 0.02, "preferment": Preferment(0.3, 1.0)},
        {"water": 0.65, "salt": 0.02, "yeast": 0.0, "preferment": Preferment(0.3, 1.0, 0.01)},
    ],
)
def test_formulas_that_are_none(wrong: dict[str, object]) -> None:
    with pytest.raises(InputError):
        Formula(**wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize(("share", "water", "yeast"), [(0, 1, 0), (1.2, 1, 0), (0.3, 0, 0), (0.3, 2, 0), (0.3, 1, 0.2)])
def test_preferments_that_are_none(share: float, water: float, yeast: float) -> None:
    with pytest.raises(InputError, match="preferment"):
        Preferment(share, water, yeast)


@pytest.mark.parametrize("flour_g", [0, -1, float("nan"), float("inf")])
def test_no_flour_no_dough(flour_g: float) -> None:
    with pytest.raises(InputError):
        Formula(0.65, 0.02).from_flour(flour_g)


@pytest.mark.parametrize(
    ("dough_c", "flour_c", "friction"), [(50, 20, 5), (24, 60, 5), (24, 20, 40), (24, 20, -1), (float("nan"), 20, 5)]
)
def test_temperatures_out_of_range(dough_c: float, flour_c: float, friction: float) -> None:
    with pytest.raises(InputError):
        water_temp_c(dough_c, flour_c, 20, friction)


@given(st.floats(0.3, 1.2), st.floats(0, 0.04), st.floats(0, 0.05), st.floats(0, 0.5), st.floats(10, 50_000))
def test_from_total_turns_from_flour_round(
    water: float, salt: float, yeast: float, butter: float, flour: float
) -> None:
    formula = Formula(water, salt, yeast, {"butter": butter})
    dough = formula.from_flour(flour)
    parts = dough.flour_g + dough.water_g + dough.salt_g + dough.yeast_g + sum(dough.others_g.values())
    assert parts == pytest.approx(dough.total_g)
    assert formula.from_total(dough.total_g).flour_g == pytest.approx(flour)
