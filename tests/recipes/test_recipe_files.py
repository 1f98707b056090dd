"""The recipes that come with the program: all read, all uses, nothing dangling."""

import math
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import pytest
import yaml

import stillroom.recipes
from stillroom.model.recipe import Recipe, Use
from stillroom.model.work import Attention
from stillroom.recipes.reader import all_recipes, read_recipe
from stillroom.tables import vocabulary

FILES = sorted((Path(stillroom.recipes.__file__).parent / "data").glob("*.yaml"))
RECIPES = all_recipes()
EATEN = [recipe for recipe in RECIPES if recipe.use is Use.EAT_NOW]


def keys(recipe: Recipe) -> str:
    return recipe.key


def main_foods(recipes: Iterable[Recipe]) -> set[tuple[str, str]]:
    return {(f, s) for r in recipes for i in r.ingredients if i.main for f in i.foods for s in i.states}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_file_reads_and_names_foods_by_their_keys(path: Path) -> None:
    assert read_recipe(path).key == path.stem
    written = yaml.safe_load(path.read_text(encoding="utf-8"))
    for line in written["ingredients"]:
        for food in [line["food"]] if isinstance(line["food"], str) else line["food"]:
            assert vocabulary.food(food).key == food
    for product in written["products"]:
        assert "food" not in product or vocabulary.food(product["food"]).key == product["food"]


def test_there_are_enough_of_every_use() -> None:
    count = Counter(recipe.use for recipe in RECIPES)
    assert len(RECIPES) >= 45
    assert set(count) == set(Use)
    assert count[Use.EAT_NOW] >= 20
    assert count[Use.JAR] >= 20


def test_keys_names_and_files_are_one_to_one() -> None:
    assert len({recipe.key for recipe in RECIPES}) == len(RECIPES) == len(FILES)
    assert len({recipe.name for recipe in RECIPES}) == len(RECIPES)


def test_every_meal_role_can_be_filled_fresh_and_from_store() -> None:
    for role in ("main", "side"):
        states = {s for _, s in main_foods(r for r in EATEN if r.products[0].meal_role == role)}
        assert {"fresh", "jarred", "frozen"} <= states
    bread = [r for r in RECIPES if r.products[0].meal_role == "bread"]
    assert any(min(step.day for step in r.steps) == -1 for r in bread)
    assert any(min(step.day for step in r.steps) == 0 for r in bread)


@pytest.mark.parametrize("recipe", [r for r in RECIPES if r.use is Use.BREAK_DOWN], ids=keys)
def test_every_part_of_a_carcass_is_used_by_another_recipe(recipe: Recipe) -> None:
    used = main_foods(r for r in RECIPES if r is not recipe)
    for product in recipe.products:
        assert (product.food, "fresh") in used, product.name


@pytest.mark.parametrize("recipe", EATEN, ids=keys)
def test_a_dish_is_served_by_one_last_step_and_is_no_long_work(recipe: Recipe) -> None:
    followed = {after.step for step in recipe.steps for after in step.after}
    last = [step for step in recipe.steps if step.key not in followed]
    assert len(last) == 1
    assert last[0].attention in (Attention.HANDS, Attention.NEAR)
    assert "serve" in last[0].text.lower()
    (product,) = recipe.products
    assert (product.container, product.portions_per_unit) == ("plate", 1)
    today = [step for step in recipe.steps if step.day == 0]
    six = {step.key: step.fixed_min + 6 * step.per_unit_min for step in today}
    hands = sum(six[step.key] for step in today if step.attention is Attention.HANDS)
    assert sum(six.values()) <= 150
    assert hands <= 45


@pytest.mark.parametrize("recipe", [r for r in RECIPES if r.use is Use.BAKE], ids=keys)
def test_bread_feeds_the_bread_role(recipe: Recipe) -> None:
    (product,) = recipe.products
    assert product.meal_role == "bread"
    assert 60 <= product.mass_g_per_unit / product.portions_per_unit <= 110  # g a head
    assert not any(i.main for i in recipe.ingredients)


@pytest.mark.parametrize("recipe", RECIPES, ids=keys)
def test_everything_kept_says_how_long_and_where_that_is_from(recipe: Recipe) -> None:
    assert recipe.batch_reason
    assert recipe.source
    for product in recipe.products:
        assert product.keeps_source
        assert product.container == "plate" or product.keeps_days > 0


@pytest.mark.parametrize("recipe", RECIPES, ids=keys)
def test_the_largest_batch_fits_a_common_kitchen(recipe: Recipe) -> None:
    """Four burners, two oven trays, a dryer of six trays (R161: 4 to 10), 40 litres of fridge."""
    room = {"burner": 4, "oven": 2, "dryer": 6, "fridge": 40, "canner": 1, "ice bath": 1, "mixer": 1}
    for step in recipe.steps:
        for need in step.needs:
            assert math.ceil(need.amount + need.per_unit * recipe.largest - 1e-9) <= room[need.equipment]
