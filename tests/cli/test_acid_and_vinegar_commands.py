"""`stillroom acid` and `stillroom vinegar`."""

from __future__ import annotations

import json
from typing import Any


def test_acid(run: Any) -> None:
    """GH1456: 2 Tbsp of bottled lemon juice a quart; 7 quarts take 14 Tbsp = 207 ml."""
    code, out, _ = run("acid", "tomatoes", "--quarts", "7")
    assert code == 0
    assert "bottled lemon juice: 2 tbsp per quart; together 14 tbsp (207 ml)" in out
    assert "citric acid: 0.5 tsp per quart; together 3.5 tsp (18 ml)" in out  # 17.25 ml, never less
    assert "measure" in out
    said = json.loads(run("acid", "figs", "--pints", "2", "--json")[1])
    assert [way["agent"] for way in said["ways"]] == ["bottled lemon juice", "citric acid"]


def test_acid_makes_no_low_acid_food_safe(run: Any) -> None:
    code, _, err = run("acid", "green beans", "--quarts", "7")
    assert (code, "never takes the place" in err) == (3, True), err


def test_vinegar(run: Any) -> None:
    code, out, _ = run("vinegar", "1 l", "--from", "15%")
    assert code == 0
    assert "334 ml of 15% vinegar and 666 ml of water" in out  # 333.3 would be rounded below 5 %
    assert "8% vinegar" in run("vinegar", "1 l", "--to", "10%", "--from", "15%", "--with", "8%")[1]
    assert json.loads(run("vinegar", "1 l", "--from", "25%", "--json")[1])["stronger_ml"] == 200
    assert "measure" in out
    assert "the acid into it" in out  # acid is poured into water, never the other way round
    assert "goggles" in json.loads(run("vinegar", "1 l", "--from", "25%", "--json")[1])["caution"]
    assert "goggles" not in run("vinegar", "--mix", "600 ml=6%", "--mix", "400 ml=5%")[1]
    # Mass balance: 600 ml of 6 % + 400 ml of 5 % = 5.6 %; 1 l of 5 % + 1 l water = 2.5 %, not for preserving.
    assert "1000 ml of 5.60% acid" in run("vinegar", "--mix", "600 ml=6%", "--mix", "400 ml=5%")[1]
    code, _, err = run("vinegar", "--mix", "1 l=5%", "--mix", "1 l=0%")
    assert (code, "2.5% is weaker" in err) == (3, True)
    code, _, err = run("vinegar", "1 l", "--from", "4%")
    assert (code, "weaker than the 5%" in err) == (3, True)
    code, out, err = run("vinegar", "1 l", "--to", "4%", "--from", "10%", "--json")
    assert (code, json.loads(out)["refused"]) == (3, True)
    assert "below 5%" in err


def test_acid_of_a_liquid_always_says_measure(run: Any) -> None:
    words = ("acid", "--mix", "vinegar 5%=500 ml", "--mix", "water=500 ml")
    code, out, _ = run(*words)
    assert code == 0
    assert "25 g of acetic acid in a litre" in out
    assert "About pH 2.5 to 2.7 for the liquid alone: measure" in out
    assert "no ground for any process" in out
    said = json.loads(run(*words, "--json")[1])
    assert "measure" in said["estimate"]
    assert said["is_measured"] is False
    assert not any(isinstance(value, float) and 2 < value < 4 for value in said.values())  # no number to act on
    assert "measure" in run("vinegar", "--mix", "600 ml=6%", "--mix", "400 ml=5%")[1].splitlines()[0]
    for wrong, says in ((("acid",), "Name the food"), ((*words, "tomatoes"), "Name the food")):
        code, _, err = run(*wrong)
        assert (code, says in err) == (2, True), err
