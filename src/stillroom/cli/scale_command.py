"""`stillroom scale RECIPE AMOUNT`: a recipe made for what arrived, in batches that can be worked."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from stillroom.cli.our_recipes import our_recipe_path
from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.quantities.bench import mass_text

CONTEXT_SETTINGS = {"ignore_unknown_options": True}  # “-20 lb” is a wrong amount, not an option
_MEASURE = re.compile(r"\b(cups?|tsp|tbsp|teaspoons?|tablespoons?|cloves?|kg)\b")

if TYPE_CHECKING:
    from stillroom.model.recipe import Recipe
    from stillroom.quantities.scaling import ScaledRecipe


def scale_command(
    recipe: Annotated[str, typer.Argument(help="A recipe of ours by its key, or the path of a recipe file.")],
    amount: Annotated[str, typer.Argument(help="What arrived: “9 kg”, “2 bushels”; or “3 units”, “8 portions”.")],
    *,
    of: Annotated[str, typer.Option("--of", help="The ingredient the amount is of, when not the main one.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Scale a recipe to an amount: even batches, masses to weigh, and what stays as it is."""
    from stillroom.household.recipe_amount import ingredient_named, units_of
    from stillroom.quantities import scaling

    with refusal_said(as_json):
        found = _recipe(recipe)
        units, how = units_of(found, amount, ingredient_named(found, of))
        made = scaling.scale(found, units)
    if as_json:
        print_json(_as_json(made, units, how))
    else:
        _print_lines(made, how)


def _recipe(text: str) -> Recipe:
    """The recipe of this key or path; only that one file is read."""
    from stillroom.recipes.reader import read_recipe

    if text.endswith((".yaml", ".yml")) or "/" in text:
        return read_recipe(Path(text))
    return read_recipe(our_recipe_path(text))


def _as_json(made: ScaledRecipe, units: float, how: str) -> dict[str, object]:
    from stillroom.quantities import scaling

    return {
        "recipe": made.recipe.key,
        "name": made.recipe.name,
        "unit": made.recipe.unit,
        "units": units,
        "how": how,
        "batches": made.batches.count,
        "units_per_batch": made.batches.units,
        "left_over_units": made.batches.left_over_units,
        "ingredients_per_batch": [
            {
                "food": line.ingredient.foods[0],
                "mass_g": line.mass_g,
                "to_weigh_g": line.bench_g,
                "main": line.ingredient.main,
                "optional": line.ingredient.optional,
                "preparation": line.ingredient.preparation,
            }
            for line in made.ingredients
        ],
        "products_per_batch": [{"name": name, "mass_g": mass_g} for name, mass_g in made.products_g],
        "steps_per_batch": [
            {"key": step.key, "text": step.text, "minutes": step.minutes, "each_load": step.is_each_load}
            for step in made.steps
        ],
        "jars_per_batch": {jar.value: number for jar, number in scaling.jars_ready(made)},
        "does_not_scale": list(made.unscaled),
        "cautions": list(made.recipe.cautions),
        "source": made.recipe.source,
    }


def _print_lines(made: ScaledRecipe, how: str) -> None:
    from stillroom.process.jar_text import jar_name
    from stillroom.quantities import scaling

    count = made.batches.count
    print(f"{made.recipe.name}: {how}")
    print(f"  {count} batch{'es' if count > 1 else ''} of {made.batches.units:.4g} × {made.recipe.unit}")
    print("  Weigh for one batch" if count > 1 else "  Weigh")
    for line in made.ingredients:
        more = ", ".join(filter(None, (line.ingredient.preparation, "optional" if line.ingredient.optional else "")))
        print(f"    {mass_text(line.bench_g):>10}  {line.ingredient.foods[0]}{f' ({more})' if more else ''}")
    if made.batches.units != 1 and any(_MEASURE.search(line.ingredient.preparation) for line in made.ingredients):
        print(f"    Measures in brackets are as the recipe is written, for 1 × {made.recipe.unit}.")
    print("  Gives")
    for name, mass_g in made.products_g:
        print(f"    {mass_text(round(mass_g)):>10}  {name}")
    jars = scaling.jars_ready(made)
    if jars:
        sizes = " or ".join(f"{number} {jar_name(jar)}{'s' if number != 1 else ''}" for jar, number in jars)
        print(f"    Jars to have ready: about {sizes}")
    once, each_load = ([step.minutes for step in made.steps if step.is_each_load is wanted] for wanted in (False, True))
    print(f"  One batch: {sum(once)} min in {len(once)} step{'s' if len(once) != 1 else ''}, waiting counted")
    if each_load:
        print(f"  Each canner load besides: {sum(each_load)} min, and the canner's cycle by its process card")
    for said in made.unscaled:
        print(f"  - {said}")
    for caution in made.recipe.cautions:
        print(f"  ! {caution}")
    if made.recipe.source:
        print(f"  Source: {made.recipe.source}")
