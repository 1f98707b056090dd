"""`stillroom dry` as a cook would ask it, with nonsense too."""

from __future__ import annotations

import json
from typing import Any

import pytest


def test_apples(run: Any) -> None:
    code, out, err = run("dry", "apples", "--thick", "6 mm", "--amount", "2 kg")
    assert (code, err) == (0, "")
    for part in (
        "Apple, 6 mm, air of 60 °C (140 °F)",
        "Weighs 360 g when done",
        "leathery, pliable",  # R163
        "shake daily",  # R169
        "Test dryness",
        "damp enough for some mould",
        "closed jar over wet table salt: 7",
        "not interrupted",
    ):
        assert part in out
    hours = out.partition("Hours in one layer: ")[2].splitlines()[0]
    assert " to " in hours
    assert "about" in hours


def test_json_and_progress(run: Any) -> None:
    said = json.loads(run("dry", "tomatoes", "--thick", "8 mm", "--amount", "3 kg", "--now", "600 g", "--json")[1])
    assert said["kind"] == "vegetable"
    assert said["hours"]["low"] < said["hours"]["middle"] < said["hours"]["high"]
    assert said["done_g"] == pytest.approx(3000 * (1 - 0.9452) / 0.9, rel=1e-3)  # R166, USDA 94.52 % water
    assert said["now"]["water"] == pytest.approx(1 - 3000 * (1 - 0.9452) / 600, abs=1e-3)
    assert said["now"]["water_activity"] is None
    assert said["tray_m2"] == pytest.approx(3 / 4.88, rel=0.01)  # R160: 4.9 kg/m²
    assert said["water_activity"]["high"] < 0.6
    assert "known to the trade" in said["printed_yields"][0]["source"]


def test_meat_gets_heat_first_and_no_hours(run: Any) -> None:
    code, out, _ = run("dry", "venison", "--thick", "6 mm", "--amount", "1 kg")
    assert code == 0
    assert "71 °C (160 °F) in the middle by a thermometer" in out
    assert "no hours are worked out for meat" in out
    assert "about 250 g" in out  # R175
    assert "not reliable for bear" in out
    said = json.loads(run("dry", "chicken", "--thick", "6 mm", "--json")[1])
    assert said["hours"] is None
    assert said["inside_c"] == pytest.approx(73.89, abs=0.01)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("cheese", "--thick", "6 mm"), "not for cheese"),
        (("blorp", "--thick", "6 mm"), "blorp"),
        (("apples", "--thick", "banana"), "not a length"),
        (("apples", "--thick", "60 mm"), "cut them thinner"),
        (("apples", "--thick", "6 mm", "--air", "200 C"), "40 to 75"),
        (("apples", "--thick", "6 mm", "--room", "-5 C"), "0 to 40"),
        (("apples", "--thick", "6 mm", "--humidity", "0.5"), "with its sign"),
        (("apples", "--thick", "6 mm", "--humidity", "300%"), "0% to 100%"),
        (("apples", "--thick", "6 mm", "--now", "300 g"), "--amount"),
        (("apples", "--thick", "6 mm", "--amount", "2 kg", "--now", "3 kg"), "Weigh again"),
        (("apples", "--thick", "6 mm", "--amount", "2 kg", "--now", "3 cups"), "not a weight"),
        (("venison", "--thick", "60 mm"), "6 mm is usual"),
        (("carrots", "--thick", "4 mm", "--air", "40 C", "--room", "39 C", "--humidity", "99%"), "does not get dry"),
    ],
)
def test_nonsense_is_one_sentence(run: Any, words: tuple[str, ...], says: str) -> None:
    code, out, err = run("dry", *words)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1
