"""`stillroom yield` and `portions`, against figures typed again from their publications, with nonsense too."""

from __future__ import annotations

import json
from typing import Any

import pytest


def test_apples(run: Any) -> None:
    """USDA SR28: 10 % core and stem; applesauce takes 2.5 to 3.5 lb a quart (Univ. of Georgia chart)."""
    said = json.loads(run("yield", "apples", "20 lb", "--json")[1])
    edible = next(each for each in said["gives"] if each["to"] == "edible part")
    assert edible["low_g"] == pytest.approx(0.90 * 20 * 453.59237, rel=1e-3)
    sauce = next(each for each in said["jars"] if each["as"] == "applesauce")
    assert sauce["quarts"] == pytest.approx([20 / 3.5, 20 / 2.5], rel=1e-3)
    code, out, _ = run("yield", "apples", "20 lb")
    assert code == 0
    assert "applesauce: 5.7 to 8.0 quart jars" in out
    assert "not a process" in out
    assert "USDA SR28" in out


def test_a_pig_by_its_live_weight(run: Any) -> None:
    """R245, R246: 70 to 75 % dressed; R248: ham 24 % of the carcass."""
    code, out, _ = run("yield", "pork", "90 kg", "--live")
    assert code == 0
    assert "carcass: 63 kg to 67.5 kg" in out
    said = json.loads(run("yield", "pork", "90 kg", "--live", "--json")[1])
    assert said["parts_g"]["ham"] == pytest.approx(0.24 * 65_250)
    assert sum(said["parts_g"].values()) == pytest.approx(65_250)
    bird = json.loads(run("yield", "chicken", "2 kg", "--carcass", "--json")[1])
    assert bird["parts_g"]["legs"] == pytest.approx(660)  # R236: 33 %


def test_portions(run: Any) -> None:
    """75 g of vegetables a serve (NHMRC 2013); 9 years 0.68, 5 years 0.56 of an adult (DGA 2015-2020, A2-1)."""
    said = json.loads(run("portions", "vegetable", "--for", "2 adults, 9, 5", "--json")[1])
    assert said["adult_portions"] == pytest.approx(2 + 0.68 + 0.56)
    assert (said["low"], said["high"], said["unit"]) == (pytest.approx(75 * 3.24), pytest.approx(75 * 3.24), "g")
    code, out, _ = run("portions", "red meat", "--for", "2 adults", "--weighed", "raw")
    assert code == 0
    assert "180 g to 200 g (raw" in out
    assert "evidence: memory" in out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("yield", "unicorn", "3 kg"), "unicorn"),
        (("yield", "horse", "3 kg", "--live"), "none of them"),
        (("yield", "salt", "1 kg"), "No yield"),
        (("yield", "apples", "lots"), "can't be read"),
        (("yield", "pork", "3 cups", "--live"), "not a weight"),
        (("yield", "pork", "3 kg", "--live", "--carcass"), "one of them"),
        (("portions", "soup", "--for", "adult"), "known are"),
        (("portions", "red meat", "--for", "2 adults"), "which weight"),
        (("portions", "bread", "--for", "banana"), "no eater"),
        (("portions", "bread", "--for", "0 adults"), "no eater"),
        (("portions", "bread", "--for", ""), "no eater"),
        (("portions", "bread", "--for", "1"), "under 2 years"),
        (("brine", "1 l", "2%", "--of", "water", "--ferment", "kimchi"), "dill pickles, sauerkraut"),
        (("acid", "--mix", "vinegar 5%=1 l", "--quarts", "3"), "knows no jars"),
    ],
)
def test_nonsense_is_one_sentence(run: Any, words: tuple[str, ...], says: str) -> None:
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1


def test_what_is_printed_for_a_ferment(run: Any) -> None:
    """USDA: 3 tablespoons of canning salt to 5 lb of cabbage, 3 to 4 weeks at 70 to 75 °F."""
    out = run("brine", "1 l", "2%", "--of", "water", "--ferment", "sauerkraut")[1]
    assert "canning salt 3 tbsp per 5 lb cabbage" in out
    assert "weeks at 70-75 F 3 to 4 weeks" in out
    assert "dill pickles" not in out
    said = json.loads(run("brine", "1 l", "5%", "--of", "water", "--ferment", "dill pickles", "--json")[1])
    assert any("vinegar 5 %" in row["text"] for row in said["printed"])


def test_an_unusual_dough_is_told(run: Any) -> None:
    """R218: 60 to 75 % water, 1.8 to 2.2 % salt."""
    out = run("dough", "--flour", "1 kg", "--water", "90%", "--salt", "3%", "--yeast", "0.2%")[1]
    assert "Water of 90% is unusual: most bread takes 60 to 75%" in out
    assert "Salt of 3% is unusual" in out
    assert "Yeast of" not in out
    assert "unusual" not in run("dough", "--flour", "1 kg", "--water", "65%", "--salt", "2%", "--yeast", "1%")[1]
