"""`stillroom syrup`: syrups, jelly and the sums that ask again."""

from __future__ import annotations

import json
from typing import Any

import pytest


def test_syrups(run: Any) -> None:
    """Guide table 2-5: light, 7 quarts: 9 cups of water, 2 1/4 cups of sugar, 17.4 % by weight."""
    code, out, _ = run("syrup", "light", "--quarts", "7")
    assert code == 0
    assert "Sugar      450 g" in out
    assert "9 US cups" in out
    assert "17.4% sugar by weight; printed as 20%" in out
    assert "does not preserve" in out
    assert "50.0% sugar by weight\n" in run("syrup", "50%", "--total", "2 kg")[1]
    code, out, _ = run("syrup", "50%", "--total", "2 kg", "--json")
    assert (json.loads(out)["sugar_g"], json.loads(out)["water_ml"]) == (1000, 1000)
    code, out, _ = run("syrup", "50%", "--water", "1 l", "--json")
    assert json.loads(out)["sugar_g"] == 1000


def test_jelly(run: Any) -> None:
    """MSU 01600890: 216 °F at 2,000 ft; between lines 8 °F above boiling water."""
    assert "216 °F" in run("syrup", "jelly", "--altitude", "2000 ft")[1]
    code, out, _ = run("syrup", "jelly", "--altitude", "2500 ft", "--json")
    assert (code, json.loads(out)["temp_c"]) == (0, None)
    assert "No line is printed" in run("syrup", "jelly", "--altitude", "2500 ft")[1]
    assert json.loads(run("syrup", "jelly", "--boiling", "212 F", "--json")[1])["temp_f"] == 220


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (("syrup", "thick", "--quarts", "7"), "very light, light"),
        (("syrup", "light"), "how many"),
        (("syrup", "light", "--water", "1 l"), "--quarts or --pints"),
        (("syrup", "30%", "--quarts", "7"), "--water or --total"),
        (("syrup", "30%"), "one of them"),
        (("syrup", "30%", "--total", "1 l"), "goes by weight"),
        (("syrup", "jelly"), "--altitude"),
        (("brine", "2 l", "5%"), "--of water"),
        (("brine", "2 l", "5%", "--of", "all", "--food", "2 cups"), "weigh the food"),
        (("brine", "2 l", "5", "--of", "water"), "%"),
        (("acid", "tomatoes"), "how many jars"),
        (("acid", "peaches", "--quarts", "7"), "naturally acid"),
        (("acid", "tomatoes", "--quarts", "1001"), "1000"),
        (("syrup", "light", "--quarts", "-3"), "greater than or equal to 0"),
        (("dough", "--flour", "1 kg", "--water", "650%", "--salt", "2%"), "Water of 650% of the flour"),
        (("acid", "unicorn", "--quarts", "7"), "unicorn"),
        (("vinegar", "1 l"), "--from"),
        (("vinegar", "1 kg", "--from", "10%"), "not a volume"),
        (("vinegar",), "--mix"),
        (("vinegar", "--mix", "1 l"), "600 ml=6%"),
    ],
)
def test_sums_that_ask_again(run: Any, arguments: tuple[str, ...], word: str) -> None:
    found, _, err = run(*arguments)
    assert (found, word in err) == (2, True), err


def test_syrup_at_a_place_and_by_hydrometer(run: Any) -> None:
    """64 % boils 4.0 K above water (Browne 1912); 19 °Bé are 34 to 35 % (old syrup tables)."""
    code, out, _ = run("syrup", "64%", "--total", "1 kg", "--boiling", "100 C")
    assert code == 0
    assert "Boils at about 104.0 °C" in out
    assert "Below" not in out
    said = json.loads(run("syrup", "64%", "--total", "1 kg", "--altitude", "690 m", "--json")[1])
    assert said["syrup_boils_c"]["low"] < 101.6 < said["syrup_boils_c"]["high"]
    assert said["water_activity"] == pytest.approx(0.87, abs=0.02)
    read = json.loads(run("syrup", "19 Be", "--json")[1])
    assert 34 < read["sugar_percent_by_weight"] < 35
    assert "Below" in run("syrup", "67%", "--water", "1 l")[1]
    for words, says in (
        (("99 Be",), "°Bé"),
        (("35%", "--total", "1 kg", "--boiling", "30 C"), "thermometer"),
        (("35%", "--total", "1 kg", "--altitude", "30000 ft"), "altitude"),
    ):
        code, _, err = run("syrup", *words)
        assert (code, says in err) == (2, True), err


def test_jelly_beside_the_printed_line(run: Any) -> None:
    """Printed: 1,000 ft sets at 218 °F; water of 98.9 °C (210 °F) and the rule say the same."""
    code, out, _ = run("syrup", "jelly", "--altitude", "1000 ft", "--boiling", "210 F")
    assert code == 0
    assert "Sets at 218 °F" in out
    assert "printed: 1000 ft sets at 218 °F" in out
    assert "Soft from" in out
    assert "cold plate" in out
    between = run("syrup", "jelly", "--altitude", "690 m")[1]
    assert "No line is printed" in between
    assert "measure it and give --boiling" in between
    assert "Soft from" not in between  # nothing is interpolated
