"""Every jar recipe stands on a printed process, and its sums come out. Printed figures are typed again here."""

import math

import pytest

from stillroom import units
from stillroom.model.kitchen import Canner, JarKind
from stillroom.model.process import CannerKind, Evidence, JarSize, ProcessCard
from stillroom.model.recipe import Recipe
from stillroom.process.capacity import capacity, loads
from stillroom.process.find import find
from stillroom.process.screen import screen
from stillroom.recipes.reader import all_recipes

JARS = {recipe.key: recipe for recipe in all_recipes() if recipe.process}
ALTITUDES_M = (0.0, 304.0, 762.0)  # 0 ft, 997 ft, 2500 ft
CASES = [
    (key, jar, canner)
    for key, recipe in JARS.items()
    if recipe.process
    for jar in recipe.process.jars
    for canner in recipe.process.canners
]

# lb of produce as it comes for one quart: the load tables of Guides 2, 3, 4 and 6.
LB_PER_QUART = {
    "beans_green_jarred": 2,
    "carrots_jarred": 2.5,
    "pumpkin_cubes_jarred": 2.25,
    "corn_kernels_jarred": 4.5,
    "peas_green_jarred": 4.5,
    "greens_jarred": 4,
    "beets_jarred": 3,
    "beans_dried_jarred": 0.75,
    "tomatoes_crushed_jarred": 2.75,
    "tomatoes_whole_jarred": 3,
    "tomato_juice_jarred": 3.25,
    "tomato_sauce_jarred": 5,
    "apple_slices_jarred": 2.75,
    "applesauce_jarred": 3,
    "peaches_jarred": 2.5,
    "apricots_jarred": 2.25,
    "pears_jarred": 2.5,
    "plums_jarred": 2,
    "cherries_jarred": 2.5,
    "berries_jarred": 1.75,
    "rhubarb_jarred": 1.5,
    "dill_pickles_jarred": 2,
    "asparagus_jarred": 3.5,
    "lima_beans_jarred": 4,
    "okra_jarred": 1.5,
    "sweet_potatoes_jarred": 2.5,
    "mushrooms_jarred": 2 * 2,
    "peppers_jarred": 2 * 1,
}
# Tested formulas: lb of the main food, cups of 5 % vinegar, cups of water in the liquid, pints it makes.
FORMULAS = {
    "pickled_beets_jarred": (7, 4, 2, (8, 8)),
    "bread_and_butter_pickles_jarred": (6, 4, 0, (8, 8)),
    "pickled_peppers_jarred": (7, 5, 1, (9, 9)),
    "pickled_bell_peppers_jarred": (7, 3, 3, (9, 9)),
    "dill_pickles_jarred": (8, 6, 8, (7, 9)),
    "salsa_jarred": (5, 1, 0, (6, 8)),
    "apple_butter_jarred": (8, 2, 0, (8, 9)),
}


def grams(recipe: Recipe, *foods: str) -> float:
    return sum(i.mass_g for i in recipe.ingredients if i.foods[0] in foods)


def quarts_per_unit(recipe: Recipe) -> float:
    assert recipe.process
    return recipe.main_g / recipe.process.raw_g_per_quart


@pytest.mark.parametrize(("key", "jar", "canner"), CASES)
def test_a_printed_row_stands_behind_every_jar_and_canner(key: str, jar: JarSize, canner: CannerKind) -> None:
    request = JARS[key].process
    assert request
    for altitude_m in ALTITUDES_M:
        card = find(
            request.food, form=request.form, pack=request.pack, jar=jar.value, canner=canner, altitude_m=altitude_m
        )
        assert isinstance(card, ProcessCard), card
        assert (card.row.food, card.form, card.pack, card.jar_counted_as) == (
            request.food,
            request.form,
            request.pack,
            jar,
        )
        assert card.row.jar is jar
        assert card.row.evidence is not Evidence.MEMORY
        assert card.minutes > 0
        assert (card.pressure_psi is not None) == canner.is_pressure


def test_low_acid_food_is_only_written_for_pressure() -> None:
    for recipe in JARS.values():
        assert recipe.process
        rows = {canner.is_pressure for canner in recipe.process.canners}
        assert len(rows) == 1
        acid = {"vinegar, distilled", "vinegar, cider", "lemon juice, bottled"} & {
            i.foods[0] for i in recipe.ingredients if not i.optional
        }
        if acid:
            assert rows == {False}, recipe.key


@pytest.mark.parametrize(("key", "lb"), LB_PER_QUART.items())
def test_the_amount_for_a_quart_is_the_printed_one(key: str, lb: float) -> None:
    request = JARS[key].process
    assert request
    assert request.raw_g_per_quart == pytest.approx(lb * units.G_PER_LB)


@pytest.mark.parametrize("key", JARS)
def test_units_come_out_as_jars_loads_and_lids(key: str) -> None:
    """Seven quarts of one layer in a common canner; what is in a jar must fit it."""
    recipe = JARS[key]
    assert recipe.process
    quarts = quarts_per_unit(recipe)
    (product,) = recipe.products
    per_quart_g = product.mass_g_per_unit / quarts
    sweet = key.endswith("_jam_jarred")
    assert 0.6 * units.ML_PER_QUART <= per_quart_g <= (1.35 if sweet else 1.05) * units.ML_PER_QUART
    canner = Canner("common", CannerKind.WEIGHTED, 318, 265)
    quart = JarKind("quart", units.ML_PER_QUART, 96, 178, 99, 99)
    room = capacity(canner, quart)
    assert room.jars == 7
    jars = math.ceil(recipe.largest * quarts - 1e-9)
    work = loads(jars, room)
    assert work.loads == math.ceil(jars / 7)
    assert work.last_load_jars + 7 * (work.loads - 1) == jars
    assert recipe.largest * quarts <= 14 + 1e-6  # two loads at most in one go
    assert recipe.smallest * quarts >= 0.4  # worth heating a canner for


@pytest.mark.parametrize("key", [key for key in JARS if key.startswith("tomato")])
def test_tomatoes_get_two_tablespoons_of_bottled_lemon_juice_a_quart(key: str) -> None:
    """Guide 3; the juice weighs 1.01 to 1.03 g/ml."""
    recipe = JARS[key]
    lemon_ml = grams(recipe, "lemon juice, bottled") / quarts_per_unit(recipe) / 1.02
    assert lemon_ml == pytest.approx(2 * units.ML_PER_TABLESPOON, rel=0.02)


@pytest.mark.parametrize(("key", "formula"), FORMULAS.items())
def test_the_tested_proportions_are_kept(key: str, formula: tuple[float, float, float, tuple[int, int]]) -> None:
    lb, vinegar_cups, water_cups, (fewest, most) = formula
    recipe = JARS[key]
    main_lb = recipe.main_g / units.G_PER_LB
    assert main_lb == pytest.approx(lb, rel=0.002)
    vinegar_ml = grams(recipe, "vinegar, distilled", "vinegar, cider") / 1.008
    assert vinegar_ml >= vinegar_cups * units.ML_PER_CUP * 0.995
    water_ml = grams(recipe, "water")
    assert water_ml <= water_cups * units.ML_PER_CUP * 1.01
    strength = 5 * vinegar_ml / (vinegar_ml + water_ml)
    assert strength >= 5 * vinegar_cups / (vinegar_cups + water_cups) - 0.03
    assert fewest - 0.01 <= 2 * quarts_per_unit(recipe) <= most + 0.01


def test_salsa_never_holds_more_chile_or_onion_than_was_tested() -> None:
    """Guide 3: 5 lb tomatoes, 2 lb chiles, 1 lb onions."""
    recipe = JARS["salsa_jarred"]
    tomatoes = grams(recipe, "tomato")
    assert grams(recipe, "hot chili pepper, red") <= tomatoes * 2 / 5 + 1
    assert grams(recipe, "onion") <= tomatoes / 5 + 1


def test_spaghetti_sauce_never_holds_more_onion_or_pepper_than_was_tested() -> None:
    """Guide 3: 30 lb tomatoes, 1 cup (160 g) onion, 1 cup (150 g) pepper, 5 cloves (3 g each) garlic, 9 pints."""
    recipe = JARS["spaghetti_sauce_jarred"]
    share = grams(recipe, "tomato") / (30 * units.G_PER_LB)
    assert grams(recipe, "onion") <= 160 * share + 1
    assert grams(recipe, "green bell pepper") <= 150 * share + 1
    assert grams(recipe, "garlic") <= 15 * share + 1
    assert 2 * quarts_per_unit(recipe) / share == pytest.approx(9, rel=0.01)


@pytest.mark.parametrize(
    ("key", "vegetable_cups", "vinegar_cups"), [("pickle_relish_jarred", 19, 6), ("piccalilli_jarred", 18.75, 4.5)]
)
def test_relishes_keep_their_vinegar_to_the_cup_of_vegetables(
    key: str, vegetable_cups: float, vinegar_cups: float
) -> None:
    """Guide 6. A cup of chopped vegetable weighs 89 g (cabbage) to 180 g (tomato): SR Legacy portions."""
    recipe = JARS[key]
    foods = {"cucumber", "green bell pepper", "red bell pepper", "onion", "tomato, green", "cabbage"}
    vegetables_g = grams(recipe, *foods)
    assert 89 * vegetable_cups <= vegetables_g <= 180 * vegetable_cups
    vinegar_ml = grams(recipe, "vinegar, distilled") / 1.006
    assert vinegar_ml >= vinegar_cups * units.ML_PER_CUP * 0.995
    assert grams(recipe, "water") == 0


@pytest.mark.parametrize(
    "key",
    ["apple_slices_jarred", "peaches_jarred", "apricots_jarred", "pears_jarred", "plums_jarred", "berries_jarred"],
)
def test_fruit_lies_in_light_syrup(key: str) -> None:
    """Guide table 2-5, light: 9 cups water and 2 1/4 cups sugar for 7 quarts; a cup of sugar weighs 200 g."""
    recipe = JARS[key]
    assert grams(recipe, "water") == pytest.approx(9 * units.ML_PER_CUP / 7, rel=0.01)
    assert grams(recipe, "sugar, white") == pytest.approx(2.25 * 200 / 7, rel=0.01)


def test_jam_follows_the_formula_without_pectin() -> None:
    """MSU file 01600890: 4 cups sugar; apricots 2 tbsp lemon juice; 3-4 and 5-6 half-pints."""
    berry, apricot = JARS["berry_jam_jarred"], JARS["apricot_jam_jarred"]
    assert grams(berry, "sugar, white") == grams(apricot, "sugar, white") == pytest.approx(800)
    assert grams(apricot, "lemon juice, bottled") / 1.02 == pytest.approx(2 * units.ML_PER_TABLESPOON, rel=0.02)
    assert 3 <= 4 * quarts_per_unit(berry) <= 4
    assert 5 <= 4 * quarts_per_unit(apricot) <= 6


def test_soup_is_at_most_half_solids() -> None:
    """Guide 4, soups: half solids, half liquid."""
    recipe = JARS["vegetable_soup_jarred"]
    solids = sum(i.mass_g for i in recipe.ingredients if i.main)
    liquid = grams(recipe, "water", "tomato")
    assert solids <= liquid


@pytest.mark.parametrize("key", JARS)
def test_nothing_without_a_process_goes_into_a_low_acid_jar(key: str) -> None:
    """Guide 4 and the list of foods without a process."""
    recipe = JARS[key]
    forbidden = {"flour", "starch", "pasta", "noodles", "rice", "barley", "milk", "cream", "butter", "bacon", "ham"}
    for food in (food for ingredient in recipe.ingredients for food in ingredient.foods):
        words = set(food.replace(",", "").split())
        assert not words & forbidden, food
        assert "oil" not in words or key == "spaghetti_sauce_jarred"
    if key.startswith(("vegetable_soup", "mixed")):
        assert not any("cabbage" in food for i in recipe.ingredients for food in i.foods)


@pytest.mark.parametrize("key", [key for key, recipe in JARS.items() if "low acid" in recipe.source])
def test_low_acid_recipes_carry_the_caution(key: str) -> None:
    assert any("botulism" in caution for caution in JARS[key].cautions)


# The screen knows proportions only where the tables state them; these follow a formula read on a page (see `source`).
BY_FORMULA = {
    "apple_butter",
    "bread_and_butter_pickles",
    "dill_pickles",
    "piccalilli",
    "pickle_relish",
    "pickled_beets",
}
BY_FORMULA |= {"pickled_bell_peppers", "pickled_peppers", "spaghetti_sauce", "mixed_vegetables"}
BY_FORMULA |= {"beef_stock", "chicken_stock"}  # the screen has no row for bones, only for the stock they make


@pytest.mark.parametrize("key", [key for key in JARS if key.removesuffix("_jarred") not in BY_FORMULA])
def test_the_screen_for_brought_recipes_passes_ours(key: str) -> None:
    recipe = JARS[key]
    lines = [f"{i.written} {i.foods[0]}" for i in recipe.ingredients]
    screening = screen(lines, " ".join(step.text for step in recipe.steps), name=recipe.name)
    assert screening.is_tested, screening.reason
