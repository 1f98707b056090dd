"""What a recipe holds, as far as its safety goes: meat, cut small or whole, cooked or raw, curing salt, oil, water."""

from __future__ import annotations

import re
from functools import cache

from stillroom.model.recipe import Ingredient, Product, Recipe
from stillroom.tables import vocabulary

MEAT = frozenset(("pork", "beef", "lamb and game", "poultry", "fish"))
ANIMAL = MEAT | {"dairy", "eggs"}
PLANTS = frozenset(("vegetable", "fruit", "herb", "legume"))
SALTS = frozenset(("salt", "canning salt"))
US_MIX_NITRITE = 0.0625  # curing salt no. 1, rule R178
_FATS = frozenset(("pork backfat", "pork leaf fat", "pork caul fat", "beef fat", "duck fat", "chicken skin"))
_MADE_DISHES = frozenset(("dish", "stock and soup"))
_COOKED = re.compile(r", .*(cooked|boiled|baked|roasted|braised|stewed|home prepared)")
_NOT_AS_GROWN = re.compile(
    r",.*(boiled|baked|cooked|canned|pickled|frozen|dried|powder)|sauerkraut|kimchi|sauce|paste|puree|juice|butter|jam"
)
_OFFAL = re.compile(
    r"liver|heart|kidney|tongue|tripe|sweetbread|giblet|blood|head\b|trimmings|pudding|sausage|chorizo, fresh"
)
_GROUND_WORDS = re.compile(
    r"\b(minced?|mincemeat|ground (?:meat|beef|pork|lamb|veal|venison)|burgers?|patties|tartare)\b", re.I
)
_GRINDING = re.compile(
    r"\b(?:mincer|meat grinder|(?:mince|grind) (?:the |all )*(?:meat|beef|pork|lamb|veal|venison|trimmings|it|them))\b",
    re.I,
)
_COOKING = re.compile(r"\b(boil|simmer|roast|fry|braise|poach|blanch|stew)\b", re.I)
_CURING_WORDS = re.compile(r"curing salt|pink salt|nitrit|nitrat|saltpet|prague|cure no", re.I)
_WITHOUT = re.compile(r"\b(?:no|without|free of) (?:any )?(?:nitrites?|nitrates?)\b|\bnitr[ia]te-free\b", re.I)
_NITRATE_WORDS = re.compile(r"nitrate|saltpet|no\. ?2\b", re.I)
_PERCENT = re.compile(r"(\d+(?:[.,]\d+)?) ?(?:%|per ?cent)", re.I)


def groups(ingredient: Ingredient) -> frozenset[str]:
    """The groups of every food that will do, since any of them may be taken."""
    return frozenset(vocabulary.food(key).group for key in ingredient.foods)


def of_groups(recipe: Recipe, wanted: frozenset[str]) -> tuple[Ingredient, ...]:
    """The ingredients of which a food is in one of the groups, main or not."""
    return tuple(line for line in recipe.ingredients if groups(line) & wanted)


def words(recipe: Recipe) -> str:
    """All that is written about the recipe and how it is made."""
    lines = (f"{line.written} {line.preparation} {' '.join(line.foods)}" for line in recipe.ingredients)
    return " ".join((recipe.name, recipe.summary, *lines, *(step.text for step in recipe.steps), *recipe.cautions))


def is_heated(recipe: Recipe) -> bool:
    """Whether any step stands on a burner or in the oven, or says that something is cooked."""
    return any(_COOKING.search(step.text) for step in recipe.steps) or any(
        need.equipment in ("burner", "oven", "canner") for step in recipe.steps for need in step.needs
    )


def is_cooked(recipe: Recipe) -> bool:
    """Whether what is made counts as a cooked dish: heated, or of something cooked before."""
    keys = [key for line in recipe.ingredients for key in line.foods]
    made = [key for key in keys if vocabulary.food(key).group in _MADE_DISHES or _COOKED.search(key)]
    return is_heated(recipe) or bool(made) or any("jarred" in line.states for line in recipe.ingredients)


def is_baked_dough(recipe: Recipe) -> bool:
    """Bread or cake: baked, 15 % flour or more, no meat, fish, cheese or cream in it (common practice, no source)."""
    grain_g = sum(line.mass_g for line in of_groups(recipe, frozenset(("grain and flour", "dough and bread"))))
    moist = any(re.search("cheese|cream", key) for line in recipe.ingredients for key in line.foods)
    oil_g = sum(line.mass_g for line in recipe.ingredients if any(map(is_oil, line.foods)))
    is_dough = grain_g >= max(oil_g, 0.15 * sum(line.mass_g for line in recipe.ingredients))
    return recipe.use == "bake" and is_heated(recipe) and is_dough and not moist and not of_groups(recipe, MEAT)


def is_ground_or_offal(recipe: Recipe, keys: tuple[str, ...], product: Product | None = None) -> bool:
    """Whether raw meat may be minced or offal: by its key, by a name of it that means mince, or by what is written."""
    if any("ground" in key or _OFFAL.search(key) or _may_mean_mince(key) for key in keys):
        return True
    prepared = " ".join(f"{line.written} {line.preparation}" for line in of_groups(recipe, MEAT))
    said = f"{recipe.name} {recipe.unit} {product.name if product else ''} {prepared}"
    is_cut = product is not None and recipe.use == "break down"
    ground = _GRINDING.search(" ".join(step.text for step in recipe.steps)) and not is_cut
    return bool(_GROUND_WORDS.search(said) or re.search(r"\bground\b", prepared, re.I) or ground)


@cache
def _may_mean_mince(key: str) -> bool:
    """A key such as “beef”, which “minced beef” is read as: which of the two was written is not known any more."""
    names = vocabulary.food(key).synonyms
    return vocabulary.food(key).group in MEAT and any("ground" in (vocabulary.hear(name).form or "") for name in names)


def is_fat(key: str) -> bool:
    """Whether it is fat to be rendered, or fat already."""
    return key in _FATS or vocabulary.food(key).group == "fat and oil"


def is_as_grown(ingredient: Ingredient) -> bool:
    """Raw and whole fruit or vegetables."""
    cut = re.search(r"\b(peeled|sliced|diced|chopped|grated|shredded|cooked|mashed)\b", ingredient.preparation, re.I)
    plain = not any(_NOT_AS_GROWN.search(key) for key in ingredient.foods)
    return groups(ingredient) <= {"vegetable", "fruit"} and plain and not cut


def is_oil(key: str) -> bool:
    """Oil or fat that keeps the air out; what only comes already stirred into something else is not meant."""
    food = vocabulary.food(key)
    return (food.group == "fat and oil" and key not in ("mayonnaise", "margarine", "vegetable shortening")) or key in (
        "duck fat",
        "butter oil, anhydrous",
    )


def nitrite_fraction(ingredient: Ingredient) -> float:
    """Share of nitrite in it [-], 0 where it is no curing salt: as written, else that of the common mix."""
    written = _WITHOUT.sub("", f"{ingredient.written} {ingredient.preparation}")
    if not any(key.startswith("curing salt") for key in ingredient.foods) and not _CURING_WORDS.search(written):
        return 0.0
    percents = [float(found.replace(",", ".")) for found in _PERCENT.findall(written)]
    return max(percents) / 100 if percents else US_MIX_NITRITE


def holds_nitrate(ingredient: Ingredient) -> bool:
    """Whether it is a mix with nitrate, or saltpetre."""
    written = _WITHOUT.sub("", f"{ingredient.written} {ingredient.preparation} {' '.join(ingredient.foods)}")
    return nitrite_fraction(ingredient) > 0 and bool(_NITRATE_WORDS.search(written))
