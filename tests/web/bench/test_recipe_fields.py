"""A recipe written in fields: the same screen as the text, the same recipe when it is opened again."""

import re
from collections.abc import Callable

import pytest
from django.http import HttpResponse
from django.test import Client

from stillroom.recipes.reader import all_recipes, parse_recipe
from stillroom.web.bench.recipe_lines import fields_of, text_of
from stillroom.web.bench.shelf_of_recipes import text_of_ours
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

Press = Callable[..., HttpResponse]
NEW = "/bench/recipes/new"
POT: dict[str, object] = {
    "name": "Apple pot",
    "use": "eat now",
    "summary": "Soft apples with a crust of nothing.",
    "ingredients": "1 kg apples, in pieces\n60 g sugar\n1 tsp cinnamon, optional",
    "steps": "Wash, peel and cut, 15 min\nCook until soft, 20 min, near, 1 burner",
    "amount": "900 g",
    "portions": "5",
    "meal": "sweet",
    "container": "tub",
    "place": "fridge",
    "keeps_days": "3",
    "keeps_source": "cooked dishes, 3 to 4 days: FSIS cold food storage",
    "largest": "4",
}


def test_it_works(household: Household, press: Press, browser: Client) -> None:
    answer = press(NEW, POT, again=True)
    row = household.recipes.get(key="apple_pot")  # once, though sent twice
    assert answer["Location"] == f"/bench/recipes/own/{row.pk}"
    assert "nothing stands against it" in browser.get(answer["Location"]).content.decode()
    recipe = next(one for one in folder_of(household).recipes if one.key == "apple_pot")
    assert [line.foods[0] for line in recipe.ingredients] == ["apple", "sugar, white", "cinnamon"]
    assert [round(line.mass_g) for line in recipe.ingredients][:2] == [1000, 60]
    assert (recipe.ingredients[0].preparation, recipe.ingredients[2].optional) == ("in pieces", True)
    assert [step.text for step in recipe.steps] == ["Wash, peel and cut", "Cook until soft"]
    assert [step.fixed_min for step in recipe.steps] == [15, 20]
    assert recipe.steps[1].attention == "near"
    assert recipe.steps[1].needs[0].equipment == "burner"
    assert recipe.steps[1].after[0].max_lag_min == 30


def test_it_is_opened_again_in_fields_and_changed(household: Household, press: Press, browser: Client) -> None:
    press(NEW, POT)
    row = household.recipes.get(key="apple_pot")
    page = f"/bench/recipes/own/{row.pk}/text"
    form = browser.get(page).context["form"]
    assert {name: form[name].value() for name in ("name", "ingredients", "place")} == {
        name: POT[name] for name in ("name", "ingredients", "place")
    }
    press(page, POT | {"ingredients": "1 kg apples\n90 g sugar"})
    row.refresh_from_db()
    assert [round(line.mass_g) for line in parse_recipe(row.text, "x").ingredients] == [1000, 90]


def test_who_comes_second_is_told(household: Household, press: Press, browser: Client) -> None:
    press(NEW, POT)
    page = f"/bench/recipes/own/{household.recipes.get(key='apple_pot').pk}/text"
    hidden = dict(
        re.findall(r'name="(once|seen)" value="([^"]*)"', browser.get(page).content.decode().split("<details")[0])
    )
    press(page, POT | {"amount": "800 g"})
    answer = browser.post(page, POT | {"amount": "700 g"} | hidden)
    assert answer.status_code == 409
    assert "Changed meanwhile" in answer.content.decode()
    assert "800 g" in household.recipes.get(key="apple_pot").text


@pytest.mark.parametrize(
    "field, typed, sentence",
    [
        ("ingredients", "1 kg apples\na bit of sugar", "“a bit of sugar” can&#x27;t be read"),
        ("ingredients", "1 kg xyzzy", "“1 kg xyzzy” can&#x27;t be read"),
        ("steps", "Cook until soft", "“Cook until soft” has no length"),
        ("steps", "Cook, 20 min, 1 wand", "has no length"),
        ("amount", "a lot", "can&#x27;t be read as an amount"),
        ("portions", "", "How many portions"),
        ("keeps_source", "", "Say who says"),
        ("use", "jar", "Select a valid choice"),
        ("name", "", "This field is required"),
    ],
)
def test_what_is_wrong_stands_beside_its_field_and_all_is_kept(
    household: Household, press: Press, field: str, typed: str, sentence: str
) -> None:
    before = household.recipes.count()
    answer = press(NEW, POT | {field: typed})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in text
    assert sentence.replace("&#x27;", "'") in str(answer.context["form"].errors[field]).replace("&#x27;", "'")
    assert "FSIS cold food storage" in text or field == "keeps_source"
    assert household.recipes.count() == before


def test_the_same_screen_as_for_text(household: Household, press: Press, browser: Client) -> None:
    """Garlic under oil, out of the fridge: no home process makes it safe (botulinum toxin outside the cold)."""
    oil = {
        "name": "Garlic oil",
        "ingredients": "100 g garlic, peeled\n300 g olive oil",
        "place": "counter",
        "keeps_days": "10",
        "meal": "",
        "portions": "",
    }
    answer = press(NEW, POT | oil)
    assert "It is left out of every plan" in browser.get(answer["Location"]).content.decode()
    assert "garlic_oil" not in [recipe.key for recipe in folder_of(household).recipes]


def test_text_that_says_more_is_never_cut_down_to_fields(browser: Client, household: Household, press: Press) -> None:
    for recipe in all_recipes():
        text = text_of_ours(recipe.key)
        fields = fields_of(text)
        if fields is not None:
            assert parse_recipe(text_of(fields), "x") == parse_recipe(text, "x"), recipe.key
    answer = press(NEW, {"text": text_of_ours("tomato_sauce_jarred").replace("name: Tomato", "name: Our tomato", 1)})
    page = browser.get(answer["Location"] + "/text")
    assert page.context["form"] is None
    assert "Write it yourself, as text" in page.content.decode()
