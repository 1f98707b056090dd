"""The strict parser: conversions against the published definitions, refusals, and round trips."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import UnreadableAmount
from stillroom.quantities.amounts import Amount, parse, volume_ml
from stillroom.quantities.unit_words import GRAMS, MILLILITRES, QUALIFIERS, SIZES, TRADE_MEASURES


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [
        # 1 lb = 453.59237 g exactly: International yard and pound agreement, 1959
        ("9 kg", 9000),
        ("9kg", 9000),
        ("500 G", 500),
        ("1 1/2 lb", 680.388555),
        ("1½ lb", 680.388555),
        ("1 ½ lbs.", 680.388555),
        ("1⁄2 lb", 226.796185),
        ("2 lb 3 oz", 2 * 453.59237 + 3 * 453.59237 / 16),
        ("2 pounds 3 ounces", 2 * 453.59237 + 3 * 453.59237 / 16),
        ("1 kg 250 g", 1250),
        ("a pound", 453.59237),
        ("half a pound", 226.796185),
        ("⅓ kg", 1000 / 3),
        ("2 kilos", 2000),
    ],
)
def test_mass(text: str, mass_g: float) -> None:
    amount = parse(text)
    assert amount.kind == "mass"
    assert amount.value == pytest.approx(mass_g, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "ml"),
    [
        # US gallon = 231 cubic inches of 2.54 cm: NIST Handbook 44, Appendix C
        ("1 gal", 231 * 2.54**3),
        ("½ gal", 231 * 2.54**3 / 2),
        ("3 cups", 3 * 231 * 2.54**3 / 16),
        ("1 qt", 231 * 2.54**3 / 4),
        ("2 pints", 231 * 2.54**3 / 4),
        ("½ tsp", 231 * 2.54**3 / 768 / 2),
        ("4 tbsp", 231 * 2.54**3 / 64),
        ("5 fl. oz.", 5 * 231 * 2.54**3 / 128),
        ("3 fluid ounces", 3 * 231 * 2.54**3 / 128),
        ("1 gallon 2 quarts", 1.5 * 231 * 2.54**3),
        # Imperial gallon = 4.54609 l: UK Weights and Measures Act 1985
        ("1 imp pint", 568.26125),
        ("2 UK pints", 2 * 568.26125),
        ("1 imperial gallon", 4546.09),
        ("1 imp fl oz", 4546.09 / 160),
        ("2 metric cups", 500),
        ("1.5 l", 1500),
        ("2 dl", 200),
        ("70 cl", 700),
        ("3 litres", 3000),
        ("3 liters", 3000),
    ],
)
def test_volume(text: str, ml: float) -> None:
    assert volume_ml(text) == pytest.approx(ml, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("12", Amount("count", 12, "")),
        ("a dozen", Amount("count", 12, "")),
        ("dozen", Amount("count", 12, "")),
        ("half a dozen", Amount("count", 6, "")),
        ("half a bushel", Amount("measure", 0.5, "bushel")),
        ("half bushel", Amount("measure", 0.5, "bushel")),
        ("2 dozen", Amount("count", 24, "")),
        ("6 pieces", Amount("count", 6, "")),
        ("2 bushels", Amount("measure", 2, "bushel")),
        ("a peck", Amount("measure", 1, "peck")),
        ("2 bushels in pods", Amount("measure", 2, "bushel", ("in pods",))),
        ("12 large heads", Amount("measure", 12, "head", ("large",))),
        ("2 bunches", Amount("measure", 2, "bunch")),
        ("3 leaves", Amount("measure", 3, "leaf")),
        ("3 medium", Amount("measure", 3, "medium")),
        ("2 extra-large", Amount("measure", 2, "extra large")),
        ("2 large pieces", Amount("measure", 2, "large")),
    ],
)
def test_counts_and_trade_measures(text: str, amount: Amount) -> None:
    assert parse(text) == amount


def test_how_food_lies_in_the_cup_is_kept() -> None:
    assert parse("3 cups, chopped").qualifiers == ("chopped",)
    assert parse("1 cup slices").qualifiers == ("sliced",)
    assert parse("2 cups leaves").qualifiers == ("leaves",)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "  ",
        "kg",
        "two pounds",
        "0 g",
        "0/4 cup",
        "-3 kg",
        "−3 kg",
        "+3 kg",
        "1e3 g",
        "nan",
        "inf kg",
        "infinity",
        "1,200 g",
        "1.200,5 g",
        "1'000 g",
        "5 000 g",
        "1 000 000 kg",
        ".5 kg",
        "5. kg",
        "11/2 lb",
        "3/2 cup",
        "1/0 cup",
        "1½½ kg",
        "3-4 kg",
        "3–4 kg",
        "2 x 3 kg",
        "2 kg lb",
        "500 g g",
        "2 apples",
        "2 cups of flour",
        "3 cups chopped chopped",
        "2 dozen ears",
        "1 T",
        "1 c",
        "1 lb 20 oz",
        "1 lb 16 oz",
        "1.5 lb 3 oz",
        "3 oz 2 lb",
        "1 lb 1 cup",
        "1 cup chopped 2 tbsp",
        "2 bushels 1 peck",
        "large kg",
        "2 large kg",
        "2 chopped kg",
        "٣ kg",
        "2²kg",
        "99999999 kg",
        "0.0001 g",
        "200000",
        "3 jars",
        "a handful",
        "~3 kg",
        "about 3 kg",
        "3 kg!",
        "3\x00kg",
    ],
)
def test_refused_in_one_line(text: str) -> None:
    with pytest.raises(UnreadableAmount) as refused:
        parse(text)
    assert "\n" not in str(refused.value)


def test_says_what_can_be_read() -> None:
    with pytest.raises(UnreadableAmount, match=r"bushel.*"):
        parse("a wheelbarrow")
    with pytest.raises(UnreadableAmount, match="comma"):
        parse("1,200 g")


def test_a_mass_is_no_volume() -> None:
    with pytest.raises(UnreadableAmount, match="not a volume"):
        volume_ml("3 kg")


@given(st.text(max_size=25))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        amount = parse(text)
    except UnreadableAmount:
        return
    assert math.isfinite(amount.value)
    assert amount.value > 0
    assert parse(str(amount)).value == amount.value


@given(
    st.integers(1, 400),
    st.integers(0, 15),
    st.sampled_from(sorted({*GRAMS, *MILLILITRES, *TRADE_MEASURES, *SIZES, ""})),
    st.sampled_from(sorted({*QUALIFIERS, ""})),
)
def test_what_it_prints_it_reads_the_same(whole: int, sixteenths: int, unit: str, qualifier: str) -> None:
    fraction = f" {sixteenths}/16" if sixteenths else ""
    try:
        amount = parse(f"{whole}{fraction} {unit} {qualifier}")
    except UnreadableAmount:
        assert qualifier  # a bare number and unit is always read
        return
    again = parse(str(amount))
    assert (again.kind, again.value, again.qualifiers) == (amount.kind, amount.value, amount.qualifiers)


@given(st.integers(1, 100), st.integers(0, 15))
def test_pounds_and_ounces_add_up(pounds: int, ounces: int) -> None:
    text = f"{pounds} lb" + (f" {ounces} oz" if ounces else "")
    assert parse(text).value == pytest.approx((pounds * 16 + ounces) * 28.349523125, rel=1e-12)
