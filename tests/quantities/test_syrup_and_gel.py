"""Syrups against the printed tables, gel point against the printed lines, acid per jar."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.quantities import acid, gel_point
from stillroom.quantities.syrup import by_weight, for_jars, names
from stillroom.units import celsius, metres

CUP_ML = 236.588
LB = 453.59237
GALLON_OF_WATER_LB = 8.345


@pytest.mark.parametrize(
    ("name", "quarts", "pints", "water_cups", "sugar_cups"),
    [
        # Complete Guide to Home Canning, rev. 1994, table 2-5
        ("very light", 7, 0, 10.5, 1.25),
        ("very light", 0, 9, 6.5, 0.75),
        ("light", 7, 0, 9, 2.25),
        ("light", 0, 9, 5.75, 1.5),
        ("medium", 7, 0, 8.25, 3.75),
        ("medium", 0, 9, 5.25, 2.25),
        ("heavy", 7, 0, 7.75, 5.25),
        ("heavy", 0, 9, 5, 3.25),
        ("very heavy", 7, 0, 6.5, 6.75),
        ("light", 14, 9, 18 + 5.75, 4.5 + 1.5),
    ],
)
def test_printed_loads(name: str, quarts: int, pints: int, water_cups: float, sugar_cups: float) -> None:
    made = for_jars(name, quarts=quarts, pints=pints)
    assert made.water_cups == pytest.approx(water_cups)
    assert made.sugar_g == pytest.approx(sugar_cups * 200, rel=1e-4)


@pytest.mark.parametrize(
    ("name", "percent"), [("very light", 9), ("light", 17.4), ("medium", 27.8), ("heavy", 36.4), ("very heavy", 46.8)]
)
def test_nominal_is_not_real(name: str, percent: float) -> None:
    """Sugar 200 g and water 236.6 g per cup: 9, 17-18, 27-28, 35-36, 46-47 % where 10 to 50 is printed."""
    assert for_jars(name, quarts=7).real_fraction * 100 == pytest.approx(percent, abs=0.4)


def test_a_line_from_memory_is_not_used() -> None:
    """Very heavy for 9 pints is recalled only: two pints take what a quart takes."""
    assert for_jars("very heavy", pints=14).water_cups == pytest.approx(for_jars("very heavy", quarts=7).water_cups)


@pytest.mark.parametrize(
    ("brix", "exact_lb"),
    [(5, 0.44), (15, 1.47), (20, 2.09), (30, 3.58), (35, 4.49), (45, 6.83), (50, 8.35), (60, 12.52)],
)
def test_pounds_of_sugar_per_gallon_of_water(brix: float, exact_lb: float) -> None:
    """Mass balance with water of 8.345 lb a US gallon, as worked out beside Rockwell's table of 1918."""
    made = by_weight(brix / 100, water_g=GALLON_OF_WATER_LB * LB)
    assert made.sugar_g / LB == pytest.approx(exact_lb, abs=0.006)


@pytest.mark.parametrize(
    ("brix", "printed_lb"), [(5, 0.44), (15, 1.50), (20, 2.12), (30, 3.62), (35, 4.44), (50, 8.38)]
)
def test_rockwells_table(brix: float, printed_lb: float) -> None:
    """F. F. Rockwell, Save It for Winter, 1918: lb of sugar per gallon of water, printed to ⅛ lb."""
    made = by_weight(brix / 100, water_g=GALLON_OF_WATER_LB * LB)
    assert made.sugar_g / LB == pytest.approx(printed_lb, abs=0.12)


@given(st.floats(0.01, 0.67), st.floats(1, 1e5))
def test_total_and_water_agree(fraction: float, total_g: float) -> None:
    made = by_weight(fraction, total_g=total_g)
    assert made.sugar_g + made.water_ml == pytest.approx(total_g)
    assert by_weight(fraction, water_g=made.water_ml).sugar_g == pytest.approx(made.sugar_g)


def test_syrups_that_are_none() -> None:
    with pytest.raises(InputError, match="very light, light"):
        for_jars("thick", quarts=1)
    for wrong in ({"quarts": 0}, {"quarts": -1, "pints": 3}):
        with pytest.raises(InputError, match="how many"):
            for_jars("light", **wrong)
    for fraction in (0, 0.68, float("nan")):
        with pytest.raises(InputError, match="sugar by weight"):
            by_weight(fraction, water_g=1000)
    for masses in ({}, {"water_g": 1.0, "total_g": 1.0}, {"water_g": float("inf")}):
        with pytest.raises(InputError, match="one of them"):
            by_weight(0.3, **masses)
    assert len(names()) == 5


@pytest.mark.parametrize(
    ("altitude_ft", "temp_f"),
    [(0, 220), (1000, 218), (2000, 216), (3000, 214), (4000, 212), (5000, 211), (6000, 209), (7000, 207), (8000, 205)],
)
def test_gel_point_as_printed(altitude_ft: float, temp_f: float) -> None:
    """Michigan State Univ. Extension file 01600890."""
    found = gel_point.at_altitude(metres(altitude_ft))
    assert found.temp_c == pytest.approx(celsius(temp_f))


def test_gel_point_is_never_interpolated() -> None:
    between = gel_point.at_altitude(metres(2500))
    assert between.temp_c is None
    assert [line.temp_f for line in between.lines] == [216, 214]
    assert "8 °F" in between.how
    for beyond_ft in (9000, -100):
        beyond = gel_point.at_altitude(metres(beyond_ft))
        assert (beyond.temp_c, beyond.lines) == (None, ())


def test_gel_point_from_measured_water() -> None:
    """8 °F above boiling water of the day: 212 °F gives 220 °F."""
    assert gel_point.from_boiling(100).temp_c == pytest.approx(celsius(220))
    for wrong in (84, 103, float("nan")):
        with pytest.raises(InputError, match="thermometer"):
            gel_point.from_boiling(wrong)


def test_acid_for_tomatoes() -> None:
    """GH1456: per quart 2 Tbsp bottled lemon juice, ½ tsp citric acid or 4 Tbsp 5 % vinegar; half of it per pint."""
    ways = {need.agent: need.total_ml for need in acid.for_jars("tomatoes", {JarSize.QUART: 7, JarSize.PINT: 2})}
    assert ways["bottled lemon juice"] == pytest.approx((7 * 2 + 2) * CUP_ML / 16, rel=1e-4)
    assert ways["citric acid"] == pytest.approx((7 * 0.5 + 2 * 0.25) * CUP_ML / 48, rel=1e-4)
    assert ways["vinegar 5 %"] == pytest.approx((7 * 4 + 2 * 2) * CUP_ML / 16, rel=1e-4)


def test_figs_take_no_vinegar() -> None:
    """MSU 01600838: lemon juice or citric acid; vinegar is not offered."""
    assert [need.agent for need in acid.for_jars("figs", {JarSize.PINT: 1})] == ["bottled lemon juice", "citric acid"]


def test_asian_pears_take_bottled_lemon_juice_by_the_jar() -> None:
    """NCHFP, Pears, Asian (Oregon State Univ. SP 50-694): 1 tbsp per pint, 2 tbsp per quart."""
    (need,) = acid.for_jars("asian pears", {JarSize.PINT: 2, JarSize.QUART: 1})
    assert (need.agent, need.total_ml) == ("bottled lemon juice", pytest.approx(4 * 14.787, rel=1e-3))


def test_no_acid_makes_low_acid_food_safe() -> None:
    with pytest.raises(InputError, match="never takes the place"):
        acid.for_jars("snap beans", {JarSize.PINT: 1})
    with pytest.raises(InputError, match="tested process says"):
        acid.for_jars("salsa", {JarSize.PINT: 1})
    with pytest.raises(InputError, match="these jars only: pint, quart"):
        acid.for_jars("tomatoes", {JarSize.HALF_GALLON: 1})
