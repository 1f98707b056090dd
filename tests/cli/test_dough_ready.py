"""`stillroom dough` asked when a dough is ready, as a baker would ask it in the evening."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

KNOWN = ("--known-time", "12 h", "--known-temp", "20 C", "--dough-temp", "20 C")
LUMP = ("--total", "855 g")


def test_in_a_cold_kitchen_over_night(run: Any) -> None:
    code, out, err = run("dough", *LUMP, *KNOWN, "--room", "18 C", "--begun", "20:30")
    assert (code, err) == (0, "")
    assert re.search(r"Ready 1\d to 1\d h after mixing, about 14; from 0\d:\d[05] the next day", out)
    assert "watch the dough" in out
    assert "egg, milk or cheese" in out


def test_for_the_hour_that_is_wanted(run: Any) -> None:
    late = run("dough", *LUMP, *KNOWN, "--room", "18 C", "--begun", "20:30", "--want", "12:00")[1]
    assert re.search(r"in the fridge until 2[12]:\d[05], then at 18 °C, or in a place of 1\d °C", late)
    early = run("dough", *LUMP, *KNOWN, "--room", "18 C", "--begun", "20:30", "--want", "6:00")[1]
    assert "fridge" not in early
    assert re.search(r"in a place of 2\d °C", early)
    assert "no way" in run("dough", *LUMP, *KNOWN, "--room", "18 C", "--begun", "8:00", "--want", "8:30")[1]


def test_places_one_after_the_other_beside_the_weights(run: Any) -> None:
    stands = ("--stand", "room 21 C 1 h", "--stand", "fridge 4 C 10 h", "--stand", "22 C")
    words = ("dough", "--flour", "500 g", "--water", "65%", "--salt", "2%", *KNOWN, *stands)
    code, out, _ = run(*words)
    assert code == 0
    assert "Flour             500 g" in out
    assert "at 21 °C for 1 h then at 4 °C for 10 h then at 22 °C" in out
    said = json.loads(run(*words, "--json")[1])
    assert said["flour_g"] == 500
    assert said["ready"]["low_h"] < said["ready"]["middle_h"] < said["ready"]["high_h"]
    assert said["ready"]["from"] is None
    assert said["water_temp_c"] is None
    assert json.loads(run("dough", *LUMP, *KNOWN, "--room", "18 C", "--json")[1])["ready"]["middle_h"] > 12


def test_never_in_a_very_cold_fridge(run: Any) -> None:
    words = ("dough", *LUMP, "--known-time", "3 h", "--known-temp", "24 C", "--dough-temp", "4 C", "--stand", "2 C")
    assert "perhaps never" in run(*words)[1] or "Not ready within four days" in run(*words)[1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((*LUMP, "--room", "18 C", "--begun", "7:00"), "--known-time"),
        ((*LUMP, *KNOWN, "--begun", "7:00"), "where it stands"),
        ((*LUMP, *KNOWN, "--room", "60 C"), "yeast is hurt"),
        ((*LUMP, *KNOWN, "--room", "warm"), "not a place"),
        ((*LUMP, *KNOWN, "--room", "18 C", "--stand", "4 C"), "not both"),
        ((*LUMP, *KNOWN, "--stand", "4 C 3 h"), "until the dough is ready"),
        ((*LUMP, *KNOWN, "--stand", "4 C", "--stand", "18 C"), "says how long"),
        ((*LUMP, *KNOWN, "--room", "18 C", "--begun", "25:00"), "20:30"),
        ((*LUMP, *KNOWN, "--room", "18 C", "--want", "7:00"), "--begun"),
        (("--total", "5 g", *KNOWN, "--room", "18 C"), "50 kg"),
        ((*LUMP, "--known-time", "3 h", "--known-temp", "50 C", "--dough-temp", "24 C", "--room", "18 C"), "95 °F"),
        ((*LUMP, "--known-time", "9 days", "--known-temp", "24 C", "--dough-temp", "24 C", "--room", "18 C"), "time"),
    ],
)
def test_nonsense_is_one_sentence(run: Any, words: tuple[str, ...], says: str) -> None:
    code, out, err = run("dough", *words)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1
