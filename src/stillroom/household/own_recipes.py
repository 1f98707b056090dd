"""A household's own recipe is planned only where it is safe as written, and its jars only by a tested process."""

from __future__ import annotations

from stillroom.household.recipe_safety import why_not_safe
from stillroom.model.recipe import Ingredient, Recipe
from stillroom.process.screen import Screening, screen


def why_left_out(recipe: Recipe) -> str:
    """Why a recipe of the household's own is not planned; empty when it may be."""
    return why_not_jarred(recipe) or why_not_safe(recipe)


def why_not_jarred(recipe: Recipe) -> str:
    """Why no jars are made by a recipe as it is written; empty when they may be, or when it makes none.

    Ours are not asked: those whose proportions the screen can't know follow a tested formula, which they name.
    """
    if recipe.process is None:
        return ""
    said = screening_of(recipe)
    if said.match is None or not said.is_tested:
        return said.reason
    covered, asked = (said.match.process_food, said.match.form), (recipe.process.food, recipe.process.form)
    if covered[0] != asked[0] or covered[1] not in (None, asked[1]):
        return (
            f"It asks for the process of {', '.join(asked)}, but what it holds is {', '.join(filter(None, covered))}."
        )
    return ""


def screening_of(recipe: Recipe) -> Screening:
    """What the screen says of a recipe as it is written, ingredient by ingredient."""
    canners = f" Process in: {', '.join(recipe.process.canners)}." if recipe.process else ""
    method = " ".join(step.text for step in recipe.steps) + canners
    return screen([_line(ingredient) for ingredient in recipe.ingredients], method, name=recipe.name)


def _line(ingredient: Ingredient) -> str:
    """Every food that will do, since any of them may go into the jar."""
    line = f"{ingredient.written} {' or '.join(ingredient.foods)}"
    return f"{line}; {ingredient.preparation}" if ingredient.preparation else line
