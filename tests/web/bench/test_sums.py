"""The sums of the bench: worked examples from outside, refusals, and one sentence beside each wrong field."""

import re
from html import unescape

import pytest
from django.test import Client

from stillroom.web.bench.sums.catalogue import SUMS

CURE = {"product": "whole muscle", "method": "dry", "meat": "4 kg", "mix": "6.25%", "ppm": "120", "salt": "2.5%"}
# Each sum with an answer that was worked out by hand or is printed, and where.
ANSWERS = [
    # FSIS Directive 7620.3: g nitrite = ppm × g meat / 10⁶ = 0.48; ÷ 0.0625 = 7.68 g of mix, rounded down to 7.6
    ("cure", CURE, ("7.6 g", "exactly 7.68 g", "120 ppm of at most")),
    # 3.5 % of 2,000 g
    ("brine", {"water": "2 l", "salt": "3.5%", "basis": "of the water"}, ("70 g",)),
    # 3.5 % of the brine: 2000 × 0.035 / 0.965 = 72.5
    ("brine", {"water": "2 l", "salt": "3.5%", "basis": "of the brine"}, ("72.5 g",)),
    # Univ. of Missouri GH1456: 2 tbsp of lemon juice or ½ tsp of citric acid in each quart of tomatoes
    (
        "acid",
        {"food": "tomatoes", "quarts": "7"},
        ("2 tbsp (30 ml) per quart", "0.5 tsp (2.5 ml) per quart", "bottled lemon juice"),
    ),
    # 1 litre of 5 % from 25 %: 200 ml and 800 ml of water
    ("vinegar", {"volume": "1 l", "stronger": "25%"}, ("200 ml", "800 ml", "5.00% acid")),
    # USDA Complete Guide, table 2-5, light, 7 quarts: 9 cups of water, 2¼ cups of sugar; 9 × 236.588 = 2129 ml
    ("syrup", {"kind": "light", "quarts": "7"}, ("2129 ml", "9 US cups", "printed as 20%")),
    # 1 kg of 35 %: 350 g of sugar, 650 ml of water
    ("syrup", {"kind": "", "strength": "35%", "total": "1 kg"}, ("350 g", "650 ml")),
    # Michigan State Univ. 01600890: 216 °F at 2,000 ft
    ("gel", {"altitude": "2000 ft"}, ("102.2 °C (216 °F)",)),
    # 8 °F above boiling water: 97 °C is 206.6 °F, so 214.6 °F or 101.4 °C
    ("gel", {"boiling": "97 C"}, ("101.4 °C (215 °F)",)),
    # Baker's percentages: 1,000 g flour, 650 water, 20 salt, 5 yeast
    ("dough", {"flour": "1 kg"}, ("1.675 kg", "650 g", "20 g", "5 g")),
    # Rule R223's sum: 3 × 76 − (68 + 70 + 26) = 64 °F for the water, all in °F
    (
        "dough",
        {"flour": "1 kg", "dough_temp": "76 F", "flour_temp": "68 F", "room": "70 F", "friction": "26 F"},
        ("18 °C (64 °F)",),
    ),
    ("dough", {"flour": "1 kg", "known_time": "2 h", "known_temp": "24 C", "dough_temp": "24 C"}, ("after mixing",)),
    # Rule R222: 3 × 77 − (68 + 70 + 65) = 28 °F
    (
        "dough",
        {"flour": "1 kg", "reached": "77 F", "flour_temp": "68 F", "room": "70 F", "water_was": "65 F"},
        ("28.0 °F",),
    ),
    # 500 ml of 5 % and 500 ml of water: 25 g/l; with 10 g of citric acid in that litre
    (
        "liquid",
        {"vinegar": "500 ml", "water": "500 ml", "citric": "10 g"},
        ("1000 ml", "25 g", "10 g", "measure with a calibrated meter"),
    ),
    ("loads", {"jar": "quart", "jars": "20"}, ("in one load", "loads")),
    ("cooling", {"food": "stew", "amount": "8 l", "pot": "28 cm"}, ("21 °C", "within 2 h", "Shallow pans")),
    (
        "cooling",
        {"food": "stew", "amount": "8 l", "ice_in": "1 kg"}
        | {"was": "80 C", "later": "60 C", "after": "20 min", "around": "0 C"},
        ("With the ice stirred in it has", "At the pace of both readings"),
    ),
    ("freezing", {"food": "pork", "amount": "23 kg", "thick": "3 cm"}, ("packs", "put in over")),
    (
        "thawing",
        {"food": "mince", "amount": "500 g", "thick": "3 cm", "meal": "2027-04-12T18:30"},
        ("take it out by", "cook from Monday 12 April 18:30"),
    ),
    ("waiting", {"food": "tomatoes", "minutes": "15 min"}, ("after 15 min", "goes into the canner hot")),
    ("drying", {"food": "apples", "thick": "6 mm", "amount": "2 kg"}, ("hours", "estimate", "done at")),
    ("drying", {"food": "venison", "thick": "6 mm"}, ("Heat it through first", "no hours are worked out")),
]
# Each sum, the field that is wrong, what stands in it, and what is said.
WRONG = [
    ("cure", CURE, "meat", "4 cups", "is not a weight"),
    ("cure", CURE, "mix", "0.0625", "write it with its sign"),
    ("cure", CURE, "ppm", "", "Write the nitrite wanted"),
    ("cure", CURE | {"mix_amount": "8 g"}, "ppm", "120", "not both"),
    ("brine", {"salt": "3.5%"}, "water", "some", "can't be read"),
    ("acid", {"quarts": "3"}, "food", "xyzzy", "No food called"),
    ("acid", {"food": "tomatoes"}, "quarts", "", "Write how many jars"),
    ("acid", {"food": "tomatoes"}, "quarts", "-2", "greater than or equal to 0"),
    ("vinegar", {"volume": "1 l"}, "stronger", "strong", "is not a percentage"),
    ("syrup", {"quarts": "2"}, "altitude", "690", "with its unit"),
    ("syrup", {"kind": "light", "pints": ""}, "total", "1 kg", "write how many"),
    ("gel", {}, "boiling", "97", "with its unit"),
    ("dough", {"flour": "1 kg"}, "total", "2 kg", "not both"),
    ("dough", {"flour": "1 kg"}, "stands", "in the sun", "is not a place"),
    ("dough", {"flour": "1 kg", "begun": "20:30"}, "want", "7", "is not an hour"),
    ("loads", {}, "jar", "bucket", "is not a jar"),
    ("cooling", {"food": "stew"}, "amount", "lots", "can't be read"),
    ("cooling", {"food": "stew", "amount": "8 l"}, "filled", "10 C", "Cooling begins between"),
    ("cooling", {"food": "stew", "amount": "8 l"}, "pan", "3 x 4 cm", "sides of 10 cm"),
    ("cooling", {"food": "stew", "amount": "8 l", "was": "80 C"}, "later", "", "Two readings need both"),
    ("cooling", {"food": "stew", "amount": "2 kg"}, "ice_in", "3 kg", "more ice than food"),
    ("liquid", {"citric": "5 g"}, "water", "", "An acid alone has no pH"),
    ("dough", {"flour": "1 kg", "reached": "77 F"}, "water_was", "", "is learned from the water"),
    ("freezing", {"food": "pork", "amount": "9 kg", "thick": "3 cm"}, "bag", "20 x 25 cm", "not both"),
    ("thawing", {"food": "mince", "amount": "500 g"}, "cooking", "2 days", "is not a time"),
    ("waiting", {"food": "tomatoes"}, "jar", "vat", "is not a jar"),
    ("drying", {"thick": "6 mm"}, "food", "xyzzy", "No food called"),
    ("drying", {"food": "apples", "thick": "6 mm"}, "now", "600 g", "says nothing alone"),
]
REFUSED = [
    ("cure", CURE | {"ppm": "400"}, "above the limit"),
    ("cure", CURE | {"mix": "60%"}, "never weigh out pure nitrite"),
    ("acid", {"food": "green beans", "quarts": "3"}, "under pressure"),
    ("vinegar", {"volume": "1 l", "stronger": "25%", "wanted": "4%"}, "not used for preserving"),
    ("vinegar", {"volume": "1 l", "stronger": "4%"}, "weaker than the 5%"),
    ("freezing", {"food": "pork", "amount": "2 kg", "start": "60 C"}, "not put into a freezer"),
    ("waiting", {"food": "tomatoes", "minutes": "3 h"}, "are not canned"),
    ("waiting", {"food": "tomatoes", "jar": "5 gallon"}, "no tested process for tomato packed hot"),
]


def page(browser: Client, key: str, fields: dict[str, str], status: int = 200) -> str:
    answer = browser.get(f"/bench/sums/{key}", fields)
    text = " ".join(unescape(answer.content.decode()).split())
    assert answer.status_code == status, text[text.find("<main") :][:3000]
    return text


@pytest.mark.parametrize("key, asked, words", ANSWERS)
def test_it_works(browser: Client, key: str, asked: dict[str, str], words: tuple[str, ...]) -> None:
    text = page(browser, key, asked)
    assert [word for word in words if word not in text] == []
    assert "Source:" in text


@pytest.mark.parametrize("one", SUMS, ids=lambda one: one.key)
def test_nothing_asked_is_no_mistake_and_every_sum_is_tried(browser: Client, one) -> None:
    text = page(browser, one.key, {})
    assert "▲" not in text
    assert 'class="wrong"' not in text
    assert one.key in {key for key, _, _ in ANSWERS}
    assert one.key in {key for key, *_ in WRONG}
    assert f"/bench/sums/{one.key}" in browser.get("/bench/").content.decode()


@pytest.mark.parametrize("key, asked, field, value, sentence", WRONG)
def test_one_sentence_beside_the_field_and_what_was_typed_is_kept(
    browser: Client, key: str, asked: dict[str, str], field: str, value: str, sentence: str
) -> None:
    text = page(browser, key, asked | {field: value}, status=422)
    assert sentence in text
    assert f'name="{field}"' in text
    if value:
        assert f'value="{value}"' in text
    assert "Source:" not in text


@pytest.mark.parametrize("key, asked, words", REFUSED)
def test_refused_for_safety(browser: Client, key: str, asked: dict[str, str], words: str) -> None:
    text = page(browser, key, asked)
    assert "refused for safety" in text
    assert words in text
    assert "Source:" not in text


def test_the_kitchen_is_filled_in(browser: Client) -> None:
    """The invented kitchen: see examples/demo/kitchen.yaml."""
    assert 'value="690 m"' in page(browser, "syrup", {})
    assert 'name="room" value="' in page(browser, "dough", {})


def test_the_ph_of_household_vinegar(browser: Client) -> None:
    """Acetic acid, pKa 4.76 (handbooks): 50 g/l is 0.833 mol/l, pH = (4.76 − log 0.833) / 2 = 2.42."""
    found = re.search(r"pH ([\d.]+) to ([\d.]+)", page(browser, "liquid", {"vinegar": "500 ml", "strength": "5%"}))
    assert found
    assert float(found[1]) <= 2.42 <= float(found[2])


def test_a_hydrometer_is_read(browser: Client) -> None:
    """19 °Bé is SG 145/126; sugar by the cubic of the ASBC (−616.868 + 1111.14 SG − 630.272 SG² + 135.997 SG³)."""
    text = page(browser, "syrup", {"kind": "", "strength": "19 Be", "total": "1 kg"})
    found = re.search(r"([\d.]+)% sugar by weight", text)
    assert found
    gravity = 145 / 126
    cubic = -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3
    assert float(found[1]) == pytest.approx(cubic, abs=0.15)


def test_an_unknown_sum(browser: Client) -> None:
    assert browser.get("/bench/sums/nothing").status_code == 404
