"""Screening: how jars are heated and packed, the acid they need, the herbs they bear, foods only the method names."""

from __future__ import annotations

import pytest

from stillroom.errors import SourceError
from stillroom.model.process import CannerKind, JarSize, ProcessRequest
from stillroom.process.ingredient_lines import read_line
from stillroom.process.packing import pack_named
from stillroom.process.screen import Screening, of_tested_recipe, screen

BEANS = ["10 lb green beans", "salt", "water"]
ACID = "2 tbsp bottled lemon juice per quart"


def rules(answer: Screening) -> set[str]:
    return {finding.rule for finding in answer.findings}


@pytest.mark.parametrize(
    "method",
    [
        "Boil jars in a water bath for 3 hours.",
        "Process in the oven at 250 F for an hour.",
        "steam canner 90 min",
        "boil jars for 3 hours",
        "Process in boiling water for 3 hours.",
        "Boil 3 hours in the jars.",
        "Put into jars and boil. Jars boil for four hours.",
        "Oven canning, two hours.",
        "Pressure can 25 minutes, or use a water bath for 3 hours.",
        "Use a boiling-water canner.",
        "Submerge the jars, keep at a rolling boil three hours; a pressure canner also works.",
    ],
)
@pytest.mark.parametrize("lines", [BEANS, ["3 lb venison, cubed", "1 tsp salt"], ["5 lb spinach"]])
def test_low_acid_food_that_is_not_heated_under_pressure_is_refused(lines: list[str], method: str) -> None:
    """R070: low-acid food in boiling water is never safe; an oven and steam get no hotter in the jar."""
    answer = screen(lines, method)
    assert "needs pressure" in rules(answer)
    assert "only under pressure" in answer.reason
    assert not any("day the jar is opened" in way.what for way in answer.possible)
    assert any("only under pressure" in way.what for way in answer.possible)


@pytest.mark.parametrize(
    "method",
    [
        "Pressure can 25 minutes.",
        "Process at 11 psi.",
        "Process 25 minutes at 10 pounds pressure.",
        "Never use a water bath; pressure can.",
        "Boil the empty jars 10 minutes, fill, cover with boiling water, pressure can.",
        "Fill the jars with beans, cover with boiling water, process in a dial-gauge canner.",
        "One whole canner cycle for this load, as the process card says: time, pressure, venting and cooling.",
    ],
)
def test_low_acid_food_under_pressure_is_covered(method: str) -> None:
    answer = screen(BEANS, method)
    assert (rules(answer), answer.lacks, answer.is_tested) == (set(), (), True)
    assert "only under pressure" in answer.reason
    assert answer.food == "green bean"


@pytest.mark.parametrize(
    "method",
    ["", "Fill the jars.", "No pressure canner needed.", "Pressure canning is not needed.", "Pressure: see the card."],
)
def test_low_acid_food_without_a_word_of_pressure_is_not_yet_covered(method: str) -> None:
    answer = screen(BEANS, method)
    assert answer.match is not None
    assert not answer.is_tested
    assert answer.reason.startswith("AS WRITTEN IT LACKS PRESSURE")


def test_acid_food_is_covered_in_boiling_water() -> None:
    answer = screen(["5 lb rhubarb", "2 cups sugar"], "Water bath pints 15 min.")
    assert answer.is_tested
    assert "in boiling water or under pressure" in answer.reason
    salsa = ["5 lb tomatoes", "2 lb chile peppers", "1 lb onions", "1 cup vinegar (5%)"]
    assert "covers this in boiling water, if" in screen(salsa, "Water bath.", name="Salsa").reason


@pytest.mark.parametrize(
    ("line", "method"),
    [
        ("5 lb ground beef", "Pack raw ground beef in jars, no liquid, pressure can 90 min"),
        ("5 lb potatoes", "Pack dry, no water, pressure can 40 min"),
        ("1 whole chicken", "Can the chicken whole, pressure can 75 min."),
        ("3 lb venison", "Raw pack ground venison, pressure can."),
        ("5 lb ground venison", "Raw pack, pressure can."),
        ("5 lb potatoes", "Raw pack, pressure can."),
        ("5 lb sweet potatoes", "Dry pack, pressure can."),
        ("5 lb potatoes, grated", "Pressure can."),
        ("5 lb potatoes", "Cut the potatoes in wedges, pressure can."),
        ("5 lb potatoes, sliced", "Pressure can."),
        ("5 lb ground chicken", "Pressure can."),
        ("3 lb beef stewing meat", "Hot pack without liquid, pressure can."),
        ("10 lb potatoes", "Cut as for French fries, pressure can."),
        ("5 lb ground beef", "Press the meatloaf into jars, pressure can."),
    ],
)
def test_a_pack_or_form_that_was_not_tested_is_refused(line: str, method: str) -> None:
    """Guides 4 and 5: ground meat, potatoes and sweet potatoes are packed hot and covered; birds in pieces."""
    answer = screen([line], method)
    assert not answer.is_tested
    assert rules(answer) & {"untested packing", "no tested process"}


@pytest.mark.parametrize(
    ("line", "method"),
    [
        ("3 lb beef stewing meat", "Raw pack, add no liquid, pressure can."),
        ("3 lb beef stewing meat", "Hot pack, cover with broth, pressure can."),
        ("5 lb ground beef", "Hot pack, pressure can."),
        ("5 lb potatoes", "Leave small potatoes whole, pressure can."),
        ("1 whole chicken", "Cut in pieces, never leave it whole, pressure can."),
        ("10 lb carrots, sliced", "Add 1 tsp ground ginger; pressure can."),
        ("3 lb beef stewing meat, sliced", "Pressure can."),
        ("1 whole chicken", "Cut up the bird, put whole peppercorns on top, pressure can."),
        ("10 lb green beans", "Do not raw pack. Pressure can."),
    ],
)
def test_a_tested_pack_and_form_are_covered(line: str, method: str) -> None:
    answer = screen([line], method)
    assert (rules(answer), answer.is_tested) == (set(), True)


def test_a_whole_bird_in_the_name_is_no_tested_form() -> None:
    assert rules(screen(["1 whole chicken"], "Pressure can.", name="Whole chicken in jars")) == {"untested packing"}
    assert screen(["5 lb chicken thighs"], "Whole peppercorns in the jar, pressure can.").is_tested


def test_tomatoes_without_liquid_are_a_tested_form() -> None:
    answer = screen(["20 lb tomatoes", ACID], "Raw pack with no added liquid, water bath.")
    assert answer.is_tested
    assert answer.match is not None
    assert answer.match.pack == "raw"


@pytest.mark.parametrize(
    ("text", "pack"), [("Raw-pack.", "raw"), ("Packed hot.", "hot"), ("Raw pack or hot pack.", None), ("Fill.", None)]
)
def test_the_pack_that_a_text_names(text: str, pack: str | None) -> None:
    assert pack_named(text) == pack


def test_the_form_and_pack_named_are_looked_up() -> None:
    match = screen(["5 lb ground beef"], "Hot pack, pressure can.").match
    assert match is not None
    assert (match.form, match.pack) == ("ground or chopped", "hot")


@pytest.mark.parametrize(
    ("lines", "method", "says"),
    [
        (["20 lb tomatoes", "salt"], "water bath quarts 45 minutes", "LACKS ACID"),
        (["20 lb tomatoes", "salt"], "Wipe the rims with vinegar, water bath.", "LACKS ACID"),
        (["20 lb tomatoes", "salt"], "Never add bottled lemon juice. Water bath.", "LACKS ACID"),
        (["20 lb tomatoes", "2 tbsp lemon juice per quart"], "Water bath.", "LACKS ACID"),
        (["20 lb tomatoes", "1 tsp bottled lemon juice"], "Water bath.", "TOO LITTLE ACID"),
        (["20 lb tomatoes", "1 cup vinegar, 4 %"], "Water bath.", "LACKS ACID"),
        (["5 lb figs", "sugar"], "Water bath.", "LACKS ACID"),
        (["5 lb asian pears", "2 cups sugar"], "Water bath.", "LACKS ACID"),
        (["20 lb tomatoes", "14 tbsp bottled lemon juice"], "Water bath.", ""),
        (["20 lb tomatoes", ACID], "Water bath.", ""),
        (["20 lb tomatoes", "bottled lemon juice"], "Water bath.", ""),
        (["some tomatoes", "2 tbsp bottled lemon juice"], "Water bath.", ""),
        (["20 lb tomatoes", "2 tbsp bottled lemon juice"], "Put bottled lemon juice into each jar, water bath.", ""),
        (["20 lb tomatoes"], "Add 1/2 tsp citric acid to each quart, water bath.", ""),
        (["20 lb tomatoes", "4 tbsp vinegar per quart"], "Water bath.", ""),
        (["5 lb rhubarb"], "Water bath.", ""),
    ],
)
def test_food_that_needs_acid_is_not_covered_without(lines: list[str], method: str, says: str) -> None:
    """Acid notes: 2 tbsp bottled juice, 1/2 tsp citric acid or 4 tbsp vinegar per quart; 3 lb tomatoes a quart."""
    answer = screen(lines, method)
    assert answer.match is not None
    assert answer.is_tested is not bool(says)
    assert answer.reason.startswith("AS WRITTEN IT") is bool(says)
    assert says in answer.reason


@pytest.mark.parametrize(
    ("line", "is_too_much"),
    [
        ("10 cups fresh basil", True),
        ("2 lb parsley", True),
        ("1 cup black pepper", True),
        ("3 bunches of parsley", True),
        ("2 cups onion powder", True),
        ("1 tsp black pepper", False),
        ("2 bay leaves", False),
        ("1 tbsp fresh basil", False),
        ("parsley", False),
        ("0/0 sprigs parsley", False),
        ("1 lb salt", False),
    ],
)
def test_herbs_and_spices_have_a_ceiling(line: str, is_too_much: bool) -> None:
    """3 % fresh, 2 % dry by weight: common practice, no source."""
    answer = screen(["2 lb tomatoes", ACID, line], "Water bath 40 min.")
    assert rules(answer) == ({"too much seasoning"} if is_too_much else set())


@pytest.mark.parametrize(
    ("line", "is_too_much"), [("1/2 cup fresh basil", True), ("2 tbsp fresh basil", False), ("50 g chili powder", True)]
)
def test_where_the_food_cannot_be_weighed_spoons_are_the_ceiling(line: str, is_too_much: bool) -> None:
    answer = screen(["some tomatoes", ACID, line], "Water bath 40 min.")
    assert rules(answer) == ({"too much seasoning"} if is_too_much else set())


@pytest.mark.parametrize(
    ("method", "rule"),
    [
        ("Cook with 2 cups of flour and a pound of butter stirred in, water bath", "thickener"),
        ("Cook with 2 cups of flour and a pound of butter stirred in, water bath", "dairy"),
        ("Mix in some bacon.", "cured meat"),
        ("Put in an egg.", "egg"),
        ("Add 3 chopped onions.", "not in the list"),
        ("Simmer with 2 lb carrots.", "not in the list"),
        ("Add a clove of garlic to each jar.", "not in the list"),
    ],
)
def test_food_that_only_the_method_names_is_screened(method: str, rule: str) -> None:
    assert rule in rules(screen(["20 lb tomatoes", ACID], method))


@pytest.mark.parametrize(
    "method",
    [
        "Skim off the fat.",
        "Cut out the core with a butter knife.",
        "Serve with butter.",
        "Add butter when the jar is opened.",
        "Boil 5 minutes, ladle the tomatoes into 7 jars.",
        "Add 1 tsp salt and 2 cups water.",
        "No flour, no butter.",
        "Peel 3 lb tomatoes.",
    ],
)
def test_words_of_the_method_that_put_nothing_in(method: str) -> None:
    assert rules(screen(["20 lb tomatoes", ACID], method)) == set()


def test_a_dish_is_frozen_by_its_own_keeping_time() -> None:
    """FSIS keeping table: green beans 8 months, not the 3 of a cooked dish."""
    ways = [way.what for way in screen(BEANS, "Water bath.").possible]
    assert any(way.startswith("Freeze it: green bean keeps") for way in ways)
    assert not any("cooked dish" in way for way in ways)


def test_the_main_food_cannot_be_left_out() -> None:
    answer = screen(["10 bananas"], "Water bath.")
    assert "when the jar is opened" not in answer.reason


def test_apple_butter_is_no_low_acid_puree() -> None:
    lines = ["8 lb apples", "2 cups cider", "2 cups vinegar", "2 1/4 cups sugar"]
    answer = screen(lines, "Water bath 5 min.", name="Apple butter")
    assert "low-acid puree" not in rules(answer)
    assert any("tested process exists for apple butter" in way.what for way in answer.possible)


def test_salsa_that_cannot_be_weighed_names_the_line() -> None:
    lines = ["5 lb tomatoes", "2 lb chile peppers", "some onions", "1 splash vinegar"]
    finding = screen(lines, "", name="Salsa").findings[0]
    assert (finding.rule, finding.ingredient) == ("proportions", "some onions; 1 splash vinegar")


def test_pinto_and_choice_are_understood() -> None:
    assert read_line("3 cups dried pinto or red kidney beans").unread == ()
    assert read_line("1 cup chopped peppers of your choice").unread == ()


def test_our_own_recipe_stands_on_its_row() -> None:
    asked = ProcessRequest("beef", "ground or chopped", "hot", (CannerKind.DIAL,), (JarSize.PINT,), 900.0, "")
    answer = of_tested_recipe(asked, ("Hot pack only.",))
    assert answer.is_tested
    assert "Hot pack only." in answer.reason
    with pytest.raises(SourceError, match="no tested process"):
        of_tested_recipe(ProcessRequest("beef", "whole", "hot", (), (), 900.0, ""), ())
