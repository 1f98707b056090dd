"""Every change of the household's own recipes."""

from __future__ import annotations

from datetime import datetime

from stillroom.errors import InputError
from stillroom.recipes.reader import all_recipes, parse_recipe
from stillroom.tables.spelling import plain
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household, OwnRecipe

_LONGEST_KEY = 60


def write_recipe(household: Household, text: str, *, at: datetime) -> Change:
    """A new recipe of the household's own; FileError names line and field of what can't be read."""
    recipe = parse_recipe(text, "recipe")
    row = OwnRecipe(household=household, key=_free_key(household, recipe.name), text=text)
    return keep(f"Wrote {recipe.name}", row, at=at)


def change_recipe(row: OwnRecipe, text: str, *, at: datetime) -> Change:
    """Its text as it was typed anew; what can't be read is never kept."""
    recipe = parse_recipe(text, row.key)
    row.text = text
    return keep(f"Changed {recipe.name}", row, at=at)


def take_out_recipe(row: OwnRecipe, *, at: datetime) -> Change:
    """Takes it out of the household."""
    return keep(f"Took out the recipe {row.key.replace('_', ' ')}", at=at, gone=[row])


def _free_key(household: Household, name: str) -> str:
    """The name of its file. Never that of one of ours, which it would replace in every plan unseen."""
    start = plain(name).replace("%", "").replace(" ", "_")[:_LONGEST_KEY].strip("_") or "recipe"
    taken = {recipe.key for recipe in all_recipes()} | set(household.recipes.values_list("key", flat=True))
    for number in range(1, 1000):
        key = start if number == 1 else f"{start}_{number}"
        if key not in taken:
            return key
    raise InputError(f"There are too many recipes called “{name}”: give this one another name.")
