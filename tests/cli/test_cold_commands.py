"""The commands cool, freeze, thaw and wait: answers, JSON, exit codes, nonsense."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import pytest


def test_cool_tells_pot_pans_and_ice(run: Any) -> None:
    code, out, err = run("cool", "stew", "8 l", "--pot", "28 cm")
    assert (code, err) == (0, "")
    assert "21 °C (70 °F) within 2 h of 57 °C (135 °F)" in out  # FDA Food Code, R095
    assert "in the fridge: " in out
    assert "will most likely fail" in out
    assert "in ice water, stirred: " in out
    assert "pans of 40 × 30 cm in ice water" in out
    assert "measure" in out
    assert "Maine" in out  # the source of the record form
    assert "authority" in out


def test_cool_for_machines(run: Any) -> None:
    code, out, _ = run("cool", "beef stock", "3 kg", "--pot", "24 cm", "--ice-in", "500 g", "--json")
    said = json.loads(out)
    assert code == 0
    assert said["mass_kg"] == 3.5
    assert said["from_c"] < 95
    assert {way["verdict"].split(":")[0].split(";")[0] for way in said["ways"]} >= {"makes it"}
    assert said["ice"]["at_once"]["low"] > said["ice"]["after_tap_water"]["low"]
    assert said["readings"] is None


def test_cool_by_two_readings(run: Any) -> None:
    """The big pot of soup: 100 to 60 °C in 10 min at 10 °C; never colder than the water around it."""
    readings = ("--was", "100 C", "--now", "60 C", "--after", "10 min", "--around", "10 C")
    code, out, _ = run("cool", "soup", "8 l", *readings)
    assert code == 0
    assert "in all never" in out
    code, out, _ = run("cool", "soup", "8 l", *readings, "--json")
    assert json.loads(out)["readings"]["both_stages"]["high"] is None


def test_glass_cools_slower_than_metal(run: Any) -> None:
    """One test kitchen: 26 min in a bowl of glass, 11.5 min in one of steel."""
    metal, glass = (
        json.loads(run("cool", "soup", "2.4 l", "--pot", "21 cm", *flag, "--json")[1]) for flag in ((), ("--glass",))
    )
    ratio = glass["ways"][-1]["first_stage"]["middle"] / metal["ways"][-1]["first_stage"]["middle"]
    assert ratio == pytest.approx(26 / 11.5, rel=0.25)


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (("moon dust", "8 l"), "No food called"),
        (("flour", "8 kg"), "too dry"),
        (("stew", "8"), "weigh it"),
        (("stew", "lots"), "can't be read"),
        (("stew", "8 l", "--pot", "28"), "not a length"),
        (("stew", "8 l", "--pot", "5 m"), "not a length"),
        (("stew", "80 l", "--pot", "10 cm"), "deep in a pot"),
        (("stew", "8 l", "--pan", "40"), "not two sides"),
        (("stew", "8 l", "--pan", "2 x 2 cm"), "shallow pan"),
        (("stew", "8 l", "--filled", "200 C"), "--filled"),
        (("stew", "8 l", "--filled", "warm"), "not a temperature"),
        (("stew", "8 l", "--ice-in", "20 kg"), "--ice-in"),
        (("stew", "8 l", "--ice-in", "2 l"), "weigh the ice"),
        (("stew", "8 l", "--room", "80 C"), "5 to 45"),
        (("stew", "8 l", "--was", "80 C"), "all four"),
        (("stew", "8 l", "--was", "80 C", "--now", "90 C", "--after", "10 min", "--around", "4 C"), "no pace"),
    ],
)
def test_cool_says_what_is_wrong(run: Any, words: tuple[str, ...], part: str) -> None:
    code, out, err = run("cool", *words)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert part in err


def test_freeze_tells_hours_room_and_days(run: Any) -> None:
    """R259: 23 kg in a freezer of 200 L take 3.6 days by the lower figure, so four."""
    code, out, err = run("freeze", "pork shoulder", "23 kg", "--packs", "1 kg", "--freezer", "200 l", "--used", "50 l")
    assert (code, err) == (0, "")
    assert "Over 4 days, 5.8 kg a day: this freezer takes 6.4 kg a day" in out
    assert "flat pack, 3 cm thick: solid in " in out
    assert "−15 °C in the middle" in out
    assert "block, 10 cm thick" in out  # a litre
    assert "bird or joint" in out
    assert "120 L are free" in out
    assert "0.56 kg per litre makes 41 L" in out
    assert "NCHFP" in out


def test_freeze_for_machines(run: Any) -> None:
    code, out, _ = run(
        *("freeze", "stew", "4 kg", "--packs", "1 kg", "--bag", "20 x 25 cm", "--from", "20 C", "--boxed"),
        *("--freezer-temp", "-24 C", "--freezer", "7.5 cu ft", "--json"),
    )
    said = json.loads(out)
    assert code == 0
    assert said["freezer_c"] == -24
    assert [shape["shape"] for shape in said["shapes"]] == ["flat pack", "block", "ball"]
    assert said["shapes"][0]["thickness_cm"] == pytest.approx(2, rel=0.1)
    assert said["load"]["counts_as_kg"] > 4
    assert said["free_l"] is None


def test_freeze_says_what_the_freezer_spoils(run: Any) -> None:
    """R150: raw cucumber turns limp and waterlogged."""
    assert "waterlogged" in run("freeze", "cucumber", "2 kg")[1]


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (("stew", "4 kg", "--from", "70 C"), 3, "Cool it first"),
        (("stew", "4 kg", "--from", "-5 C"), 2, "0 °C or above"),
        (("stew", "4 kg", "--freezer-temp", "4 C"), 2, "−40 to −12"),
        (("stew", "4 kg", "--thick", "3 cm", "--bag", "20 x 20 cm"), 2, "not both"),
        (("stew", "4 kg", "--thick", "50 cm"), 2, "flat pack"),
        (("stew", "4 kg", "--packs", "100 g", "--thick", "6 cm"), 2, "as a cube"),
        (("stew", "4 kg", "--packs", "9 kg"), 2, "more than"),
        (("stew", "4 kg", "--packs", "1 g"), 2, "10 g to 200 kg"),
        (("stew", "4 kg", "--used", "20 l"), 2, "--freezer"),
        (("stew", "4 kg", "--freezer", "100 l", "--used", "120 l"), 2, "can't hold 120 already"),
        (("stew", "4 kg", "--thick", "0 cm"), 2, "not a length"),
        (("stew", "4 kg", "--freezer", "1 l"), 2, "10 to 2000"),
        (("stew", "4 kg", "--freezer", "big"), 2, "litres"),
        (("stew", "4 kg", "--bag", "20 x 90 m"), 2, "not two sides"),
        (("white bread", "1 kg"), 2, "full of air"),
        (("maple syrup", "1 kg"), 2, "sweet"),
    ],
)
def test_freeze_says_what_is_wrong(run: Any, words: tuple[str, ...], code: int, part: str) -> None:
    found, out, err = run("freeze", *words)
    assert (found, out) == (code, "")
    assert part in err


def test_thaw_tells_when_to_take_it_out(run: Any) -> None:
    """R113: a day for 5 lb; a bird of 5 lb that is cooked at 17:00 leaves the freezer the day before or sooner."""
    bird = ("thaw", "chicken, whole", "5 lb", "--meal", "2027-04-11 18:30", "--cooking", "90 min")
    code, out, err = run(*bird)
    assert (code, err) == (0, "")
    assert "about 24 h by the rule of weight" in out
    assert "to be cooked from Sunday 11 April 17:00" in out
    code, out, _ = run(*bird, "--json")
    said = json.loads(out)
    lead = datetime.fromisoformat(said["cook_from"]) - datetime.fromisoformat(said["take_out_by"])
    assert lead.total_seconds() / 3600 == pytest.approx(said["allow_h"], abs=1 / 60)
    assert said["allow_h"] >= said["by_rule_h"] == pytest.approx(24)


def test_mince_keeps_a_day_thawed_and_water_means_at_once(run: Any) -> None:
    """R113: ground meat 1 to 2 days. R114: cook at once."""
    assert "keeps 1 day more" in run("thaw", "mince", "500 g", "--thick", "3 cm")[1]
    out = run("thaw", "mince", "500 g", "--thick", "3 cm", "--in", "cold water", "--at", "50 F")[1]
    assert "cook it at once" in out


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (("stew", "1 kg", "--in", "counter"), 3, "never on the counter"),
        (("stew", "1 kg", "--in", "fridge", "--at", "12 C"), 3, "never on the counter"),
        (("stew", "1 kg", "--in", "cold water", "--at", "40 C"), 3, "never on the counter"),
        (("stew", "1 kg", "--in", "fridge", "--at", "-2 C"), 3, "hardly thaws"),
        (("stew", "1 kg", "--in", "the bath"), 2, "no place to thaw"),
        (("stew", "1 kg", "--at", "200 C"), 2, "No place"),
        (("stew", "1 kg", "--meal", "Sunday"), 2, "not a day and hour"),
        (("stew", "1 kg", "--meal", "2027-04-12"), 2, "an hour"),
        (("stew", "1 kg", "--meal", "0001-01-01 00:00"), 2, "no year"),
        (("stew", "1 kg", "--meal", "2027-04-12 18:30", "--cooking", "99999 h"), 2, "--cooking"),
        (("stew", "1 kg", "--cooking", "long"), 2, "not a time"),
        (("stew", "1 kg", "--thick", "0 cm"), 2, "not a length"),
    ],
)
def test_thaw_says_what_is_wrong(run: Any, words: tuple[str, ...], code: int, part: str) -> None:
    found, out, err = run("thaw", *words)
    assert (found, out) == (code, "")
    assert part in err


def test_refusals_for_machines(run: Any) -> None:
    code, out, err = run("thaw", "stew", "1 kg", "--in", "counter", "--json")
    assert code == 3
    assert json.loads(out) == {"refused": True, "reason": err.removeprefix("stillroom: ").strip()}


def test_wait_tells_the_cold_side(run: Any) -> None:
    code, out, err = run("wait", "tomato", "--jar", "pint", "--for", "20 min", "--room", "18 C")
    assert (code, err) == (0, "")
    assert "After 20 min in the kitchen: " in out
    assert "go by the shorter" in out
    assert "82 °C (180 °F) for hot pack" in out  # R072
    short, long = (json.loads(run("wait", "tomato", "--jar", jar, "--json")[1]) for jar in ("half-pint", "quart"))
    assert short["after"]["low"] < long["after"]["low"]
    assert short["until_mark"]["unit"] == "min"


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (("tomato", "--jar", "bucket"), 2, "not a jar"),
        (("tomato", "--jar", "5 gallon"), 3, "no tested process for tomato packed hot"),
        (("pumpkin puree", "--jar", "pint"), 3, "no tested process"),
        (("tomato", "--jar", "pint", "--for", "3 h"), 3, "120 min at the most"),
        (("tomato", "--jar", "pint", "--filled", "300 C"), 2, "Food has"),
        (("tomato", "--jar", "pint", "--room", "-10 C"), 2, "A kitchen has"),
        (("tomato", "--jar", "pint", "--mark", "900 C"), 2, "A mark"),
        (("tomato", "--jar", "pint", "--for", "soon"), 2, "not a time"),
    ],
)
def test_wait_says_what_is_wrong(run: Any, words: tuple[str, ...], code: int, part: str) -> None:
    found, out, err = run("wait", *words)
    assert (found, out) == (code, "")
    assert part in err
