"""Rules are told to the cook in words; their codes stand on the page of the sources."""

import re

import pytest
from django.test import Client

from stillroom.recipes.reader import all_recipes
from stillroom.tables.rules import in_words

CODE = re.compile(r"\b[RN][0-2]\d\d\b")
PAGES = (
    "/bench/card?food=beef&form=ground+or+chopped&pack=hot&jar=quart",
    "/bench/card?food=peaches&form=halved&pack=hot&jar=12+oz&canner=boiling+water",
    "/bench/card?food=green+beans&jar=quart&canner=boiling+water",
    "/bench/recipes/ours/beef_stock_frozen",
    "/bench/recipes/ours/jerky_dried",
    "/bench/sums/dough?flour=1+kg&known_time=2+h&known_temp=24+C&dough_temp=24+C",
    "/bench/sums/loads?jar=quart&jars=20",
    "/bench/sums/waiting?food=tomatoes&minutes=15+min",
    "/bench/sums/cooling?food=stew&amount=8+l&pot=28+cm",
    "/bench/sums/freezing?food=pork&amount=23+kg&thick=3+cm",
    "/bench/sums/thawing?food=mince&amount=500+g&thick=3+cm",
    "/bench/sums/drying?food=apples&thick=6+mm&amount=2+kg",
    "/bench/sums/drying?food=beef&thick=6+mm&amount=2+kg",
)


@pytest.mark.parametrize("address", PAGES)
def test_no_code_is_shown_to_the_cook(browser: Client, address: str) -> None:
    text = browser.get(address).content.decode()
    assert "<h1>" in text
    assert not CODE.findall(text)


def test_no_recipe_of_ours_tells_a_code() -> None:
    assert not [recipe.key for recipe in all_recipes() if CODE.search(repr(recipe))]


def test_the_sources_tell_the_codes(browser: Client) -> None:
    assert CODE.search(browser.get("/sources/rules").content.decode())


def test_a_code_is_said_by_its_part_of_the_rules() -> None:
    assert in_words("rules R124, R126, R129 to R133; yields table") == "rules of freezing; yields table"
    assert in_words("rule R144: whole poultry") == "rule of freezing: whole poultry"
    assert in_words("model R999 of a maker") == "model R999 of a maker"
