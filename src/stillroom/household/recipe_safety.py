"""Where and how long what a recipe makes may keep, whatever the file says its use is: the first reason against it.

The limits in days are those of USDA FSIS (cold food storage) and of the keeping table. Fermenting: the fermentation
table; oil: low-acid food under oil makes botulinum toxin outside the cold. Unsourced ones say “common practice”.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from stillroom.household import recipe_foods as foods
from stillroom.household.cure_safety import cure_faults, is_cure
from stillroom.model.household import Place
from stillroom.model.recipe import Ingredient, Product, Recipe, Use
from stillroom.tables import vocabulary
from stillroom.tables.keeping import keeping
from stillroom.tables.yields import yields

GROUND_DAYS, MEAT_DAYS, COOKED_DAYS, OIL_DAYS, LOAF_DAYS = 2, 5, 4, 4, 5
CUT_DAYS, LEAST_VINEGAR_SHARE = 7, 0.25  # common practice, no source
CROCK_DAYS = 42  # six weeks at 13 to 18 °C, fermentation table
LEAST_FERMENT_SALT, MOST_FERMENT_SALT = 0.018, 0.05
MOST_DRIED_SHARE = 0.5  # of the fresh weight; every row of the drying yields is below
LEAST_DRYING_MIN = 120  # common practice, no source: nothing thicker than a leaf dries faster
MOST_OIL_SHARE = 0.05
_DRY_GROUPS = frozenset(
    ("fruit", "vegetable", "herb", "grain and flour", "legume", "seasoning and acid", "sugar and sweet")
)
_COLD = re.compile(r"\b(fridge|refrigerat\w*|freezer|frozen)\b", re.I)
_TO_TRIM = re.compile(r"trimmed|outer leaves|\bcore", re.I)


def why_not_safe(recipe: Recipe) -> str:
    """The first reason why nothing is made by this recipe as it is written; empty when there is none."""
    return next(_faults(recipe), "")


def _faults(recipe: Recipe) -> Iterator[str]:
    yield from _drying_meat(recipe)
    if is_cure(recipe):
        yield from cure_faults(recipe)
    if recipe.use is Use.FERMENT:
        yield from _ferment(recipe)
    for product in recipe.products:
        yield from _oil(recipe, product)
        if product.container in ("jar", "dry jar") or product.place is Place.SHELF:
            yield from _shelf(recipe, product)
        elif product.place is Place.CELLAR:
            yield from _cellar(recipe, product)
        elif product.place is Place.COUNTER:
            yield from _counter(recipe, product)
        elif product.place is Place.FRIDGE and not is_cure(recipe) and recipe.use is not Use.FERMENT:
            yield from _fridge(recipe, product)


def _days(product: Product) -> int:
    """From making to the last day: waiting until it is ready counts."""
    return product.keeps_days + product.ready_day


def _drying_meat(recipe: Recipe) -> Iterator[str]:
    dries = recipe.use is Use.DRY or any(need.equipment == "dryer" for step in recipe.steps for need in step.needs)
    meat = foods.of_groups(recipe, foods.MEAT)
    if dries and meat:
        yield (
            f"It dries {meat[0].foods[0]}, and drying alone kills nothing in meat or fish. Dry meat by the recipe for "
            "jerky that comes with the program, which heats it first, or freeze it."
        )


def _shelf(recipe: Recipe, product: Product) -> Iterator[str]:
    if recipe.use is Use.JAR and recipe.process and product.container == "jar":
        return
    if recipe.use is not Use.DRY or product.container != "dry jar":
        yield (
            f"{product.name} in a {product.container} ({product.place}) is made by no tested process: only “use: jar” "
            "with a “process”, or “use: dry” with a dry jar, makes what keeps on the shelf or in jars. Freeze it, or "
            "keep it in a tub in the fridge for some days."
        )
        return
    wrong = next((line for line in recipe.ingredients if not _may_be_dried(line)), None)
    if wrong:
        yield (
            f"{product.name} is dried with {wrong.foods[0]} in it: only fruit, vegetables, herbs, mushrooms and grain "
            "may be dried for the shelf. Leave it out, or freeze what you make."
        )
    elif not _is_dry(recipe):
        yield (
            f"{product.name} is not dried by what is written: the drying takes less than {LEAST_DRYING_MIN // 60} "
            "hours, or more than half of the fresh weight is left. Dry it until leathery or brittle, or freeze it."
        )


def _may_be_dried(line: Ingredient) -> bool:
    moist = any(re.search(r"cooked|boiled|noodle|pasta|vinegar|sauce|in oil", key) for key in line.foods)
    return line.foods == ("water",) or (foods.groups(line) <= _DRY_GROUPS and not moist)


def _is_dry(recipe: Recipe) -> bool:
    fresh = [line for line in recipe.ingredients if foods.groups(line) & {"fruit", "vegetable", "herb"}]
    fresh_g = sum(line.mass_g for line in fresh if "dried" not in line.states)
    dried_g = sum(product.mass_g_per_unit for product in recipe.products if product.container == "dry jar")
    minutes = max(
        (
            max(step.fixed_min + step.per_unit_min, *(after.min_lag_min for after in step.after), 0)
            for step in recipe.steps
        ),
        default=0,
    )
    is_light = not fresh_g or dried_g <= MOST_DRIED_SHARE * sum(
        line.mass_g for line in recipe.ingredients if line in fresh
    )
    return is_light and (not fresh_g or minutes >= LEAST_DRYING_MIN)


def _cellar(recipe: Recipe, product: Product) -> Iterator[str]:
    if recipe.use is Use.FERMENT and product.container == "crock":
        if _days(product) > CROCK_DAYS or not _COLD.search(foods.words(recipe)):
            yield (
                f"{product.name} stands in the cellar for {_days(product)} days: a ferment may stand in its crock for "
                f"at most {CROCK_DAYS} days and must then go into the fridge; write a step that says so."
            )
        return
    if (
        recipe.use is not Use.KEEP_FRESH
        or foods.is_heated(recipe)
        or not all(map(foods.is_as_grown, recipe.ingredients))
    ):
        yield (
            f"{product.name} does not keep in a cellar: only raw whole fruit and vegetables (“use: keep fresh”) and "
            "ferments still in their crock do. Freeze it, or keep it in the fridge for some days."
        )


def _counter(recipe: Recipe, product: Product) -> Iterator[str]:
    days = _days(product)
    if foods.is_baked_dough(recipe):
        if days > LOAF_DAYS:
            yield f"{product.name} keeps on the counter for at most {LOAF_DAYS} days, not {days}; freeze the rest."
        return
    spoils = foods.is_cooked(recipe) or bool(foods.of_groups(recipe, foods.ANIMAL))
    if days > (0 if spoils else 2):
        why = (
            "cooked food, meat, fish, eggs and milk stay out for 2 hours at most"
            if spoils
            else "only bread keeps longer"
        )
        yield f"{product.name} stands on the counter for {days} days: {why}. Keep it in the fridge or the freezer."


def _fridge(recipe: Recipe, product: Product) -> Iterator[str]:
    limit, what = _fridge_limit(recipe, product)
    if _days(product) > limit:
        yield (
            f"{product.name} is to keep {_days(product)} days in the fridge, and {what} keeps there for at most "
            f"{limit:.0f}. Write fewer days, or freeze it."
        )


def _fridge_limit(recipe: Recipe, product: Product) -> tuple[float, str]:
    """Most days and what they hold for; no limit is known for raw fruit, vegetables, bread and dry goods."""
    lines = foods.of_groups(recipe, foods.ANIMAL)
    keys = tuple(key for line in lines for key in line.foods)
    if foods.is_heated(recipe) and product.food and keys and all(map(foods.is_fat, (*keys, product.food))):
        return _printed((product.food,), ("raw", "opened"), 180), "rendered fat"
    if foods.is_baked_dough(recipe):
        return (LOAF_DAYS if keys else float("inf")), "a cake or a loaf with milk or eggs"
    if foods.is_cooked(recipe):
        return _printed((product.food,) if product.food else (), ("cooked",), COOKED_DAYS), "a cooked dish"
    return _raw_limit(recipe, product, keys) if keys else _plant_limit(recipe)


def _plant_limit(recipe: Recipe) -> tuple[float, str]:
    """Most days for raw plants: none is set for whole ones, for dry goods and for what stands in vinegar."""
    plants = foods.of_groups(recipe, foods.PLANTS)
    vinegar_g = sum(line.mass_g for line in recipe.ingredients if "vinegar" in line.foods[0])
    is_sour = vinegar_g >= LEAST_VINEGAR_SHARE * sum(line.mass_g for line in recipe.ingredients)
    is_whole = recipe.use is Use.KEEP_FRESH and all(map(foods.is_as_grown, plants))
    return (float("inf") if not plants or is_whole or is_sour else CUT_DAYS), "what is cut or mixed of raw plants"


def _raw_limit(recipe: Recipe, product: Product, keys: tuple[str, ...]) -> tuple[float, str]:
    """Most days for what is neither cooked nor baked and holds these foods of animals."""
    if recipe.use is Use.BREAK_DOWN and product.food and vocabulary.food(product.food).group in foods.MEAT:
        keys = (product.food,)
    meat = tuple(key for key in keys if vocabulary.food(key).group in foods.MEAT)
    tender = any(vocabulary.food(key).group in ("poultry", "fish") for key in meat)
    if meat and (tender or foods.is_ground_or_offal(recipe, meat, product)):
        return _printed(meat, ("raw",), GROUND_DAYS), "raw minced meat, poultry, fish or offal"
    if meat:
        return _printed(meat, ("raw",), MEAT_DAYS), "raw meat"
    is_untouched = recipe.use is Use.KEEP_FRESH
    return _printed(keys, ("raw",), COOKED_DAYS, at_most=not is_untouched), "what is made with milk or eggs"


def _printed(keys: tuple[str, ...], states: tuple[str, ...], else_days: float, *, at_most: bool = True) -> float:
    """The least of the printed fridge days of the foods, never above `else_days` unless `at_most` is off."""
    rows = [row for key in keys for state in states for row in keeping(key, state, "refrigerator")]
    printed = [row.max_days for row in rows if row.max_days]
    if at_most:
        return min((*printed, else_days))
    return min(printed, default=else_days)


def _ferment(recipe: Recipe) -> Iterator[str]:
    animal = foods.of_groups(recipe, foods.ANIMAL)
    if animal:
        yield f"It ferments {animal[0].foods[0]}: a recipe of your own may only ferment vegetables and fruit in salt."
        return
    salt_g = sum(line.mass_g for line in recipe.ingredients if line.foods[0] in foods.SALTS and not line.optional)
    rest_g = sum(_trimmed_g(line) for line in recipe.ingredients if line.foods[0] not in foods.SALTS)
    share = salt_g / rest_g if rest_g else 0.0
    if not LEAST_FERMENT_SALT <= round(share, 4) <= MOST_FERMENT_SALT:
        yield (
            f"It ferments with {share:.1%} of salt, and between {LEAST_FERMENT_SALT:.1%} and {MOST_FERMENT_SALT:.0%} "
            "of the vegetables and water are needed: less lets the wrong germs in, more stops the right ones."
        )


def _trimmed_g(line: Ingredient) -> float:
    """Grams that are salted: where it is bought untrimmed, what the yield table leaves of it."""
    left = [row.fraction for row in yields(line.foods[0]) if row.kind == "trim" and row.fraction]
    return line.mass_g * max(left) if left and _TO_TRIM.search(line.preparation) else line.mass_g


def _oil(recipe: Recipe, product: Product) -> Iterator[str]:
    whole_g = sum(line.mass_g for line in recipe.ingredients)
    oil_g = sum(line.mass_g for line in recipe.ingredients if any(map(foods.is_oil, line.foods)))
    in_oil = any(re.search(r" in oil$|^pesto$", key) for line in recipe.ingredients for key in line.foods)
    is_covered = in_oil or (oil_g > MOST_OIL_SHARE * whole_g and foods.of_groups(recipe, foods.PLANTS))
    if not is_covered or foods.is_baked_dough(recipe) or product.place is Place.FREEZER:
        return
    eaten = product.container == "plate" and _days(product) == 0
    if not eaten and not (product.place is Place.FRIDGE and _days(product) <= OIL_DAYS):
        yield (
            f"{product.name} holds vegetables, garlic, herbs or fruit under oil, where botulism grows unseen: eat it "
            f"at once, freeze it, or keep it in the fridge for at most {OIL_DAYS} days."
        )
