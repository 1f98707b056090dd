"""Screening recipes: each forbidden ingredient is named with its rule; what is covered is covered by a printed row."""

from __future__ import annotations

import csv

import pytest

from stillroom.process.ingredient_lines import read_line
from stillroom.process.screen import Screening, screen
from stillroom.process.screening_rules import SCREENING_CSV
from stillroom.process.tested_recipes import match_salsa

SOUP = ["2 lb beef stewing meat, cubed", "2 lb potatoes, peeled and cubed", "1 lb carrots, sliced", "6 cups beef stock"]
SALSA = ["5 lb tomatoes", "2 lb chile peppers, chopped", "1 lb onions, chopped", "1 cup vinegar", "1 tbsp salt"]


def rules(answer: Screening) -> set[str]:
    return {finding.rule for finding in answer.findings}


def ingredients(answer: Screening) -> set[str]:
    return {finding.ingredient for finding in answer.findings}


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        ("1/4 cup flour", "thickener"),
        ("2 tbsp cornflour", "thickener"),
        ("2 tbsp cornstarch, stirred into cold water", "thickener"),
        ("1 cup heavy cream", "dairy"),
        ("2 cups milk", "dairy"),
        ("100 g butter", "dairy"),
        ("1 cup grated cheddar", "dairy"),
        ("200 g egg noodles", "pasta or noodles"),
        ("1 lb macaroni", "pasta or noodles"),
        ("1 cup white rice", "grain or flour"),
        ("1 cup pearl barley", "grain or flour"),
        ("12 dumplings", "pasta or noodles"),
        ("4 slices of bread, torn", "bread or dough"),
        ("2 eggs", "egg"),
        ("1/4 cup olive oil", "oil or fat"),
        ("100 g lard", "oil or fat"),
        ("6 slices bacon", "cured meat"),
        ("1 smoked ham hock", "cured meat"),
        ("1 lb wild mushrooms", "wild mushroom"),
        ("1 head cabbage", "no tested process"),
        ("1 lb broccoli", "no tested process"),
        ("1 onion, chopped", "no tested process"),
        ("1 cup zorblax", "not understood"),
        ("1 cup walnuts", "nut or seed"),
        ("1 cup red wine", "no tested process"),
        ("1 tsp baking soda", "acid spoiler"),
        ("2 tbsp tomato paste", "low-acid puree"),
        ("1 cup vinegar", "pickle of unknown acidity"),
    ],
)
def test_one_wrong_ingredient_is_named_and_the_base_is_offered(line: str, rule: str) -> None:
    answer = screen([*SOUP, line], "Boil together 5 minutes.")
    assert not answer.is_tested
    assert rules(answer) == {rule}
    assert ingredients(answer) == {line}
    assert line in answer.reason
    base = [way.what for way in answer.possible if way.what.startswith("Can the base")]
    assert len(base) == 1
    assert "soup" in base[0]
    assert line in base[0]
    assert any(way.what.startswith("Freeze it") for way in answer.possible)


def test_a_soup_of_ingredients_with_their_own_process_is_covered() -> None:
    answer = screen(SOUP, "Boil 5 minutes, pressure can.")
    assert answer.match is not None
    assert (answer.match.process_food, answer.match.form) == ("soup", "vegetable, dried bean or pea, meat or poultry")
    assert "half solids, half liquid" in answer.reason
    assert answer.is_tested


def test_seafood_in_it_takes_the_seafood_row() -> None:
    answer = screen(["1 lb clams", "1 lb potatoes", "1 quart water"], "Boil 5 minutes.")
    assert answer.match is not None
    assert answer.match.form == "containing seafood"


@pytest.mark.parametrize(
    ("lines", "food"),
    [
        (["4 lb green beans", "1 tsp salt"], "snap beans"),
        (["3 lb beef stewing meat", "beef broth"], "beef"),
        (["10 lb tomatoes", "2 tbsp bottled lemon juice"], "tomatoes"),
        (["4 lb peaches", "2 cups sugar", "4 cups water"], "peaches"),
        (["4 lb beef bones", "water", "1 bay leaf"], "beef stock"),
    ],
)
def test_one_food_alone_is_covered_by_its_own_rows(lines: list[str], food: str) -> None:
    answer = screen(lines, "")
    assert answer.match is not None
    assert answer.match.process_food == food


def test_acid_is_a_condition_of_tomatoes() -> None:
    match = screen(["10 lb tomatoes"], "").match
    assert match is not None
    assert any("lemon juice 1 tbsp per pint" in condition for condition in match.conditions)


def test_fruit_in_meat_broth_is_no_tested_mixture() -> None:
    assert rules(screen(["4 lb peaches", "2 cups beef broth"], "")) == {"no tested mixture"}


def test_two_fruits_are_no_tested_mixture() -> None:
    answer = screen(["2 lb peaches", "2 lb plums"], "Heat.")
    assert rules(answer) == {"no tested mixture"}
    assert "each by itself" in answer.reason


@pytest.mark.parametrize(
    ("lines", "food"),
    [
        (["1 lb carrots", "1 lb corn", "1 lb green beans", "water"], "mixed vegetables"),
        (["1 lb carrots", "1 lb corn", "1 lb green beans", "1 lb okra", "1 lb zucchini"], "mixed vegetables"),
        (["1 lb carrots", "1 lb corn", "1 lb zucchini"], None),
        (["1 lb carrots", "1 lb spinach"], None),
        (["1 lb carrots", "1 lb corn", "1 lb green beans", "1 lb okra", "1 lb zucchini", "beef broth"], None),
        (["1 lb beef stewing meat", "1 lb carrots"], None),
    ],
)
def test_mixed_vegetables_by_the_rules_of_their_row(lines: list[str], food: str | None) -> None:
    """Leafy greens have no place in it; zucchini only beside the others; soup needs a liquid."""
    match = screen(lines, "").match
    assert (match.process_food if match else None) == food


def test_vegetables_called_a_soup_take_the_soup_row() -> None:
    match = screen(["1 lb carrots", "1 lb corn", "1 quart water"], "", name="Vegetable soup").match
    assert match is not None
    assert match.process_food == "soup"


@pytest.mark.parametrize(
    "method",
    ["Puree until smooth.", "Blend with a stick blender.", "Mash the cubes.", "Press through a sieve.", "Purée it."],
)
def test_a_puree_of_low_acid_food_is_refused_and_its_pieces_offered(method: str) -> None:
    answer = screen(["4 lb pumpkin, cubed"], method)
    assert rules(answer) == {"low-acid puree"}
    assert any("pumpkin or winter squash" in way.what for way in answer.possible)


@pytest.mark.parametrize(
    "method", ["Never mash the cubes.", "Can the cubes; mash when the jar is opened.", "Do not puree."]
)
def test_words_that_forbid_or_wait_for_the_opening_are_understood(method: str) -> None:
    assert screen(["4 lb pumpkin, cubed"], f"{method} Pressure can the jars.").is_tested


def test_a_puree_of_tomatoes_is_no_matter() -> None:
    lines = ["10 lb tomatoes", "2 tbsp bottled lemon juice per quart"]
    assert screen(lines, "Puree until smooth.").is_tested


@pytest.mark.parametrize(
    ("method", "rule"),
    [
        ("Thicken with a slurry.", "thickener"),
        ("Brown the meat in olive oil.", "oil or fat"),
        ("Stir in the cream.", "dairy"),
        ("Add the noodles.", "pasta or noodles"),
        ("Turn the jars upside down.", "no process at all"),
        ("Process in an electric pressure cooker.", "not a canner"),
        ("Put the jars into the oven for an hour.", "not a canner"),
    ],
)
def test_a_wrong_turn_in_the_method_is_named(method: str, rule: str) -> None:
    answer = screen(SOUP, method)
    assert rules(answer) == {rule}
    assert "The method or the name says" in answer.reason


def test_salsa_in_the_tested_proportions_is_covered() -> None:
    """Guide 3: 5 lb tomatoes, 2 lb chiles, 1 lb onions, 1 cup vinegar."""
    match = screen(SALSA, "Simmer.", name="Salsa").match
    assert match is not None
    assert (match.process_food, match.form) == ("salsa", "hot tomato and chile")


@pytest.mark.parametrize(
    ("changed", "by", "rule"),
    [
        (1, "3 lb chile peppers", "too many low-acid solids"),
        (2, "2 lb onions", "too many low-acid solids"),
        (3, "1/2 cup vinegar", "too little acid"),
        (3, "1 splash vinegar", "proportions"),
        (0, "a few tomatoes", "proportions"),
        (2, "1 lb onions and garlic", None),
    ],
)
def test_salsa_out_of_proportion_is_refused(changed: int, by: str, rule: str | None) -> None:
    lines = [*SALSA[:changed], by, *SALSA[changed + 1 :]]
    answer = screen(lines, "Simmer.", name="Salsa")
    assert rules(answer) == ({rule} if rule else set())


def test_salsa_without_acid_is_refused() -> None:
    lines = [line for line in SALSA if "vinegar" not in line]
    assert rules(screen(lines, "Simmer.", name="Garden salsa")) == {"too little acid"}


@pytest.mark.parametrize("extra", ["1 lb black beans", "2 cups corn", "1 avocado", "1 cup zorblax"])
def test_salsa_with_anything_else_is_no_tested_salsa(extra: str) -> None:
    answer = screen([*SALSA, extra], "Simmer.", name="Salsa")
    assert not answer.is_tested
    assert any("tested recipe" in way.what for way in answer.possible)


def test_peppers_and_tomatoes_without_acid_or_name_are_no_salsa() -> None:
    lines = tuple(read_line(text) for text in SALSA[:2])
    assert match_salsa(lines, "simmer") is None


@pytest.mark.parametrize(
    ("lines", "is_tested"),
    [
        (["3 lb tomatoes", "1 lb okra", "1 tsp salt"], True),
        (["3 kg tomatoes", "1 kg zucchini"], True),
        (["2 lb tomatoes", "1 lb okra"], False),
        (["some tomatoes", "1 lb okra"], False),
    ],
)
def test_tomatoes_with_okra_or_zucchini_are_three_to_one(lines: list[str], is_tested: bool) -> None:
    answer = screen(lines, "Pressure can.")
    assert answer.is_tested is is_tested
    assert rules(answer) == (set() if is_tested else {"too many low-acid solids"})


@pytest.mark.parametrize(
    ("lines", "form_part"),
    [
        (["2 kg strawberries", "1.5 kg sugar"], "without added pectin"),
        (["1 kg blackberries or raspberries", "1 kg sugar", "2 tbsp lemon juice"], "without added pectin"),
        (["2 kg apricots", "2 kg sugar", "2 tbsp lemon juice"], "without added pectin"),
        (["2 kg plums", "2 kg sugar", "50 g pectin"], "with added pectin"),
        (["2 kg apricots", "200 g sugar", "2 tbsp lemon juice"], None),
        (["2 kg strawberries", "a handful of sugar"], None),
        (["2 kg elderberries", "2 kg sugar"], None),
        (["1 kg figs", "1 kg sugar", "50 g pectin"], None),
        (["1 kg papaya", "1 kg sugar", "50 g pectin"], None),
        (["1 kg pears", "1 kg sugar", "50 g pectin"], None),
        (["1 kg pears", "1 kg sugar", "50 g pectin", "2 tbsp bottled lemon juice"], "with added pectin"),
        (["2 kg elderberries", "2 kg sugar", "2 tbsp lemon juice", "50 g pectin"], None),
        (["1 kg strawberries", "1 kg bananas", "2 kg sugar", "50 g pectin"], None),
        (["2 kg strawberries", "2 kg sugar", "1 lb carrots"], None),
    ],
)
def test_jam_of_acid_fruit_with_its_sugar(lines: list[str], form_part: str | None) -> None:
    match = screen(lines, "Boil to the gel point.").match
    is_jam = match is not None and match.process_food == "jam"
    assert is_jam is (form_part is not None)
    if match is not None and is_jam:
        assert form_part is not None
        assert form_part in (match.form or "")


def test_exceptions_of_tested_recipes_are_no_permission_for_others() -> None:
    """Oil in three-bean salad, starch in pie filling, pork in baked beans belong to those recipes only."""
    assert "oil or fat" in rules(
        screen(["1 lb green beans", "1/4 cup oil", "1/2 cup vinegar"], "", name="Three-bean salad")
    )
    assert "thickener" in rules(screen(["3 lb blueberries", "1 cup modified starch"], "", name="Blueberry pie filling"))
    assert "cured meat" in rules(screen(["1 lb navy beans", "4 oz bacon"], "", name="Baked beans"))


@pytest.mark.parametrize("lines", [[], ["1 tsp salt", "2 cups water"], ["   "]])
def test_a_list_without_food_is_refused(lines: list[str]) -> None:
    assert rules(screen(lines, "")) == {"nothing to can"}


@pytest.mark.parametrize(
    ("text", "amount", "keys", "unread"),
    [
        ("2 1/2 lb ground beef, browned", "2 1/2 lb", ["beef"], ()),
        ("½ cup cream of tartar", "½ cup", ["cream of tartar"], ()),
        ("salt and pepper to taste", "", ["salt", "black pepper"], ()),
        ("5 lb tomato; paste or slicing kind", "5 lb", ["tomato"], ()),
        ("3 lb beef trimmed of all visible fat", "3 lb", ["beef"], ()),
        ("2 lb beef with zorblax", "2 lb", ["beef"], ("zorblax",)),
    ],
)
def test_lines_are_read_by_their_longest_names(
    text: str, amount: str, keys: list[str], unread: tuple[str, ...]
) -> None:
    line = read_line(text)
    assert (line.amount, [heard.food.key for heard in line.foods], line.unread) == (amount, keys, unread)


@pytest.mark.parametrize(
    ("name", "lines", "rule"),
    [
        ("Pumpkin butter", ["4 lb pumpkin", "2 cups sugar"], "low-acid puree"),
        ("Sweet potato mash", ["4 lb sweet potatoes"], "low-acid puree"),
        ("Beef stew", SOUP, "made dish"),
        ("Tomato ketchup", ["5 lb tomatoes", "1 cup sugar", "1 cup vinegar"], "made dish"),
        ("Pear butter", ["4 lb pears", "2 cups sugar"], "fruit puree"),
        ("Chili", ["2 lb ground beef", "1 lb tomatoes", "1 lb kidney beans", "2 cups water"], "no tested mixture"),
        ("Beef soup", SOUP, None),
        ("Strawberry jam", ["2 kg strawberries", "2 kg sugar"], None),
    ],
)
def test_a_dish_is_seen_by_its_name(name: str, lines: list[str], rule: str | None) -> None:
    """The ingredients' process is not the process of a butter, a stew, a ketchup or a chili."""
    answer = screen(lines, "Simmer, pressure can.", name=name)
    assert answer.is_tested is (rule is None)
    assert rule is None or rule in rules(answer)


@pytest.mark.parametrize(
    ("name", "lines", "food"),
    [
        ("Applesauce", ["10 lb apples"], "applesauce"),
        ("Tomato juice", ["10 lb tomatoes", "2 tbsp bottled lemon juice"], "tomato juice"),
        ("Tomato sauce", ["10 lb tomatoes"], "tomato sauce"),
        ("Grape juice", ["10 lb pears"], "pears"),
    ],
)
def test_a_sauce_or_juice_of_one_food_has_its_own_row(name: str, lines: list[str], food: str) -> None:
    match = screen(lines, "Press through a food mill." if "sauce" in name else "", name=name).match
    assert match is not None
    assert match.process_food == food


@pytest.mark.parametrize("line", ["2 lb potatoes, mashed", "2 lb carrots, pureed", "1 cup riced cauliflower"])
def test_a_mash_in_an_ingredient_line_is_named(line: str) -> None:
    assert "low-acid puree" in rules(screen([*SOUP, line], ""))


@pytest.mark.parametrize("line", ["6 cups broth", "2 quarts hot stock", "1 l fat-free chicken broth"])
def test_any_broth_counts_as_stock(line: str) -> None:
    assert screen([*SOUP[:3], line], "Pressure can.").is_tested


@pytest.mark.parametrize("table", ["screening.csv", "preparation.csv"])
def test_every_line_of_our_tables_names_its_source_and_evidence(table: str) -> None:
    path = SCREENING_CSV.parent / table
    with path.open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    assert found
    assert all(line["source"] and line["evidence"] for line in found)
    assert len(found) == len({tuple(line.values()) for line in found})


@pytest.mark.parametrize(
    ("vinegar", "is_tested"),
    [
        ("1 cup vinegar", True),
        ("1 cup vinegar, 5 %", True),
        ("1 cup vinegar, 4 %", False),
        ("2 cups 4.2% vinegar", False),
        ("2 cups rice vinegar", False),
    ],
)
def test_vinegar_weaker_than_the_tested_five_percent_counts_for_nothing(vinegar: str, is_tested: bool) -> None:
    """Acid notes, section 1: only vinegar of 5 % (50 grain)."""
    answer = screen(["5 lb tomatoes", "2 lb chiles", "1 lb onions", vinegar], "Simmer.", name="Salsa")
    assert answer.is_tested is is_tested
    assert is_tested or rules(answer) == {"too little acid"}


@pytest.mark.parametrize(
    ("method", "rule"),
    [
        ("No need to soak, fill the jars.", "dry seed"),
        ("Put the dry beans into jars and cover with water.", "dry seed"),
        ("Do not soak the beans.", "dry seed"),
        ("Soak the beans overnight, boil 30 minutes.", None),
    ],
)
def test_beans_that_are_not_soaked_are_refused(method: str, rule: str | None) -> None:
    """Michigan State Univ. Extension 01600235: the seed must be fully rehydrated; there is no raw pack."""
    answer = screen(["1 kg dried beans", "water"], method)
    assert rules(answer) == ({rule} if rule else set())


@pytest.mark.parametrize(("name", "method"), [("Tomato paste", "Boil down."), ("Tomatoes", "Cook to a thick paste.")])
def test_tomatoes_boiled_down_to_a_paste_have_no_process(name: str, method: str) -> None:
    assert "paste" in rules(screen(["5 kg tomatoes"], method, name=name))
    lines = ["5 kg paste tomatoes", "2 tbsp bottled lemon juice per quart"]
    assert screen(lines, "Peel and crush.", name="Paste tomatoes").is_tested
