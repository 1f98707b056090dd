"""Recipes: read, scaled, written, changed, brought from pages; screened before anything is jarred by them."""

import io
import json
import re
import zipfile
from collections.abc import Callable
from html import unescape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client

from stillroom.household.own_recipes import why_left_out
from stillroom.recipes.reader import all_recipes, parse_recipe
from stillroom.web.bench.recipe_views import _EMPTY
from stillroom.web.bench.shelf_of_recipes import text_of_ours
from stillroom.web.exchange.folder import folder_of, zip_of
from stillroom.web.frame.undo import history, undo
from stillroom.web.kitchen.models import Household, OwnRecipe

Press = Callable[..., HttpResponse]
NEW = "/bench/recipes/new"
PATTERN = _EMPTY.read_text(encoding="utf-8")
# Our tomato sauce with flour in it: a thickener, for which no process exists (Complete Guide, Guide 3 and 4).
THICKENED = text_of_ours("tomato_sauce_jarred").replace(
    "  - food: canning salt\n", "  - food: wheat flour, all-purpose\n    amount: 50 g\n  - food: canning salt\n"
).replace("name: Tomato sauce in jars", "name: Thick sauce", 1)  # fmt: skip


def shown(answer: HttpResponse) -> str:
    return " ".join(unescape(answer.content.decode()).split())


def kept(household: Household) -> OwnRecipe:
    found: OwnRecipe = household.recipes.latest("pk")
    return found


def test_it_works(household: Household, press: Press, browser: Client) -> None:
    answer = press(NEW, {"text": PATTERN}, again=True)
    row = household.recipes.get(key="apple_pot")  # once, though sent twice
    assert answer["Location"] == f"/bench/recipes/own/{row.pk}"
    text = shown(browser.get(answer["Location"]))
    assert "Wrote Apple pot" in text
    assert "nothing stands against it" in text
    assert "apple_pot" in [recipe.key for recipe in folder_of(household).recipes]
    undo(history(row).get(), at=household.now())
    assert not household.recipes.filter(key="apple_pot").exists()


def test_the_pattern_is_a_recipe_that_is_safe() -> None:
    assert why_left_out(parse_recipe(PATTERN, "apple_pot")) == ""


def test_every_recipe_of_ours_can_be_read_here(browser: Client) -> None:
    for recipe in all_recipes():
        answer = browser.get(f"/bench/recipes/ours/{recipe.key}")
        assert answer.status_code == 200, recipe.key
        assert recipe.name in unescape(answer.content.decode())


@pytest.mark.parametrize("key", ["tomato_sauce_jarred", "pork_cubes_hot_jarred", "apricots_jarred"])
def test_its_card_is_a_tested_one(browser: Client, key: str) -> None:
    link = re.search(r'href="(/bench/card[^"]*)"', browser.get(f"/bench/recipes/ours/{key}").content.decode())
    assert link
    assert '<span class="tag calm">tested process</span>' in browser.get(unescape(link[1])).content.decode()


def test_search_by_another_name_of_use_and_food(browser: Client) -> None:
    text = shown(browser.get("/bench/recipes/", {"q": "tomato", "use": "jar"}))
    assert "Tomato sauce in jars" in text
    assert "Rye and wheat bread" not in text
    assert "0 recipes" in shown(browser.get("/bench/recipes/", {"q": "xyzzy"}))


def test_made_for_an_amount(browser: Client) -> None:
    """5 lb of tomatoes to a quart: 25 lb are 5 quarts, with 10 tbsp of lemon juice; 25 lb are 11.34 kg."""
    text = shown(browser.get("/bench/recipes/ours/tomato_sauce_jarred", {"amount": "25 lb"}))
    assert "5 × 1 quart (946 ml) of jars" in text
    assert "11.3 kg" in text
    assert "5 quarts" in text
    assert "Bottled lemon juice goes into every jar" in text


@pytest.mark.parametrize(
    "amount, words",
    [("many", "can't be read"), ("1 lb", "less than the smallest sensible batch"), ("-3 kg", "“-3 kg”")],
)
def test_an_amount_that_can_not_be(browser: Client, amount: str, words: str) -> None:
    answer = browser.get("/bench/recipes/ours/tomato_sauce_jarred", {"amount": amount})
    assert answer.status_code == 422
    assert words in shown(answer)
    assert f'value="{amount}"' in shown(answer)


def test_a_line_that_can_not_be_read_is_shown_and_all_text_is_kept(household: Household, press: Press) -> None:
    wrong = PATTERN.replace("amount: 60 g", "amount: a bit")
    before = household.recipes.count()
    answer = press(NEW, {"text": wrong})
    text = shown(answer)
    number = wrong.split("\n").index("    amount: a bit") + 1
    assert answer.status_code == 422
    assert f"Line {number}: ingredients.2.amount" in text
    assert f"{number} ▶" in text
    assert "Wash and cut." in text
    assert household.recipes.count() == before


def test_cross_checks_name_their_line_too(household: Household, press: Press) -> None:
    text = shown(press(NEW, {"text": PATTERN.replace("step: cut", "step: chop")}))
    assert "chop" in text
    assert "Line " in text


def test_nothing_is_jarred_by_a_recipe_that_no_process_covers(
    household: Household, press: Press, browser: Client
) -> None:
    press(NEW, {"text": THICKENED})
    row = kept(household)
    text = shown(browser.get(f"/bench/recipes/own/{row.pk}"))
    assert "left out of every plan" in text
    assert "flour" in text
    assert "thicken" in text.lower()
    assert "Its process card" not in text
    folder = folder_of(household)
    assert row.key not in [recipe.key for recipe in folder.recipes]
    assert any("Thick sauce" in note for note in folder.notes)
    assert "not as it is written" in shown(browser.get("/bench/recipes/", {"q": "thick sauce"}))


def test_a_recipe_that_keeps_too_long_is_left_out(household: Household, press: Press, browser: Client) -> None:
    """FSIS, cold food storage: cooked dishes 3 to 4 days."""
    press(NEW, {"text": PATTERN.replace("keeps days: 3", "keeps days: 30")})
    assert "at most 4" in shown(browser.get(f"/bench/recipes/own/{kept(household).pk}"))


def test_change(household: Household, press: Press) -> None:
    press(NEW, {"text": PATTERN})
    row = kept(household)
    press(f"/bench/recipes/own/{row.pk}/text", {"text": PATTERN.replace("60 g", "80 g")}, again=True)
    row.refresh_from_db()
    assert "80 g" in row.text
    undo(history(row).first(), at=household.now())
    row.refresh_from_db()
    assert "60 g" in row.text


def test_a_change_that_can_not_be_read_changes_nothing(household: Household, press: Press) -> None:
    press(NEW, {"text": PATTERN})
    row = kept(household)
    answer = press(f"/bench/recipes/own/{row.pk}/text", {"text": "name: [half"})
    assert answer.status_code == 422
    row.refresh_from_db()
    assert row.text == PATTERN


def test_take_out(household: Household, press: Press) -> None:
    press(NEW, {"text": PATTERN})
    row = kept(household)
    address = f"/bench/recipes/own/{row.pk}"
    press(f"{address}/take-out", {}, page=address, again=True)
    assert not household.recipes.filter(pk=row.pk).exists()


def test_ours_is_never_replaced_unseen(household: Household, press: Press, browser: Client) -> None:
    begun = browser.get(f"{NEW}?from=rye_overnight")
    assert "Rye and wheat bread" in shown(begun)
    same_name = PATTERN.replace("name: Apple pot", "name: Rye overnight", 1)
    press(NEW, {"text": same_name})
    assert kept(household).key == "rye_overnight_2"


def test_it_goes_out_with_the_folder(household: Household, press: Press) -> None:
    press(NEW, {"text": PATTERN})
    with zipfile.ZipFile(io.BytesIO(zip_of(household))) as archive:
        assert archive.read("recipes/apple_pot.yaml").decode() == PATTERN


def test_another_household_can_not_be_reached(household: Household, browser: Client) -> None:
    other = Household.objects.create(name="Others", opened_at=household.opened_at.replace(year=2000))
    row = OwnRecipe.objects.create(household=other, key="theirs", text=PATTERN)
    assert browser.get(f"/bench/recipes/own/{row.pk}").status_code == 404


def recipe_page(**changed: object) -> SimpleUploadedFile:
    """A page as schema.org describes it: https://schema.org/Recipe."""
    data = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": "Tomatoes in jars",
        "recipeIngredient": ["21 lb tomatoes", "14 tbsp bottled lemon juice"],
        "recipeInstructions": [{"@type": "HowToStep", "text": "Crush, boil, hot pack, leave headspace, process."}],
    } | changed
    html = f'<html><script type="application/ld+json">{json.dumps(data)}</script><body>x</body></html>'
    return SimpleUploadedFile("saved.html", html.encode(), "text/html")


def test_a_page_is_screened_and_becomes_our_text(household: Household, press: Press) -> None:
    text = shown(press("/bench/recipes/page", {"file": recipe_page()}))
    assert "in a jar for the shelf?" in text
    assert "food: tomato" in text
    assert "amount: 21 lb" in text
    assert not household.recipes.filter(key__startswith="tomatoes").exists()


def test_what_a_page_gives_can_be_kept(household: Household, press: Press) -> None:
    answer = press("/bench/recipes/page", {"file": recipe_page()})
    press(NEW, {"text": answer.context["found"].draft})
    made = parse_recipe(kept(household).text, "x")
    assert made.ingredients[0].foods == ("tomato",)
    assert made.ingredients[0].mass_g == pytest.approx(21 * 453.592, rel=1e-3)
    assert made.process is None  # nothing is jarred by it unless somebody writes so


def test_a_page_with_what_may_not_be_jarred_names_the_ingredient(press: Press) -> None:
    lines = ["2 lb tomatoes", "1 cup heavy cream"]
    text = shown(press("/bench/recipes/page", {"file": recipe_page(recipeIngredient=lines)}))
    assert "no tested process" in text
    assert "heavy cream" in text


@pytest.mark.parametrize(
    "name, content, words",
    [
        ("page.html", b"<html>nothing</html>", "No recipe in the schema.org vocabulary"),
        ("page.json", b"{", "no JSON that can be read"),
        ("page.html", b"\xff\xfe\x00", "not text in UTF-8"),
    ],
)
def test_a_page_without_a_recipe(press: Press, name: str, content: bytes, words: str) -> None:
    answer = press("/bench/recipes/page", {"file": SimpleUploadedFile(name, content)})
    assert answer.status_code == 422
    assert words in shown(answer)
