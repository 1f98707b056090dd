"""Scales a recipe to what arrived: how many units, in how many even batches, what to weigh, and what stays as it is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.model.recipe import Ingredient, Recipe, Step, Use
from stillroom.quantities.bench import Rounding, bench_g, mass_text, rounding_of

SAME = 1e-9  # relative slack when a number of batches is counted


@dataclass(frozen=True, slots=True)
class Batches:
    """`count` even batches of `units` recipe units each; `left_over_units` do not make a sensible batch."""

    count: int
    units: float
    left_over_units: float


@dataclass(frozen=True, slots=True)
class ScaledIngredient:
    """One line for one batch: exact mass and the mass to weigh [g]."""

    ingredient: Ingredient
    mass_g: float
    bench_g: float


@dataclass(frozen=True, slots=True)
class ScaledStep:
    """One step [min] for one batch; `is_each_load` steps are done for every canner load of it."""

    key: str
    text: str
    minutes: int
    is_each_load: bool


@dataclass(frozen=True, slots=True)
class ScaledRecipe:
    """A recipe made for an amount; every mass is for one of `batches.count` even batches."""

    recipe: Recipe
    batches: Batches
    ingredients: tuple[ScaledIngredient, ...]
    steps: tuple[ScaledStep, ...]
    products_g: tuple[tuple[str, float], ...]
    unscaled: tuple[str, ...]


def units_for(recipe: Recipe, available_g: float, of_food: str | None = None) -> float:
    """How many recipe units use up `available_g` of the ingredient `of_food` (default: the first main one) [-]."""
    ingredient = leading_ingredient(recipe, of_food)
    if not (math.isfinite(available_g) and available_g > 0):
        raise InputError("The amount must be more than nothing.")
    if ingredient.mass_g <= 0:
        raise InputError(f"The recipe “{recipe.key}” gives no mass for {ingredient.foods[0]}; name another ingredient.")
    return available_g / ingredient.mass_g


def batches_for(recipe: Recipe, units: float) -> Batches:
    """Even batches between the smallest and the largest sensible one; InputError when it is too little for one.

    Where an even share would fall below the smallest batch (limits 3 to 4, 5 units), batches are filled to the
    largest and the rest is left over for another use.
    """
    if units < recipe.smallest * (1 - SAME):
        raise InputError(
            f"{units:.3g} × {recipe.unit} is less than the smallest sensible batch of “{recipe.name}” "
            f"({recipe.smallest:g} × {recipe.unit}: {recipe.batch_reason}); add to it while it keeps, or use it up."
        )
    even = math.ceil(units / recipe.largest * (1 - SAME))
    if units / even >= recipe.smallest * (1 - SAME):
        return Batches(even, units / even, 0.0)
    return Batches(even - 1, recipe.largest, units - (even - 1) * recipe.largest)


def scale(recipe: Recipe, units: float) -> ScaledRecipe:
    """The recipe made for `units` recipe units, in even batches."""
    batches = batches_for(recipe, units)
    return ScaledRecipe(
        recipe=recipe,
        batches=batches,
        ingredients=tuple(_line(item, batches.units) for item in recipe.ingredients),
        steps=tuple(_step(step, batches.units) for step in recipe.steps),
        products_g=tuple((product.name, product.mass_g_per_unit * batches.units) for product in recipe.products),
        unscaled=_unscaled(recipe, batches),
    )


def jars_ready(made: ScaledRecipe) -> tuple[tuple[JarSize, int], ...]:
    """Jars of each size to have ready for one batch, if all went into that size; () where the recipe fills none.

    From the raw food that fills one quart, other jars by volume; averages, rounded up.
    """
    asked = made.recipe.process
    if asked is None:
        return ()
    quarts = made.recipe.main_g * made.batches.units / asked.raw_g_per_quart
    return tuple((jar, math.ceil(quarts * JarSize.QUART.volume_ml / jar.volume_ml - SAME)) for jar in asked.jars)


def leading_ingredient(recipe: Recipe, of_food: str | None = None) -> Ingredient:
    """The ingredient that an amount is of: `of_food`, else the first main one, else the first."""
    if of_food is not None:
        for item in recipe.ingredients:
            if of_food in item.foods:
                return item
        known = ", ".join(item.foods[0] for item in recipe.ingredients)
        raise InputError(f"There is no {of_food} in the recipe “{recipe.key}”; it holds: {known}.")
    return next((item for item in recipe.ingredients if item.main), recipe.ingredients[0])


def _step(step: Step, units: float) -> ScaledStep:
    minutes = math.ceil(step.fixed_min + step.per_unit_min * units - SAME)
    return ScaledStep(step.key, step.text, minutes, step.repeat_per_load or step.is_canner_cycle)


def _line(item: Ingredient, units: float) -> ScaledIngredient:
    mass_g = item.mass_g * units
    return ScaledIngredient(item, mass_g, bench_g(mass_g, rounding_of(item.foods[0])))


def _unscaled(recipe: Recipe, batches: Batches) -> tuple[str, ...]:
    """What does not grow with the amount."""
    said = [f"One batch is at most {recipe.largest:g} × {recipe.unit}: {recipe.batch_reason}"]
    if recipe.use is Use.JAR:
        said.append("The process time and pressure are per canner load, the same for one jar as for a full canner.")
    if recipe.use is Use.JAR and any(rounding_of(item.foods[0]) is Rounding.UP for item in recipe.ingredients):
        said.append("Acid that goes into each jar is per jar, whatever the size of the batch.")
    if batches.left_over_units > 0:
        left_g = recipe.main_g * batches.left_over_units
        left = mass_text(left_g) if left_g > 0 else f"{batches.left_over_units:.3g} × {recipe.unit}"
        said.append(f"{left} is left over: too little for another batch, too much for these.")
    return tuple(said)
