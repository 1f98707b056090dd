"""`stillroom cure` and `stillroom brine`, against sums worked by hand."""

from __future__ import annotations

import json
from typing import Any

import pytest

US_CURE = ("--mix", "6.25%", "--salt", "2.5%")


def test_cure_as_worked_by_hand(run: Any) -> None:
    """R195: belly 4.00 kg, 120 ppm, 2.5 % salt: 7.68 g of 6.25 % mix and 92.8 g plain salt."""
    code, out, err = run("cure", "bacon", "4 kg", "--method", "dry", "--ppm", "120", *US_CURE, "--json")
    said = json.loads(out)
    assert (code, err) == (0, "")
    assert (said["mix_g"], said["plain_salt_g"], said["limit_ppm"]) == (7.68, 92.8, 200)
    assert said["refused"] is False
    assert "Inspectors' Calculations Handbook" in said["source"]  # R183
    assert said["cautions"]


def test_cure_in_plain_text(run: Any) -> None:
    code, out, _ = run(
        *("cure", "whole muscle", "3 kg", "--method", "brine", "--brine", "3 kg", "--mix", "6.25%", "--salt", "2%"),
        *("--ppm", "150", "--sugar", "1%", "--thickness", "2 in"),
    )
    assert code == 0
    assert "Curing mix   14.4 g" in out  # R197
    assert "Leave 10 to 14 days" in out  # R198, R206
    assert "common practice" in out
    assert "! Weigh the curing mix" in out
    assert "Sugar        60 g" in out
    assert "Water" in out


def test_mix_already_weighed_out_is_checked(run: Any) -> None:
    """R196: 32 g of a 5.88 % mix in 1266 g of brine, 10 % pump: 148.6 ppm, over the 120 of pumped bacon."""
    pumped = ("--method", "pumped", "--brine", "1266 g", "--pump", "10%", "--mix", "5.88%", "--salt", "1.1068%")
    code, out, _ = run("cure", "whole muscle", "5 kg", *pumped, "--check-mix", "32 g", "--json")
    assert code == 0
    assert json.loads(out)["nitrite_ppm"] == pytest.approx(148.6, abs=0.05)
    code, out, err = run("cure", "bacon", "5 kg", *pumped, "--check-mix", "32 g", "--json")
    assert code == 3
    assert json.loads(out) == {"refused": True, "reason": err.removeprefix("stillroom: ").strip()}
    assert "120 ppm" in err


def test_nitrate_is_shown_where_it_may_be(run: Any) -> None:
    aged = (
        "cure",
        "dry-aged whole muscle",
        "5 kg",
        "--mix",
        "6.25%",
        "--nitrate",
        "4%",
        "--salt",
        "3%",
        "--ppm",
        "156",
    )
    code, out, _ = run(*aged)
    assert code == 0
    assert "nitrate 99.84 ppm" in out


@pytest.mark.parametrize(
    ("arguments", "code", "word"),
    [
        (("bacon", "4 kg", "--method", "dry", "--ppm", "201", *US_CURE), 3, "limit of 200 ppm"),
        (("bacon", "4 kg", "--method", "dry", "--check-mix", "1 kg", *US_CURE), 3, "15625 ppm"),
        (
            ("bacon", "4 kg", "--method", "dry", "--ppm", "120", "--mix", "0.0625%", "--salt", "2.5%"),
            3,
            "read the pack",
        ),
        (("bacon", "4 kg", "--method", "dry", "--ppm", "120", "--mix", "100%", "--salt", "2.5%"), 3, "pure nitrite"),
        (("bacon", "4 kg", "--method", "dry", "--ppm", "9", *US_CURE, "--nitrate", "4%"), 3, "nitrate"),
        (("dry sausage", "4 kg", "--ppm", "150", "--mix", "6.25%", "--salt", "2%"), 3, "at least 2.5%"),
        (("bacon", "4 kg", "--method", "dry", "--ppm", "120", "--salt", "2.5%"), 2, "--mix"),
        (("bacon", "4 kg", "--method", "dry", "--ppm", "120", "--mix", "0.0625", "--salt", "2.5%"), 2, "%"),
        (("bacon", "4 kg", "--method", "dry", "--ppm", "120", "--mix", "6.25%"), 2, "--salt"),
        (("bacon", "4 kg", "--method", "dry", *US_CURE), 2, "at most 200"),
        (("bacon", "4 kg", "--method", "dry", "--ppm", "9", "--check-mix", "3 g", *US_CURE), 2, "--check-mix"),
        (("bacon", "4 kg", "--ppm", "120", *US_CURE), 2, "dry, pumped, brine"),
        (("bacon", "4 kg", "--method", "smoke", "--ppm", "120", *US_CURE), 2, "dry, pumped, brine"),
        (("ham", "4 kg", "--ppm", "120", *US_CURE), 2, "whole muscle"),
        (("sausage", "4 cups", "--ppm", "120", *US_CURE), 2, "never measured by volume"),
        (("sausage", "4,5 kg", "--ppm", "120", *US_CURE), 2, "comma"),
        (("sausage",), 2, "meat"),
    ],
)
def test_cure_refuses(run: Any, arguments: tuple[str, ...], code: int, word: str) -> None:
    found, _, err = run("cure", *arguments)
    assert (found, word in err) == (code, True), err


def test_brine(run: Any) -> None:
    """3.5 % of 2 l of water: 70 g; with 2 kg of food 70/4070 evens out to 1.72 %."""
    code, out, _ = run("brine", "2 l", "3.5%", "--of", "water", "--food", "2 kg")
    assert code == 0
    assert "Salt 70 g in 2000 g" in out
    assert "1.72% when" in out
    assert "evened out" not in run("brine", "2 l", "5%", "--of", "brine")[1]
    said = json.loads(run("brine", "2 l", "5%", "--of", "brine", "--json")[1])
    assert said["salt_g"] == pytest.approx(2000 * 5 / 95, abs=0.001)


def test_brine_never_cuts_the_salt_of_a_ferment(run: Any) -> None:
    """Least printed for sauerkraut: 3/4 cup of canning salt for 25 lb of cabbage, 12 tbsp of 17 g: 1.8 %."""
    weak = ("brine", "2 l", "0.5%", "--of", "all", "--food", "1 kg", "--ferment", "sauerkraut")
    code, out, err = run(*weak)
    assert (code, out) == (3, "")
    assert "never cut" in err
    assert json.loads(run(*weak, "--json")[1])["refused"] is True
    assert run("brine", "1 l", "2.5%", "--of", "all", "--food", "1 kg", "--ferment", "sauerkraut")[0] == 0


def test_brine_tells_its_water_activity(run: Any) -> None:
    """10 % salt: 0.935, after Robinson & Stokes (1.9 mol/kg)."""
    assert json.loads(run("brine", "1 l", "10%", "--of", "brine", "--json")[1])[
        "water_activity_as_poured"
    ] == pytest.approx(0.935, abs=0.003)
