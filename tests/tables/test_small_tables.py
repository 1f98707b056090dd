"""Rules, constants and the short tables, against figures typed again from their pages or from geometry."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from stillroom.errors import SourceError
from stillroom.model.process import JarSize
from stillroom.tables import constants, rules
from stillroom.tables.acids import acids
from stillroom.tables.baking import baking_figures
from stillroom.tables.circles import circles_that_fit, packings
from stillroom.tables.constants import constant
from stillroom.tables.drying import drying_yields
from stillroom.tables.fermentation import fermentation
from stillroom.tables.freezing import _blanching, blanching, freezes_badly, headspaces
from stillroom.tables.gel_point import gel_points
from stillroom.tables.jars import jars
from stillroom.tables.processes import rows, rows_for
from stillroom.tables.rules import rule
from stillroom.tables.syrups import syrups
from stillroom.tables.vocabulary import foods

KEYS = {known.key for known in foods()}


def test_rules_are_numbered_and_found() -> None:
    ids = [row.id for row in rules.rules()]
    assert ids[:259] == [f"R{number:03}" for number in range(1, 260)]
    assert rule("R002").value.startswith("10 min of free, continuous steam")
    with pytest.raises(SourceError, match="no rule is called “R999”"):
        rule("R999")


def test_a_double_rule_is_an_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "rules.csv").write_text(",".join(rules.COLUMNS) + "\nR001,s,r,v,src,,page\nR001,s,r,v,src,,page\n")
    monkeypatch.setattr(rules, "DATA", tmp_path)
    with pytest.raises(SourceError, match=r"rules\.csv, row 3, column id: “R001” is there twice"):
        rules._by_id.__wrapped__()


@pytest.mark.parametrize(
    ("name", "value", "unit", "rule_id"),
    [
        ("vent_min", 10, "min", "R002"),
        ("come_up_min", 5, "min", "R054"),
        ("heat_up_min", 15, "min", "R052"),
        ("wait_min", 10, "min", "R018"),
        ("cool_down_pints_min", 30, "min", "R014"),
        ("cool_down_quarts_min", 45, "min", "R014"),
        ("boiling_water_wait_min", 5, "min", "R076"),
        ("gauge_flag_psi", 1, "psi", "R029"),
        ("gauge_refuse_above_psi", 2, "psi", "R029"),
        ("gauge_test_every_days", 365, "days", "R028"),
        ("steam_limit_min", 45, "min", "N020"),
        ("sterilise_below_min", 10, "min", "N019"),
        ("two_hour_rule_h", 2, "h", "R103"),
        ("cooling_start_f", 135, "°F", "R095"),
        ("cooling_first_end_f", 70, "°F", "R095"),
        ("freezer_load_g_per_l_day", 32, "g per litre of freezer and day", "R124"),
        ("cure_mix_nitrite_fraction", 0.0625, "-", "R188"),
    ],
)
def test_constants_say_what_their_rule_says(name: str, value: float, unit: str, rule_id: str) -> None:
    found = constant(name)
    assert (found.value, found.unit, found.rule) == (value, unit, rule_id)


def test_freezer_load_is_the_printed_pounds_per_cubic_foot() -> None:
    """2-3 lb per cubic foot and day, 35 lb per cubic foot when full, by the definitions of pound and foot."""
    grams_per_litre = 453.59237 / 28.316846592
    assert constant("freezer_load_g_per_l_day").value == pytest.approx(2 * grams_per_litre, rel=0.005)
    assert constant("freezer_load_max_g_per_l_day").value == pytest.approx(3 * grams_per_litre, rel=0.005)
    assert constant("freezer_packed_kg_per_l").value == pytest.approx(35 * grams_per_litre / 1000, rel=0.005)


def test_every_constant_has_a_rule_with_a_source() -> None:
    for name, found in constants.constants().items():
        assert rule(found.rule).source, name
        assert found.unit, name
    with pytest.raises(SourceError, match="no constant is called “vent_hours”"):
        constant("vent_hours")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[x]\nvalue = "ten"\nunit = "min"\nrule = "R002"\n', "row x: value, unit or rule is missing or wrong"),
        ('[x]\nvalue = 1\nunit = "min"\n', "constants.toml, row x: value, unit or rule is missing or wrong"),
        ('[x]\nvalue = 1\nunit = "min"\nrule = "R999"\n', "row x, column rule: no rule is called “R999”"),
    ],
)
def test_a_broken_constant_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, message: str) -> None:
    (tmp_path / "constants.toml").write_text(text, encoding="utf-8")
    monkeypatch.setattr(constants, "DATA", tmp_path)
    with pytest.raises(SourceError) as told:
        constants.constants.__wrapped__()
    assert message in str(told.value)


def smallest_ring(count: int) -> float:
    """R/r of `count` equal circles in a ring that touch each other and the wall: 1 + 1/sin(π/n)."""
    return 1 + 1 / math.sin(math.pi / count)


@pytest.mark.parametrize(
    ("count", "ratio"),
    [
        *((2, 2), (3, smallest_ring(3)), (4, smallest_ring(4)), (5, smallest_ring(5)), (6, smallest_ring(6))),
        *((7, 1 + 1 / math.sin(math.pi / 6)), (8, smallest_ring(7)), (9, smallest_ring(8)), (11, smallest_ring(9))),
        *((13, 2 + math.sqrt(5)), (18, 1 + math.sqrt(2) + math.sqrt(6)), (19, 1 + math.sqrt(2) + math.sqrt(6))),
    ],
)
def test_circles_against_their_closed_forms(count: int, ratio: float) -> None:
    """A ring, a ring with one in its middle, and the two closed forms of the table; figures are printed truncated."""
    found = next(packing for packing in packings() if packing.n == count)
    assert found.ratio == pytest.approx(ratio, abs=0.001)


@pytest.mark.parametrize(
    ("count", "radius"), [(8, 0.3025934), (10, 0.26222), (14, 0.23105), (16, 0.21666), (20, 0.19522)]
)
def test_circles_against_a_second_publication(count: int, radius: float) -> None:
    """Kravitz, Math. Mag. 40 (1967) 65-70: radius of n circles in a unit circle."""
    found = next(packing for packing in packings() if packing.n == count)
    assert 1 / found.ratio == pytest.approx(radius, abs=0.0002)


def test_circles_are_complete_monotone_and_never_denser_than_the_plane() -> None:
    assert [packing.n for packing in packings()] == list(range(1, 21))
    for few, more in pairwise(packings()):
        assert few.ratio <= more.ratio
    for packing in packings():
        assert packing.n / packing.ratio**2 <= math.pi / math.sqrt(12) or packing.n == 1


@pytest.mark.parametrize(
    ("ratio", "count"), [(0.9, 0), (1, 1), (1.99, 1), (3, 7), (2.9999999999, 7), (3.3, 7), (9, 20)]
)
def test_circles_that_fit(ratio: float, count: int) -> None:
    assert circles_that_fit(ratio) == count


def test_jars_hold_their_volume_and_all_tested_sizes_are_there() -> None:
    """Outside cylinder larger than the nominal volume, smaller than three times it."""
    assert {jar.size for jar in jars() if jar.size} == set(JarSize)
    for jar in jars():
        cylinder_ml = math.pi / 4 * jar.diameter_mm**2 * jar.height_mm / 1000
        assert jar.volume_ml < cylinder_ml < 3 * jar.volume_ml, jar.name
        if jar.size:
            assert jar.volume_ml == pytest.approx(jar.size.volume_ml)
        assert jar.min_height_in <= jar.max_height_in
        assert jar.min_diameter_in <= jar.max_diameter_in
    assert [jar.fluid_ounces for jar in jars()] == [4, 8, 12, 16, 24, 32, 64]


@pytest.mark.parametrize(
    ("food", "jar", "agent", "amount", "unit"),
    [
        ("tomatoes", "pint", "bottled lemon juice", 1, "tbsp"),
        ("tomatoes", "quart", "bottled lemon juice", 2, "tbsp"),
        ("tomato sauce", "quart", "citric acid", 0.5, "tsp"),
        ("tomato juice", "pint", "citric acid", 0.25, "tsp"),
        ("tomatoes", "quart", "vinegar 5 %", 4, "tbsp"),
        ("figs", "pint", "citric acid", 0.25, "tsp"),
        ("crab", "half_pint", "citric acid", 0.5, "tsp"),
        ("crab", "pint", "bottled lemon juice", 4, "tbsp"),
    ],
)
def test_acid_per_jar(food: str, jar: str, agent: str, amount: float, unit: str) -> None:
    """Univ. of Missouri GH1456; Michigan State files 01600838 (figs) and 01600852 (crab)."""
    found = [a for a in acids(food) if a.jar == jar and a.agent == agent]
    assert [(a.amount, a.unit) for a in found] == [(amount, unit)]


def test_acid_covers_exactly_the_rows_that_ask_for_it_by_the_jar() -> None:
    """Every row whose printed acidification is per jar has an amount for its jar; figs get no vinegar."""
    for row in rows():
        if "per pint or" in row.acidification:
            assert any(acid.jar is row.jar for acid in acids(row.food)), row.key
    assert {acid.agent for acid in acids("figs")} == {"bottled lemon juice", "citric acid"}
    assert acids("peaches") == ()
    assert all(rows_for(acid.process_food) for food in ("tomatoes", "crab") for acid in acids(food))


def test_a_quart_takes_twice_the_acid_of_a_pint() -> None:
    for food in {row.food for row in rows()}:
        by_agent: dict[str, dict[JarSize, float]] = {}
        for acid in acids(food):
            by_agent.setdefault(acid.agent, {})[acid.jar] = acid.amount
        for amounts in by_agent.values():
            ratio = {jar: amount / jar.volume_ml for jar, amount in amounts.items()}
            assert max(ratio.values()) == pytest.approx(min(ratio.values()))


def test_syrups_get_sweeter_and_their_real_strength_is_below_the_nominal() -> None:
    """Sugar 200 g and water 236.6 g a cup: 9, 17-18, 27-28, 35-36, 46-47 % by weight for the five syrups."""
    real = {
        "very light": (8, 10),
        "light": (17, 18.5),
        "medium": (26.5, 28.5),
        "heavy": (35, 37),
        "very heavy": (45, 48),
    }
    assert len(syrups()) == 10
    for syrup in syrups():
        sugar_g, water_g = 200 * syrup.sugar_cups, 236.6 * syrup.water_cups
        percent = 100 * sugar_g / (sugar_g + water_g)
        low, high = real[syrup.name]
        assert low <= percent <= high, syrup
        assert percent < syrup.nominal_percent


def test_gel_points_are_eight_degrees_above_boiling_water() -> None:
    """Water boils at 212 °F at sea level and about 1.9 °F lower for each 1,000 ft."""
    for point in gel_points():
        assert point.temp_f == pytest.approx(212 + 8 - 1.85 * point.altitude_ft / 1000, abs=1)
    assert constant("gel_above_boiling_f").value == 8


def test_fermentation_salt_of_sauerkraut_agrees_with_itself() -> None:
    """3 tbsp per 5 lb and 3/4 cup per 25 lb: 16 tablespoons a cup, so 0.6 and 0.48 tbsp a pound."""
    found = {
        row.unit: row.low for row in fermentation() if (row.product, row.quantity) == ("sauerkraut", "canning salt")
    }
    assert found == {"tbsp per 5 lb cabbage": 3, "cup per 25 lb cabbage": 0.75}
    for row in fermentation():
        assert 0 < row.low <= row.high


@pytest.mark.parametrize(
    ("food", "piece", "minutes"),
    [
        ("asparagus", "small stalks", 2),
        ("asparagus", "large stalks", 4),
        ("green bean", "whole or cut", 3),
        ("carrot", "sliced or diced", 2),
        ("sweet corn", "large ears on the cob", 11),
        ("okra", "large pods", 4),
        ("green pea", "shelled", 1.5),
    ],
)
def test_blanching(food: str, piece: str, minutes: float) -> None:
    found = [row for row in blanching(food) if row.piece == piece]
    assert [(row.min_minutes, row.max_minutes) for row in found] == [(minutes, minutes)]


def test_blanching_is_plausible_and_about_known_foods() -> None:
    assert set(_blanching()) <= KEYS
    assert blanching("bacon") == ()
    for found in _blanching().values():
        for row in found:
            if row.method == "none":
                assert row.max_minutes == 0
            elif row.method == "boiling water":
                assert row.min_minutes is not None
                assert row.max_minutes is not None
                assert 1 <= row.min_minutes <= row.max_minutes <= 11


def test_freezer_headspace() -> None:
    """Liquid pack: wide mouth 1/2 and 1 in, narrow mouth 3/4 and 1 1/2 in for pints and quarts."""
    liquid = {(h.mouth, h.container): h.headspace_in for h in headspaces() if h.pack == "liquid"}
    assert liquid == {
        ("wide", "pint"): 0.5,
        ("wide", "quart"): 1,
        ("narrow", "pint"): 0.75,
        ("narrow", "quart"): 1.5,
    }
    assert {h.headspace_in for h in headspaces() if h.pack == "dry"} == {0.5}


def test_what_freezes_badly_is_named_by_vocabulary_keys() -> None:
    named = {food for entry in freezes_badly() for food in entry.foods}
    assert named <= KEYS
    assert {"leaf lettuce", "egg white", "jelly"} <= named
    assert all(entry.effect and entry.instead for entry in freezes_badly())


def test_drying_yields() -> None:
    """A pound of meat gives about 4 oz of jerky; tomatoes 14 lb to 1/2 lb is from memory."""
    (jerky,) = drying_yields("venison")
    assert (jerky.fresh_amount, jerky.fresh_unit, jerky.dried_amount, jerky.dried_unit) == (1, "lb", 4, "oz")
    (tomato,) = drying_yields("tomato")
    assert tomato.evidence == "memory"
    assert drying_yields("water") == ()
    for key in KEYS:
        for row in drying_yields(key):
            if row.dried_unit == row.fresh_unit:
                assert 0.02 < row.dried_amount / row.fresh_amount < 0.25


def test_baking_figures_are_bound_to_rules() -> None:
    """Friction of a stand mixer 20 °F; dough doubles its pace each 17 °F."""
    by_name = {row.quantity: row for row in baking_figures()}
    assert len(by_name) == len(baking_figures())
    assert (by_name["friction, stand mixer"].low, by_name["friction, stand mixer"].unit) == (20, "°F")
    assert by_name["fermentation doubles per"].low == constant("dough_doubling_f").value == 17
    for row in baking_figures():
        assert row.low <= row.high
        assert rule(row.rule).evidence
