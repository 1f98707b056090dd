"""Check rows that print a figure without a tolerance: held where the program uses them, else named with the reason."""

from __future__ import annotations

import re

import pytest
from check_rows import row, rows

from stillroom.heat.yardstick import ACID, LOW_ACID
from stillroom.tables.jars import jars
from stillroom.units import fahrenheit

HELD = {"LE-12Db", "LE-AF4", "CO-jd1", "CO-jd2", "CO-jd3", "CO-tp1"}  # the last in test_heat_and_nature.py
NOT_USED = {
    "LE-12Da": "2.4 min where everybody else has 2.52: disagrees by its own note",
    "LE-AF1": "the yardstick for acid food is the stricter one of LE-AF4",
    "LE-AF2": "as LE-AF1",
    "LE-AF5": "pH 4.3 to 4.4: named in words beside the yardstick, not used",
    "CO-tp2": "ratio of two printed process times: nothing scales a process",
    "ST-mo": "10.5 psig where a weight is marked 10: the printed setting is what was tested",
}
ELSEWHERE = {
    "home_canning_gauge",
    "jar_context",
}  # test_steam.py; measured jars known from abstracts, see test_answer.py
RESISTANCE = "DZ"  # D and z of single bacteria: the model never says what is killed


def test_every_row_is_held_or_named() -> None:
    told = {
        check.id
        for topic in ("lethality", "conduction", "steam")
        for check in rows(topic)
        if check.value and check.tolerance == "-" and check.evidence != "memory" and check.group not in ELSEWHERE
    }
    untold = {name for name in told - HELD - set(NOT_USED) if not name.startswith(RESISTANCE)}
    assert untold == set()


def test_low_acid_food_is_asked_for_what_the_industry_asks() -> None:
    assert LOW_ACID.asked_min == row("lethality", "LE-12Db").values[0]


def test_acid_food_is_asked_for_what_the_draft_guidance_prints() -> None:
    """F(200 F, z=15 F)=5.0: FDA draft guidance on acidified foods (2010), table 8."""
    temp_f, z_f, minutes = (float(text) for text in re.findall(r"\d+(?:\.\d+)?", row("lethality", "LE-AF4").value))
    assert fahrenheit(ACID.reference.temp_c) == pytest.approx(temp_f)
    assert ACID.reference.z_c * 1.8 == pytest.approx(z_f)
    assert ACID.asked_min == minutes


@pytest.mark.parametrize(("check", "name"), [("CO-jd1", "half pint"), ("CO-jd2", "pint"), ("CO-jd3", "quart")])
def test_jars_are_as_wide_as_the_pages_say(check: str, name: str) -> None:
    """Outside diameters; the pages disagree among themselves, so the whole range is kept."""
    jar = next(jar for jar in jars() if jar.name == name)
    across = [float(text) for text in re.findall(r"\d+(?:\.\d+)?", row("conduction", check).value.split("x")[1])]
    assert (jar.min_diameter_in, jar.max_diameter_in) == pytest.approx((across[0], across[-1]))
