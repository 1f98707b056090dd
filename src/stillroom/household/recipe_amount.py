"""How many units of a recipe an amount makes: food that arrived, pieces of one weight, units or portions."""

from __future__ import annotations

import re

from stillroom.errors import InputError
from stillroom.household.bundles import read_bundle
from stillroom.model.recipe import Recipe
from stillroom.quantities import amounts, scaling
from stillroom.quantities.bench import mass_text
from stillroom.quantities.number_text import NUMBER, plain_text, read_number
from stillroom.tables.vocabulary import hear


def ingredient_named(recipe: Recipe, text: str) -> str | None:
    """The ingredient named, in the cook's words or ours; None where none is named."""
    if not text or any(text in item.foods for item in recipe.ingredients):
        return text or None
    return hear(text).food.key


def units_of(recipe: Recipe, text: str, of_food: str | None) -> tuple[float, str]:
    """How many recipe units, and how that was worked out: “9 kg”, “3 birds of 2.2 kg”, “3 units”, “8 portions”."""
    match = re.fullmatch(rf"({NUMBER}) (units?|portions?)", plain_text(text))
    if match is None:
        food = of_food or scaling.leading_ingredient(recipe, of_food).foods[0]
        if " of " in text:
            bundle_g = read_bundle(text, food).mass_g
            return scaling.units_for(recipe, bundle_g, of_food), f"{mass_text(bundle_g)} ({text})"
        weighed = amounts.weigh(text, food)
        return scaling.units_for(recipe, weighed.mass_g, of_food), f"{mass_text(weighed.mass_g)} ({weighed.how})"
    number = read_number(match[1], text)
    if match[2].startswith("unit"):
        return number, f"{number:g} × {recipe.unit}"
    per_unit = sum(product.portions_per_unit for product in recipe.products)
    if per_unit == 0:
        raise InputError(f"“{recipe.name}” is not counted in portions; give an amount of food or units.")
    return number / per_unit, f"{number:g} portions at {per_unit:g} per {recipe.unit}"
