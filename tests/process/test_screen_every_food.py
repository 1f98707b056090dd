"""Every food of the vocabulary goes through the screening: what may not be canned never slips into a covered recipe."""

from __future__ import annotations

import pytest
from printed_rows import TESTED, lines

from stillroom.process.screen import screen

SOUP = ["2 lb beef stewing meat", "2 lb potatoes", "1 lb carrots", "6 cups beef stock"]
VOCABULARY = lines("vocabulary.csv")
NEVER = ("dairy", "eggs", "grain and flour", "fat and oil", "dough and bread", "nut and seed", "dish")
PLAIN = ("vegetable", "fruit", "pork", "beef", "lamb and game", "poultry", "fish", "legume")
TESTED_FOODS = {row.food for row in TESTED}
STOCK_BONES = {"beef bones", "chicken carcass", "turkey carcass"}
STANDS_FOR_TOMATOES = {"tomato, canned", "tomato, crushed canned", "tomato, cooked"}
# Fruit and vegetables that only season: juice, peel, dried onion and chilli.
SEASONS = {"lemon", "lemon juice", "lemon juice, bottled", "lime", "lime juice", "lemon peel", "orange peel"}
SEASONS |= {"onion, dried", "hot chili pepper, dried", "tomato juice"}


@pytest.mark.parametrize("key", [line["key"] for line in VOCABULARY if line["group"] in NEVER])
def test_what_thickens_shields_or_soaks_is_never_in_a_covered_recipe(key: str) -> None:
    answer = screen([*SOUP, f"1 cup {key}"], "Boil 5 minutes.")
    assert not answer.is_tested
    assert f"1 cup {key}" in {finding.ingredient for finding in answer.findings}


@pytest.mark.parametrize("line", [line for line in VOCABULARY if line["group"] in PLAIN], ids=lambda line: line["key"])
def test_a_food_without_a_process_is_never_in_a_covered_recipe(line: dict[str, str]) -> None:
    key = line["key"]
    if line["process_food"] in TESTED_FOODS or key in STANDS_FOR_TOMATOES | SEASONS | STOCK_BONES:
        return
    assert not screen([*SOUP, f"1 lb {key}"], "Boil 5 minutes.").is_tested
    assert not screen([f"5 lb {key}"], "").is_tested


@pytest.mark.parametrize("line", VOCABULARY, ids=lambda line: line["key"])
def test_a_food_alone_is_covered_by_its_own_rows_only(line: dict[str, str]) -> None:
    match = screen([f"5 lb {line['key']}"], "").match
    if match is not None:
        assert match.process_food in TESTED_FOODS
        allowed = {line["process_food"]}
        allowed |= {"tomatoes"} if line["key"] in STANDS_FOR_TOMATOES else set()
        allowed |= {"beef stock", "chicken or turkey stock"} if line["key"] in STOCK_BONES else set()
        assert match.process_food in allowed


@pytest.mark.parametrize(
    "line", [line for line in VOCABULARY if line["group"] == "fruit"], ids=lambda line: line["key"]
)
def test_fruit_is_never_in_a_covered_soup(line: dict[str, str]) -> None:
    if line["key"] not in SEASONS:
        assert not screen([*SOUP, f"1 lb {line['key']}"], "Boil 5 minutes.").is_tested
