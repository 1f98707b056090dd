"""Nothing that comes in is without a way, nothing put by is without a dish, and work of the hands is called that."""

import re
from collections.abc import Iterable

import pytest

from stillroom.model.household import Place
from stillroom.model.recipe import Product, Recipe, Use
from stillroom.model.work import Attention
from stillroom.recipes.reader import all_recipes
from stillroom.tables import vocabulary

RECIPES = all_recipes()
EATEN = [recipe for recipe in RECIPES if recipe.use is Use.EAT_NOW]
KEPT = [recipe for recipe in RECIPES if recipe.use is not Use.EAT_NOW]

FRESH_GROUPS = {
    *("vegetable", "fruit", "pork", "beef", "lamb and game", "poultry", "fish", "dairy", "eggs", "herb"),
}
READY = re.compile(
    r"boiled|roasted|braised|stewed|baked|cooked|dried|sun-dried|canned|frozen|smoked|pickled|bottled|powdered|dry$|"
    r" flakes|peeled$|kimchi|sauerkraut"
)
BOUGHT_READY = {
    *("horseradish, prepared", "dry salami", "liver sausage", "black pudding", "prosciutto", "chorizo", "beef jerky"),
    *("tomato paste", "tomato puree", "tomato sauce", "tomato juice", "succotash", "apple juice", "applesauce"),
    *("apple butter", "grape juice", "lemon juice", "lime juice", "orange juice", "lemon peel", "orange peel"),
    *("raisin", "prune", "date", "olive, green pickled", "fruit puree", "grapefruit and orange", "sour cream"),
    *("mixed fruit cocktail", "milk, dry nonfat", "milk, evaporated", "buttermilk", "yogurt, plain", "whey, sweet"),
    *("whey, acid", "butter oil, anhydrous", "feta cheese", "goat cheese, soft", "blue cheese", "ricotta cheese"),
    *("cottage cheese", "cottage cheese, dry curd", "cream cheese", "creme fraiche", "mascarpone", "halloumi"),
    *("bouquet garni", "fish roe", "bacon, cooked"),
}
# Not frozen, jarred or dried in a kitchen: eaten fresh, or thrown to the hens.
ONLY_FRESH = {
    *("radish", "samphire", "bean sprouts", "mixed salad leaves", "avocado", "elderflower", "egg white", "egg yolk"),
    *("pork caul fat", "pork blood", "beef fat", "duck fat", "chicken skin"),
    "turkey, duck, goose or game birds",  # name of a process: the birds stand under their own
}
# Put by for cooking with, or cut up first: no dish of their own.
NOT_A_DISH = {
    *("garlic", "ginger root", "jalapeno pepper", "hot chili pepper, red", "lemon", "lime", "green mango", "cassava"),
    *("taro", "pork backfat", "pork leaf fat", "pork head", "pork skin", "pancetta", "chicken back", "chicken neck"),
    *("chicken feet", "fish bones", "cream, heavy", "cream, half and half", "butter, salted", "butter, unsalted"),
    "parmesan cheese",
}
CUPBOARD = {"lemon juice", "mixed herbs", "hot chili pepper, red", "butter, salted", "beef jerky", "lard"}


def fresh_foods() -> list[str]:
    bulk = (food.key for food in vocabulary.foods() if food.group in FRESH_GROUPS)
    return [key for key in bulk if not READY.search(key) and key not in BOUGHT_READY]


def taken(recipes: Iterable[Recipe], state: str) -> set[str]:
    return {f for r in recipes for i in r.ingredients if i.main and state in i.states for f in i.foods}


def state_of(product: Product) -> str:
    if product.place is Place.FREEZER:
        return "frozen"
    if product.place is Place.SHELF:
        return "dried" if product.container == "dry jar" else "jarred"
    return "fresh"


STORED = [(r.key, p) for r in KEPT for p in r.products if p.food and not p.meal_role and state_of(p) != "fresh"]


def test_the_list_of_foods_is_a_list_of_what_comes_in_bulk() -> None:
    foods = fresh_foods()
    assert {"rabbit", "turkey, whole", "milk, whole", "egg, whole", "cauliflower", "trout", "goat meat"} <= set(foods)
    assert len(foods) > 250


@pytest.mark.parametrize("food", [food for food in fresh_foods() if food not in ONLY_FRESH])
def test_every_fresh_food_can_be_put_by(food: str) -> None:
    assert food in taken(KEPT, "fresh")


@pytest.mark.parametrize("food", [food for food in fresh_foods() if food not in NOT_A_DISH])
def test_every_fresh_food_can_be_eaten_now(food: str) -> None:
    group = vocabulary.food(food).group
    if group == "herb" or any(word in food for word in ("carcass", "bones")) or food in ONLY_FRESH:
        return
    assert food in taken(EATEN, "fresh")


@pytest.mark.parametrize("key", ["rabbit", "turkey meat", "duck, whole", "trout", "venison", "pork shoulder"])
def test_meat_with_a_tested_process_has_a_jar(key: str) -> None:
    jars = [recipe for recipe in RECIPES if recipe.process]
    assert key in taken(jars, "fresh")


@pytest.mark.parametrize(("key", "product"), STORED, ids=[f"{key}-{product.food}" for key, product in STORED])
def test_everything_in_store_has_a_dish(key: str, product: Product) -> None:
    if product.food in CUPBOARD:
        return
    dishes = [r for r in EATEN if product.food in taken([r], state_of(product))]
    assert dishes, f"{key}: nobody eats {product.food}, {state_of(product)}"


WORK = re.compile(r"\bsieve|stir without a break|stirring all the time|knead|\bpeel\b|\bpurée\b", re.IGNORECASE)


def test_no_long_step_leaves_the_hands_free_that_needs_them() -> None:
    long = [
        (recipe.key, step.text)
        for recipe in RECIPES
        for step in recipe.steps
        if step.attention is not Attention.HANDS and step.fixed_min + step.per_unit_min * recipe.largest > 30
    ]
    assert len(long) > 50
    assert not [(key, text) for key, text in long if WORK.search(text)]


def test_sieving_takes_longer_when_there_is_more() -> None:
    sieving = [(r.key, s) for r in RECIPES for s in r.steps if s.key == "sieve"]
    assert len(sieving) >= 5
    for key, step in sieving:
        assert step.attention is Attention.HANDS, key
        assert step.per_unit_min >= 2, key


def test_what_uses_two_pots_needs_two_burners() -> None:
    two = re.compile(r"two (wide |hot )?(pots|pans)|boil the (pasta|noodles|rice);|, boil the (pasta|noodles|rice)")
    found = [(recipe.key, step) for recipe in RECIPES for step in recipe.steps if two.search(step.text.lower())]
    assert len(found) > 10
    for key, step in found:
        assert sum(n.amount for n in step.needs if n.equipment == "burner") >= 2, (key, step.key)


@pytest.mark.parametrize("recipe", EATEN, ids=lambda recipe: recipe.key)
def test_one_can_cook_for_oneself_where_a_pan_allows_it(recipe: Recipe) -> None:
    assert recipe.smallest <= 2
    if not any(word in recipe.key for word in ("roast", "pot_chicken")):
        assert recipe.smallest == 1


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda recipe: recipe.key)
def test_stock_is_never_needed_where_water_will_do(recipe: Recipe) -> None:
    for line in recipe.ingredients:
        if not line.main and any("stock" in food or "broth" in food for food in line.foods):
            assert line.foods[0] == "water"


@pytest.mark.parametrize("recipe", [r for r in RECIPES if r.use is Use.FERMENT], ids=lambda recipe: recipe.key)
def test_ferments_stand_cold_when_they_are_sour(recipe: Recipe) -> None:
    """Guide 6: refrigerated after fermentation, dill pickles 4 to 6 months."""
    (product,) = recipe.products
    assert product.place is Place.FRIDGE
    assert product.keeps_days <= 122


@pytest.mark.parametrize("recipe", [r for r in RECIPES if r.process], ids=lambda recipe: recipe.key)
def test_lines_of_acid_say_that_they_are_for_each_jar(recipe: Recipe) -> None:
    for line in recipe.ingredients:
        if line.foods[0] == "lemon juice, bottled" and recipe.key.startswith("tomato"):
            assert "2 tbsp a quart, 1 tbsp a pint" in line.preparation
        if line.foods[0].startswith("vinegar"):
            assert "5 %" in line.preparation


@pytest.mark.parametrize("recipe", [r for r in EATEN if r.products[0].meal_role == "sweet"], ids=lambda r: r.key)
def test_a_sweet_is_fruit_milk_or_jam(recipe: Recipe) -> None:
    groups = {vocabulary.food(food).group for i in recipe.ingredients if i.main for food in i.foods}
    assert groups <= {"fruit", "dairy", "sugar and sweet", "fruit product", "vegetable"}


# Words of the steps that are things to have ready, and the foods that answer to them.
NAMED = {
    "vinegar": "vinegar",
    "sugar": "sugar",
    "lemon juice": "lemon juice",
    "ascorbic acid": "ascorbic acid",
    "butter": "butter",
    "garlic": "garlic",
    "mustard": "mustard",
    "starch": "cornstarch",
    "dill": "dill",
    "curing salt": "curing salt",
    "pasta": "pasta",
    "noodles": "noodles",
    "rice": "rice",
    "carrot": "carrot",
    "onion": "onion",
}


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda recipe: recipe.key)
def test_what_the_steps_put_in_stands_among_the_ingredients(recipe: Recipe) -> None:
    text = " ".join(step.text.lower() for step in recipe.steps).replace("wipe the rims with vinegar", "")
    foods = " ".join(food for line in recipe.ingredients for food in line.foods)
    for word, food in NAMED.items():
        assert not re.search(rf"\b{word}s?\b", text) or food in foods, word


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda recipe: recipe.key)
def test_steps_and_preparations_are_written_out(recipe: Recipe) -> None:
    for step in recipe.steps:
        assert step.text[0].isupper(), step.key
        assert step.text.endswith("."), step.key
    for line in recipe.ingredients:
        assert line.written
        assert not line.preparation.endswith((".", ",", ":"))


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda recipe: recipe.key)
def test_no_measure_in_a_preparation_goes_stale_when_the_batch_is_scaled(recipe: Recipe) -> None:
    measure = re.compile(
        r"\b(cups?|tbsp|tsp|teaspoons?|cloves?|gallons?|quarts?|litres?|ml|oz|lb|pounds?|g|kg)\b|"
        r"\b(\d+|two|three|four|five|six|seven|eight|nine|ten|a dozen) (small|medium|large|whole) "
    )
    rate = re.compile(r"\b(a quart|to a|each|per|weighs)\b")
    for line in recipe.ingredients:
        assert not measure.search(line.preparation) or rate.search(line.preparation), line.preparation
