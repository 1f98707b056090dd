"""Jars, altitudes, canners and forms as cooks write them."""

from __future__ import annotations

import pytest

from stillroom.errors import InputError
from stillroom.model.process import CannerKind, JarSize
from stillroom.process.altitude_bands import minutes_at
from stillroom.process.altitude_text import altitude_ft, read_altitude
from stillroom.process.canner_text import read_canner
from stillroom.process.form_choice import choose_pack, forms_matching
from stillroom.process.jar_text import jar_name, jar_of, read_jar
from stillroom.tables.processes import rows_for


@pytest.mark.parametrize(
    ("text", "volume_ml"),
    [
        ("quart", 946.352946),
        ("1 qt", 946.352946),
        ("Quart jars", 946.352946),
        ("half-pint", 236.588237),
        ("half_pint", 236.588237),
        ("a pint jar", 473.176473),
        ("1/2 pint", 236.588237),
        ("½ gallon", 1892.705892),
        ("1-quart", 946.352946),
        ("2 qts", None),
        ("1200ml", 1200),
        ("1,200 ml", 1200),
        ("0.75 l", 750),
        ("75 cl", 750),
        ("5 dl", 500),
        ("1 liter", 1000),
        ("half-litre", 500),
        ("12 oz", 354.882355),
        ("8 fl. oz", 236.588237),
        ("1/0 pint", None),
        ("quart-ish", None),
        ("1200", None),
        ("-1 l", None),
        ("", None),
        ("20 ml", None),
        ("30 l", None),
    ],
)
def test_jars(text: str, volume_ml: float | None) -> None:
    """US liquid measures: quart 946.352946 ml, fluid ounce 29.5735296 ml (NIST Handbook 44)."""
    if volume_ml is None:
        with pytest.raises(InputError, match="half-pint, pint, quart"):
            read_jar(text)
    else:
        assert read_jar(text).volume_ml == pytest.approx(volume_ml, abs=1e-4)


def test_a_jar_size_is_a_jar_to_ask_for() -> None:
    assert jar_name(JarSize.HALF_GALLON) == "half-gallon"
    assert all(read_jar(jar_of(size).text).volume_ml == size.volume_ml for size in JarSize)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("760 m", 760),
        ("2500 ft", 762),
        ("2,500 feet", 762),
        ("0m", 0),
        ("−10 m", -10),
        ("1000'", 304.8),
        ("5 metres", 5),
    ],
)
def test_altitudes(text: str, metres: float) -> None:
    assert read_altitude(text) == pytest.approx(metres)


@pytest.mark.parametrize("text", ["760", "high", "", "nan m", "1e400 m", "760 miles", "- 5 m"])
def test_an_altitude_needs_its_unit(text: str) -> None:
    with pytest.raises(InputError, match="760 m"):
        read_altitude(text)


@pytest.mark.parametrize("text", ["2.500 m", "1.200m", "12.000 ft", "-1.400 ft"])
def test_a_point_that_may_stand_for_thousands_is_asked_back(text: str) -> None:
    """Read as two and a half metres, 2500 m would get the pressure of the coast."""
    with pytest.raises(InputError, match="two ways"):
        read_altitude(text)


@pytest.mark.parametrize(
    ("text", "metres"), [("609.600 m", 609.6), ("2.5 m", 2.5), ("0.500 m", 0.5), ("45.72 m", 45.72)]
)
def test_a_point_that_can_only_be_decimal_is_read(text: str, metres: float) -> None:
    assert read_altitude(text) == pytest.approx(metres)


def test_609_6_metres_are_exactly_2000_feet() -> None:
    assert altitude_ft(609.6) == 2000
    assert altitude_ft(609.7) > 2000


def test_a_band_above_the_last_is_a_broken_contract() -> None:
    with pytest.raises(ValueError, match="above every printed band"):
        minutes_at(next(row for row in rows_for("jam")), 9000)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("dial", CannerKind.DIAL),
        ("Dial-gauge", CannerKind.DIAL),
        ("weighted gauge", CannerKind.WEIGHTED),
        ("boiling water", CannerKind.BOILING_WATER),
        ("water bath", CannerKind.BOILING_WATER),
        ("steam", CannerKind.STEAM),
    ],
)
def test_canners(text: str, kind: CannerKind) -> None:
    assert read_canner(text) is kind


@pytest.mark.parametrize(("text", "says"), [("pressure", "which pressure gauge"), ("oven", "not a kind of canner")])
def test_canners_that_are_none(text: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        read_canner(text)


FORMS = ("crushed, no added liquid", "whole or halved in water", "whole or halved in tomato juice")


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        (None, FORMS),
        ("crushed", FORMS[:1]),
        ("CRUSHED, no added liquid", FORMS[:1]),
        ("whole", FORMS[1:]),
        ("in water", FORMS[1:2]),
        ("added liquid", ()),
        ("no added liquid", FORMS[:1]),
        ("in", ()),
        ("", ()),
        ("crush", ()),
        ("pureed", ()),
    ],
)
def test_forms_match_by_whole_words_and_never_by_what_they_exclude(asked: str | None, found: tuple[str, ...]) -> None:
    assert forms_matching(FORMS, asked) == found


def test_no_rows_have_no_pack() -> None:
    assert choose_pack([], "beef", None) is None
