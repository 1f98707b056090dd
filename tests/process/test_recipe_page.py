"""Recipes found in pages and JSON of the schema.org vocabulary."""

from __future__ import annotations

import json

import pytest

from stillroom.errors import InputError
from stillroom.process.recipe_page import recipe_of_json, recipe_of_mapping, recipe_of_page

STEP = {"@type": "HowToStep", "text": "Brown &amp; boil."}
RECIPE = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Soup",
    "recipeIngredient": ["2 lb beef", "1 cup cream"],
    "recipeInstructions": [
        {
            "@type": "HowToSection",
            "name": "Base",
            "itemListElement": [{"@type": "HowToStep", "text": "Brown &amp; boil."}],
        },
        {"@type": "HowToStep", "text": "<p>Add <b>cream</b>.</p>"},
        "Serve.",
    ],
}


def page(*blocks: str, kind: str = "application/ld+json") -> str:
    scripts = "".join(f'<script type="{kind}">{block}</script>' for block in blocks)
    return f"<html><head><script>var a = '<b>';</script>{scripts}</head><body><p>Soup</p></body></html>"


@pytest.mark.parametrize(
    "data",
    [
        RECIPE,
        [{"@type": "WebPage"}, RECIPE],
        {"@context": "https://schema.org", "@graph": [{"@type": "Person"}, RECIPE]},
        {"@type": "WebPage", "mainEntity": RECIPE},
        RECIPE | {"@type": ["NewsArticle", "Recipe"]},
        RECIPE | {"@type": "http://schema.org/Recipe"},
    ],
)
def test_the_recipe_is_found_wherever_it_stands(data: object) -> None:
    found = recipe_of_page(page("not json", json.dumps({"@type": "WebSite"}), json.dumps(data)))
    assert found.name == "Soup"
    assert found.ingredients == ("2 lb beef", "1 cup cream")
    assert found.method == "Base Brown & boil. Add cream . Serve."
    assert recipe_of_json(json.dumps(data)) == found


def test_bare_line_breaks_and_broken_blocks_are_passed_over() -> None:
    broken = "[" * 100_000
    with_break = '{"@type": "Recipe", "recipeIngredient": ["4 lb\nbeans"]}'
    assert recipe_of_page(page(broken, with_break)).ingredients == ("4 lb beans",)


def test_plain_instructions_and_charset_in_the_type() -> None:
    block = json.dumps({"@type": "Recipe", "recipeIngredient": "beans", "recipeInstructions": "Boil.\n Fill."})
    found = recipe_of_page(page(block, kind="application/ld+json; charset=utf-8"))
    assert (found.ingredients, found.method, found.name) == (("beans",), "Boil. Fill.", "")


@pytest.mark.parametrize(
    "html", ["", "<p>2 lb beef</p>", page('{"@type": "Recipe"}'), page('{"a": 1}'), page("{}", kind="text/plain")]
)
def test_a_page_without_a_recipe_is_an_input_error(html: str) -> None:
    with pytest.raises(InputError, match=r"schema\.org"):
        recipe_of_page(html)


def test_a_simple_mapping() -> None:
    found = recipe_of_json('{"name": "Beans", "ingredients": ["4 lb beans"], "method": ["Boil.", "Fill."]}')
    assert (found.name, found.ingredients, found.method) == ("Beans", ("4 lb beans",), "Boil. Fill.")


@pytest.mark.parametrize(
    "text", ["{", "[]", "3", '{"ingredients": []}', '{"ingredients": "beans"}', '{"ingredients": [3]}']
)
def test_json_that_is_no_recipe_is_an_input_error(text: str) -> None:
    with pytest.raises(InputError):
        recipe_of_json(text)


def test_deep_nesting_ends_in_a_sentence() -> None:
    with pytest.raises(InputError):
        recipe_of_json("[" * 100_000 + "]" * 100_000)
    with pytest.raises(InputError):
        recipe_of_json("[" * 200 + "]" * 200)
    nested: object = "Boil."
    for _ in range(80):
        nested = [nested]
    assert recipe_of_mapping({"ingredients": ["beans"], "method": nested}).method == ""
