"""A household reads its own measures first, with the printed figure in brackets; nothing goes to the unsafe side."""

import csv
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from django.test import Client

import stillroom
from stillroom.web.kitchen import measures
from stillroom.web.kitchen.house_units import in_house_units
from stillroom.web.kitchen.models import US, Household


@pytest.mark.parametrize(
    "text, metric",  # exact: 1 in = 25.4 mm, 1 lb = 453.59237 g, 1 US gallon = 3.785411784 l (NIST Handbook 44, App. C)
    [
        ("leaving 1 in (25 mm) of headspace", "leaving 25 mm (1 in) of headspace"),
        ("2–3 in (5–8 cm) of hot water", "5–8 cm (2–3 in) of hot water"),
        ("Chill to 40 F (4 C)", "Chill to 4 °C (40 °F)"),
        ("water at 180 °F (82 °C); jars in", "water at 82 °C (180 °F); jars in"),
        ("21 °C (70 °F) within 2 h", "21 °C (70 °F) within 2 h"),
        ("6 lb as bought gives about 0.5 lb dried", "2.7 kg (6 lb) as bought gives about 0.23 kg (0.5 lb) dried"),
        ("first (1/2 in slices: 3 min)", "first (13 mm (1/2 in) slices: 3 min)"),
        ("2 tbsp per quart", "2 tbsp (30 ml) per quart (946 ml)"),
        ("0.5 tsp", "0.5 tsp (2.5 ml)"),
        ("1/4 tsp per pint or 1/2 tsp", "1/4 tsp (1.25 ml) per pint (473 ml) or 1/2 tsp (2.5 ml)"),
        ("3 1/2 cups vinegar", "3 1/2 cups (830 ml) vinegar"),
        ("2 1/2 lb okra", "1.1 kg (2 1/2 lb) okra"),
        ("leave 1/2 in (13 mm); 1 1/4 in.", "leave 13 mm (1/2 in); 32 mm (1 1/4 in)."),
        ("a pig of 250 lb", "a pig of 113 kg (250 lb)"),
        ("at 10 lb pressure, 10/15 lb", "at 10 lb pressure, 10/15 lb"),
        ("1–2 tsp", "1–2 tsp"),
        ("3 g to a gallon of the water", "3 g to a gallon (3.8 L) of the water"),
        ("the quart (946 ml). Use pint or quart jars", "the quart (946 ml). Use pint (473 ml) or quart (946 ml) jars"),
        ("Half-pint jars", "Half-pint (237 ml) jars"),
        ("12.5 psi (86 kPa)", "12.5 psi (86 kPa)"),  # in the unit of the gauge
        ("wait 10 min, open the lid; lift 7 jars in order", "wait 10 min, open the lid; lift 7 jars in order"),
        ("1-inch pieces, 7-quart canner", "1-inch pieces, 7-quart canner"),
    ],
)
def test_metric(text: str, metric: str) -> None:
    assert in_house_units(text, is_us=False) == metric


def test_pounds_and_inches() -> None:
    assert in_house_units("74 °C (165 °F), 1 in (25 mm), quart", is_us=True) == "165 °F (74 °C), 1 in (25 mm), quart"


@pytest.mark.parametrize("spoons, exact_ml", [(1, 14.787), (2, 29.574), (3, 44.360), (4, 59.147), (5, 73.934)])
def test_acid_is_never_told_as_less(spoons: int, exact_ml: float) -> None:
    """One US tablespoon is 14.787 ml (NIST Handbook 44, Appendix C)."""
    told = in_house_units(f"{spoons} tbsp", is_us=False)
    assert float(told.partition("(")[2].removesuffix(" ml)")) >= exact_ml


def figure(words: list[str]) -> float:
    """The number that a text ends in, "3 1/2" too, read by words and not by a pattern."""
    whole = float(Fraction(words[-1]))
    if "/" in words[-1] and len(words) > 1 and words[-2].isdigit():
        whole += int(words[-2])
    return whole


ML = {"tsp": 4.928922, "tbsp": 14.786765, "cup": 236.588237}  # NIST Handbook 44, Appendix C


def test_no_spoon_or_cup_of_all_our_texts_is_told_as_less_or_much_more() -> None:
    told = 0
    for text in texts():
        shown = in_house_units(text, is_us=False)
        for before, after in pairwise(shown.split(" (")):
            *words, unit = before.split() or [""]
            exact_ml = ML.get(unit.removesuffix("s"))
            ml, is_ml, _ = after.partition(" ml)")
            if exact_ml is None or not is_ml:
                continue
            if words[-1] == "US":
                words.pop()
            ratio = float(ml) / (figure(words) * exact_ml)
            assert 1 <= ratio < 1.06, shown
            told += 1
    assert told > 20


def texts() -> Iterator[str]:
    """Every cell of the tables and every line of the recipes."""
    package = Path(stillroom.__file__).parent
    for path in package.rglob("data/*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            yield from (cell for row in csv.reader(file) for cell in row)
    for path in package.rglob("data/*.yaml"):
        yield from path.read_text(encoding="utf-8").splitlines()


def test_no_pressure_becomes_a_mass() -> None:
    said = [text for text in texts() if "pressure" in text and " lb" in text]
    assert all(" kg (" not in in_house_units(text, is_us=False) for text in said)


def test_a_height_is_never_shown_lower_than_it_is(household: Household) -> None:
    """304.85 m is 1,000.2 ft: above the first band, and it stays there when the field is sent again as it is shown."""
    assert measures.altitude(household)(304.85) == "305 m"
    household.units = US
    assert measures.altitude(household)(304.85) == "1001 ft"
    assert measures.altitude(household)(2264 * 0.3048) == "2264 ft"


def test_the_card_of_a_metric_household(browser: Client, household: Household) -> None:
    fields = {"food": "beef", "form": "ground or chopped", "pack": "hot", "jar": "quart"}
    text = browser.get("/bench/card", fields).content.decode()
    assert "quart (946 ml) jar" in text
    assert "25 mm (1 in)" in text
    household.units = US
    household.save()
    assert "1 in (25 mm)" in browser.get("/bench/card", fields).content.decode()


def test_the_jars_of_the_kitchen_say_what_they_hold(browser: Client) -> None:
    assert '<span class="small">473 ml</span>' in browser.get("/kitchen/jars").content.decode()
    assert '<span class="small">473 ml; 56 lids</span>' in browser.get("/kitchen/").content.decode()
