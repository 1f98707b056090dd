"""The arithmetic of the recipes against printed figures: nothing from nothing, cures, brines, doughs, carcasses."""

import re

import pytest

from stillroom.model.household import Place
from stillroom.model.recipe import Recipe, Use
from stillroom.quantities.curing_limits import CuredProduct, CureMethod, limit
from stillroom.recipes.reader import all_recipes
from stillroom.tables.keeping import keeping
from stillroom.tables.yields import yields

RECIPES = {recipe.key: recipe for recipe in all_recipes()}
SWELLS = {"pasta": 1.2, "rice, white": 1.8, "egg noodles": 1.8}  # water taken up while boiled, per gram dry (yields)


def of_use(use: Use) -> list[str]:
    return [key for key, recipe in RECIPES.items() if recipe.use is use]


def grams(recipe: Recipe, *foods: str) -> float:
    return sum(i.mass_g for i in recipe.ingredients if i.foods[0] in foods)


def trim(food: str) -> float:
    """Largest published edible share of a food as it is bought."""
    found = [y.fraction for y in yields(food) if y.kind == "trim" and y.fraction is not None]
    return max(found, default=1.0)


@pytest.mark.parametrize("key", RECIPES)
def test_no_more_comes_out_than_goes_in(key: str) -> None:
    recipe = RECIPES[key]
    taken_up = sum(i.mass_g * SWELLS.get(i.foods[0], 0.0) for i in recipe.ingredients)
    ingredients = sum(i.mass_g for i in recipe.ingredients)
    assert sum(p.mass_g_per_unit for p in recipe.products) <= ingredients + taken_up + 1e-6


@pytest.mark.parametrize(
    "key",
    ["beans_green_frozen", "broccoli_frozen", "peas_frozen", "corn_frozen", "carrots_frozen", "strawberries_frozen"],
)
def test_what_is_frozen_is_what_trimming_leaves(key: str) -> None:
    """SR refuse fields and the second opinions beside them."""
    recipe = RECIPES[key]
    (main,) = [i for i in recipe.ingredients if i.main]
    share = recipe.products[0].mass_g_per_unit / main.mass_g
    assert 0.7 * trim(main.foods[0]) <= share <= trim(main.foods[0])


@pytest.mark.parametrize(
    ("key", "fresh"),
    [("apple_rings_dried", "apple"), ("tomatoes_dried", "tomato"), ("herbs_dried", "parsley")],
)
def test_dried_weights_follow_the_water_that_leaves(key: str, fresh: str) -> None:
    """Yields table, kind dry, from water contents, times what trimming leaves; R168 prints less (tomato 0.036)."""
    recipe = RECIPES[key]
    (dry,) = [y.fraction for y in yields(fresh) if y.kind == "dry"]
    share = recipe.products[0].mass_g_per_unit / recipe.main_g
    assert dry is not None
    assert 0.5 * dry <= share <= dry * trim(fresh) * 1.02


def test_jerky_and_lard_come_out_as_printed() -> None:
    """R175: 454 g make 113 g. Yields table: leaf fat renders to 0.84 of its weight."""
    assert RECIPES["jerky_dried"].products[0].mass_g_per_unit == pytest.approx(113 / 454 * 1000, rel=0.01)
    assert RECIPES["lard_rendered"].products[0].mass_g_per_unit == pytest.approx(840)


@pytest.mark.parametrize(
    ("key", "product"),
    [
        ("bacon_cured", CuredProduct.BACON),
        ("loin_bacon_cured", CuredProduct.WHOLE_MUSCLE),
        ("salt_pork", CuredProduct.WHOLE_MUSCLE),
    ],
)
def test_cures_hold_enough_nitrite_and_never_too_much(key: str, product: CuredProduct) -> None:
    """R190: ppm = g mix x 0.0625 x 10^6 / g meat. R187: bacon 120 ppm in Canada; R186: least 40."""
    recipe = RECIPES[key]
    mix_g = grams(recipe, "curing salt no. 1")
    ppm = mix_g * 0.0625 * 1e6 / recipe.main_g
    assert 40 <= ppm <= limit(product, CureMethod.DRY).nitrite_ppm
    if product is CuredProduct.BACON:
        assert ppm <= 120
    salt_percent = 100 * (grams(recipe, "salt") + 0.9375 * mix_g) / recipe.main_g
    low, high = (1.5, 2.5) if product is CuredProduct.BACON else (2.5, 3.0)  # R202
    assert low <= salt_percent <= high


@pytest.mark.parametrize("key", of_use(Use.CURE))
def test_the_cure_is_weighed_for_each_piece_in_the_words_of_the_step(key: str) -> None:
    """A plan adds up the curing salt of all pieces; all of it on one piece would be far over the limit."""
    recipe = RECIPES[key]
    (rub,) = [step for step in recipe.steps if step.key == "rub"]
    assert recipe.main_g == pytest.approx(1000)
    assert "For every kilogram of that piece" in rub.text
    for food in ("salt", "curing salt no. 1"):
        assert f"{grams(recipe, food):g} g of" in rub.text, food


def test_poultry_in_parts_is_no_fresher_than_the_bird() -> None:
    """R122: raw poultry 2 days in all; an arrival without a clock of its own waits one of them whole."""
    assert {product.keeps_days for product in RECIPES["chicken_cut_up"].products} == {1}


@pytest.mark.parametrize("key", of_use(Use.CURE))
def test_cures_take_a_week_or_two_in_the_cold(key: str) -> None:
    """R198: belly 7-14 days; R204: 2 to 4 °C."""
    (product,) = RECIPES[key].products
    assert 7 <= product.ready_day <= 14
    assert product.place is Place.FRIDGE


def test_sauerkraut_has_its_salt() -> None:
    """Between 1.8 and 2.5 % of the shredded cabbage; 0.80 of a head is left (SR refuse field)."""
    recipe = RECIPES["sauerkraut"]
    percent = 100 * grams(recipe, "canning salt") / (recipe.main_g * trim("cabbage"))
    assert 1.8 <= percent <= 2.5
    assert recipe.products[0].ready_day >= 21  # 3 to 4 weeks at 70-75 °F


def test_fermented_cucumbers_lie_in_the_printed_brine() -> None:
    """Guide 6: 4 lb, 1/2 cup (146 g) salt, 1/4 cup vinegar, 8 cups water; about 3.5 % over all."""
    recipe = RECIPES["dill_cucumbers_fermented"]
    salt, water = grams(recipe, "canning salt"), grams(recipe, "water")
    assert recipe.main_g == pytest.approx(4 * 453.59237)
    assert water == pytest.approx(8 * 236.6, rel=0.01)
    assert grams(recipe, "vinegar, distilled") >= 236.6 / 4
    assert 3.3 <= 100 * salt / (salt + water + recipe.main_g) <= 3.8


FLOURS = ("wheat flour, bread", "wheat flour, whole", "wheat flour, all-purpose", "rye flour, medium")


@pytest.mark.parametrize(
    "key",
    [
        "bread_overnight",
        "loaf_cold",
        "sourdough_overnight",
        "rye_overnight",
        "rolls_overnight",
        "flatbread",
        "loaves_frozen",
    ],
)
def test_lean_doughs_lie_within_the_usual_percentages(key: str) -> None:
    """R217, R218: of all flour, that of the starter (half flour, half water) counted."""
    recipe = RECIPES[key]
    starter = grams(recipe, "sourdough starter")
    flour = grams(recipe, *FLOURS) + starter / 2
    assert 60 <= 100 * (grams(recipe, "water") + starter / 2) / flour <= 75
    assert 1.8 <= 100 * grams(recipe, "salt") / flour <= 2.2
    baked = recipe.products[0].mass_g_per_unit
    dough = sum(i.mass_g for i in recipe.ingredients)
    assert 0.8 <= baked / dough <= 0.95  # bake loss 5 to 20 %


def test_yeast_fits_the_night() -> None:
    """R218: 0.05-0.3 % overnight at room temperature; R230: 1 % for 12 h in the fridge."""
    overnight, rolls = RECIPES["bread_overnight"], RECIPES["rolls_overnight"]
    assert 0.05 <= 100 * grams(overnight, "yeast, instant") / grams(overnight, *FLOURS) <= 0.3
    assert 100 * grams(rolls, "yeast, instant") / grams(rolls, *FLOURS) == pytest.approx(1.0)


@pytest.mark.parametrize("key", of_use(Use.BREAK_DOWN))
def test_the_parts_are_not_more_than_the_carcass(key: str) -> None:
    recipe = RECIPES[key]
    assert 0.5 <= sum(p.mass_g_per_unit for p in recipe.products) / recipe.main_g <= 1


def test_half_a_pig_gives_the_printed_parts() -> None:
    """Hog chart, 184 lb carcass [lb]: R248 to R252."""
    pig = {p.food: p.mass_g_per_unit / RECIPES["pig_half_cut"].main_g for p in RECIPES["pig_half_cut"].products}
    assert pig["pork leg"] == pytest.approx((25.5 + 2.3) / 184, abs=0.005)
    assert pig["pork loin"] == pytest.approx((10.7 + 7.6 + 5.7 + 3.2 + 1.6) / 184, abs=0.005)
    assert pig["pork shoulder"] == pytest.approx((12.6 + 4.4 + 7.8) / 184, abs=0.005)
    assert pig["pork belly"] == pytest.approx(19 / 184, abs=0.005)
    assert pig["pork spareribs"] == pytest.approx(5.8 / 184, abs=0.005)
    assert pig["pork trimmings"] == pytest.approx((5.8 + 1.6 + 9.1 + 1.7) / 184, abs=0.005)
    # What the chart leaves as skin, fat, bone, head and shrink is more than the bones and backfat taken here.
    rest = (11.4 + 3.4 + 4.0 + 1.0 + 0.8 + 39.2) / 184
    assert pig["pork backfat"] + pig["pork bones"] <= rest


def test_other_carcasses_give_the_printed_parts() -> None:
    """R236 chicken; R255 beef; R257 deer."""
    chicken = {p.food: p.mass_g_per_unit / 1000 for p in RECIPES["chicken_cut_up"].products}
    assert chicken["chicken breast, skinless"] == pytest.approx(0.25 * 0.72)
    assert (chicken["chicken leg"], chicken["chicken wing"]) == (0.33, 0.14)
    assert chicken["chicken carcass"] == pytest.approx(0.17 + 0.25 * 0.28)
    beef = {p.food: p.mass_g_per_unit / 1000 for p in RECIPES["beef_quarter_cut"].products}
    assert beef["beef top sirloin"] == beef["beef chuck roast"] == beef["beef trimmings"] == 0.25
    deer = {p.food: p.mass_g_per_unit / 1000 for p in RECIPES["venison_cut"].products}
    assert deer["venison"] == 0.43
    assert deer["venison"] + deer["venison bones"] == pytest.approx(0.56)
    turkey = {p.food: p.mass_g_per_unit / 1000 for p in RECIPES["turkey_cut_up"].products}
    assert (turkey["turkey meat"], turkey["turkey carcass"]) == (0.59, 0.29)  # SR refuse 41 %, of it 29 % bone


@pytest.mark.parametrize("key", of_use(Use.BREAK_DOWN))
def test_parts_keep_no_longer_than_the_keeping_table_says(key: str) -> None:
    for product in RECIPES[key].products:
        assert product.food
        longest = [k.max_days for k in keeping(product.food, "raw", "refrigerator") if k.max_days is not None]
        assert product.keeps_days <= min(longest, default=5)
        if "ground" in product.food or "trimmings" in product.food or "chicken" in product.food:
            assert product.keeps_days <= 2  # R122


@pytest.mark.parametrize(
    ("key", "minutes"),
    [
        ("beans_green_frozen", "3 minutes"),
        ("broccoli_frozen", "3 minutes"),
        ("peas_frozen", "1½ minutes"),
        ("corn_frozen", "4 minutes"),
        ("carrots_frozen", "2 minutes"),
        ("greens_frozen", "2 minutes"),
        ("cauliflower_frozen", "3 minutes"),
        ("asparagus_frozen", "2 minutes (thin), 3 minutes (medium) or 4 minutes"),
        ("brussels_sprouts_frozen", "4 minutes (medium) or 5 minutes"),
        ("okra_frozen", "3 minutes (small pods) or 4 minutes"),
        ("summer_squash_frozen", "3 minutes"),
        ("eggplant_frozen", "4 minutes"),
        ("cabbage_frozen", "1½ minutes"),
        ("potatoes_frozen", "4 minutes (pieces) or 5 minutes"),
        ("shell_beans_frozen", "3 minutes (medium) or 4 minutes"),
    ],
)
def test_blanching_minutes_are_the_printed_ones(key: str, minutes: str) -> None:
    """Blanching list in the rules, section freezing."""
    (blanch,) = [step for step in RECIPES[key].steps if step.key == "blanch"]
    assert re.search(rf"blanch {re.escape(minutes)}\b", blanch.text)
    assert any(need.equipment == "ice bath" for need in blanch.needs)


@pytest.mark.parametrize("key", of_use(Use.FREEZE))
def test_frozen_food_takes_room_and_has_a_quality_limit(key: str) -> None:
    """R126: 0.56 kg to the litre at best for packs; stock and stew are nearly water; R133 to R148: a year at most."""
    (product,) = RECIPES[key].products
    assert product.place is Place.FREEZER
    assert 1.0 <= product.volume_l_per_kg <= 4.0
    assert 30 <= product.keeps_days <= 365
    assert product.food
