"""`stillroom dough`: percentages, water, rise, friction."""

from __future__ import annotations

import json
from typing import Any

import pytest


def test_dough_by_percentages(run: Any) -> None:
    code, out, _ = run(
        *("dough", "--flour", "1 kg", "--water", "70%", "--salt", "2%", "--yeast", "1%", "--add", "butter=10%"),
        *("--preferment", "20%", "--preferment-yeast", "0.5%", "--json"),
    )
    said = json.loads(out)
    assert code == 0
    assert said["preferment"] == {"flour_g": 200, "water_g": 200, "yeast_g": 1}
    assert (said["total_g"], said["others_g"]) == (1830, {"butter": 100})


def test_dough_with_water_and_rise(run: Any) -> None:
    """R223: 75×4 − 71−71−71 − 20 = 67 °F; R226: 2 h at 80 °F is 4 h at 63 °F."""
    code, out, _ = run(
        *("dough", "--total", "1780 g", "--water", "65%", "--salt", "2%", "--yeast", "1%", "--add", "butter=10%"),
        *("--preferment", "30%", "--dough-temp", "75 F", "--flour-temp", "71 F", "--room", "71 F"),
        *("--preferment-temp", "71 F", "--friction", "20 F", "--tap", "80 F"),
    )
    assert code == 0
    assert "(67 °F)" in out
    assert "of it ice" in out
    assert "Preferment" in out
    assert "1780 g" in out
    code, out, _ = run(
        *("dough", "--flour", "500 g", "--water", "65%", "--salt", "2%", "--dough-temp", "63 F"),
        *("--known-time", "2 h", "--known-temp", "80 F", "--json"),
    )
    assert json.loads(out)["rise_min"] == pytest.approx(240)
    assert json.loads(out)["water_temp_c"] is None


def test_dough_says_how_a_cup_was_weighed_and_asks_for_the_tap(run: Any) -> None:
    """SR Legacy 168896: 1 cup of bread flour weighs 137 g."""
    code, out, _ = run(
        *(
            "dough",
            "--flour",
            "4 cups",
            "--water",
            "65%",
            "--salt",
            "2%",
            "--dough-temp",
            "24 C",
            "--flour-temp",
            "20 C",
        ),
        *("--room", "20 C", "--friction", "5 C", "--known-time", "90 min", "--known-temp", "24 C"),
    )
    assert code == 0
    assert "taken as 548 g" in out
    assert "Water at 27 °C" in out  # 3×24 − 20 − 20 − 5
    assert "--tap" in out
    assert "Rise about 1.5 h" in out


def test_friction_is_learned_from_a_measured_dough(run: Any) -> None:
    """R222: friction = n·(dough reached) − sum; R224 turned round: 75×3 − 65 − 65 − 87 = 8 °F."""
    measured = ("dough", "--flour", "1 kg", "--water", "65%", "--salt", "2%", "--flour-temp", "65 F", "--room", "65 F")
    code, out, _ = run(*measured, "--water-was", "87 F", "--reached", "75 F")
    assert code == 0
    assert "Your friction is 8.0 °F (4.4 °C)" in out
    code, out, _ = run(*measured, "--water-was", "87 F", "--reached", "75 F", "--json")
    assert json.loads(out)["friction_k"] == pytest.approx(8 / 1.8, abs=0.001)
    code, _, err = run(*measured, "--reached", "75 F")
    assert (code, "--water-was" in err) == (2, True)


@pytest.mark.parametrize(
    ("arguments", "code", "word"),
    [
        (("--flour", "1 kg", "--salt", "2%"), 2, "--water"),
        (("--flour", "1 kg", "--water", "65%"), 2, "--salt"),
        (("--water", "65%", "--salt", "2%"), 2, "--flour or --total"),
        (("--flour", "1 kg", "--total", "2 kg", "--water", "65%", "--salt", "2%"), 2, "--flour or --total"),
        (("--flour", "1 kg", "--water", "65", "--salt", "2%"), 2, "%"),
        (("--flour", "1 kg", "--water", "65%", "--salt", "2%", "--add", "butter"), 2, "butter=10%"),
        (("--total", "4 cups", "--water", "65%", "--salt", "2%"), 2, "weigh it"),
        (
            ("--flour", "1 kg", "--water", "65%", "--salt", "2%", "--dough-temp", "24 C", "--room", "20 C"),
            2,
            "--friction",
        ),
        (
            ("--flour", "1 kg", "--water", "65%", "--salt", "2%", "--dough-temp", "24 C", "--room", "20 C")
            + ("--flour-temp", "20 C", "--friction", "5 C", "--preferment-temp", "20 C"),
            2,
            "--preferment-temp",
        ),
        (("--flour", "1 kg", "--water", "65%", "--salt", "2%", "--known-time", "2 h"), 2, "--known-temp"),
        (
            ("--flour", "1 kg", "--water", "65%", "--salt", "2%", "--dough-temp", "5 C")
            + ("--known-time", "2 h", "--known-temp", "25 C"),
            3,
            "50 to 95 °F",
        ),
    ],
)
def test_dough_refuses(run: Any, arguments: tuple[str, ...], code: int, word: str) -> None:
    found, _, err = run("dough", *arguments)
    assert (found, word in err) == (code, True), err
