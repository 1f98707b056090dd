"""Whether a household's own cure holds enough salt, not too much nitrite, and stays cold."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.household import recipe_foods as foods
from stillroom.model.household import Place
from stillroom.model.recipe import Recipe, Use
from stillroom.quantities.curing_limits import CuredProduct, CureMethod, curing_data, limit

LEAST_SALT, FRIDGE_DAYS, GROUND_DAYS = 0.025, 7, 2
MOST_CURING_DAYS = 42  # common practice, no source: longer is ageing, which needs another mix and another room
BRINE_SHARE = 0.2  # water of the meat's weight from which it is a brine, not a seasoning
_BELLY = ("pork belly", "bacon", "pancetta")


def is_cure(recipe: Recipe) -> bool:
    """Whether it says so or holds curing salt."""
    return recipe.use is Use.CURE or any(map(foods.nitrite_fraction, recipe.ingredients))


def cure_faults(recipe: Recipe) -> Iterator[str]:
    """Sentences of what is wrong with the cure."""
    if any(map(foods.holds_nitrate, recipe.ingredients)):
        yield "It cures with nitrate (a mix no. 2 or saltpetre), which is for months of ageing only: use a mix no. 1."
        return
    meat_g = sum(line.mass_g for line in foods.of_groups(recipe, foods.MEAT) if not line.optional)
    if meat_g <= 0:
        yield "It is a cure, and holds no meat or fish to weigh the salt and the curing salt against."
        return
    nitrite_g = sum(line.mass_g * foods.nitrite_fraction(line) for line in recipe.ingredients)
    ppm = nitrite_g * 1e6 / _basis_g(recipe, meat_g)
    most = _most_ppm(recipe)
    if round(ppm, 1) > most:
        yield (
            f"Its curing salt comes to {ppm:.0f} ppm of nitrite in the meat, and the most is {most:.0f}: "
            "too much of it is poison. Weigh less of it; “stillroom cure” does the sum."
        )
    yield from _keeping(recipe, ppm)
    if ppm < curing_data()["least"]["some_effect_ppm"]:
        yield from _without_nitrite(recipe, meat_g)


def _basis_g(recipe: Recipe, meat_g: float) -> float:
    """The meat, and in a brine its water too: the two end up equally strong (quantities.cure)."""
    water_g = sum(line.mass_g for line in recipe.ingredients if line.foods[0] == "water")
    is_brine = water_g >= BRINE_SHARE * meat_g and not _is_ground(recipe)
    return meat_g + water_g if is_brine else meat_g


def _is_ground(recipe: Recipe) -> bool:
    keys = tuple(key for line in foods.of_groups(recipe, foods.MEAT) for key in line.foods)
    return (
        foods.is_ground_or_offal(recipe, keys)
        or any("sausage" in key for key in keys)
        or "sausage" in recipe.name.lower()
    )


def _most_ppm(recipe: Recipe) -> float:
    keys = {key for line in foods.of_groups(recipe, foods.MEAT) for key in line.foods}
    if keys & set(_BELLY) or ("bacon" in recipe.name.lower() and not keys & {"pork loin", "pork tenderloin"}):
        return limit(CuredProduct.BACON, CureMethod.BRINE).nitrite_ppm
    if _is_ground(recipe):
        return limit(CuredProduct.SAUSAGE, CureMethod.GROUND).nitrite_ppm
    return limit(CuredProduct.WHOLE_MUSCLE, CureMethod.DRY).nitrite_ppm


def _keeping(recipe: Recipe, ppm: float) -> Iterator[str]:
    for product in recipe.products:
        eaten = product.container == "plate" and product.keeps_days + product.ready_day == 0
        if product.place not in (Place.FRIDGE, Place.FREEZER) and not eaten:
            yield f"{product.name} is cured and must keep in the fridge or the freezer, not: {product.place}."
        elif product.ready_day > MOST_CURING_DAYS:
            yield f"{product.name} cures for {product.ready_day} days; {MOST_CURING_DAYS} is the most at home."
        elif product.place is Place.FRIDGE and product.keeps_days > FRIDGE_DAYS:
            yield (
                f"{product.name} is to keep {product.keeps_days} days in the fridge; cured meat keeps there for "
                f"{FRIDGE_DAYS} days once it is ready (keeping table: bacon and ham). Freeze the rest."
            )


def _without_nitrite(recipe: Recipe, meat_g: float) -> Iterator[str]:
    salts = (line for line in recipe.ingredients if line.foods[0] in foods.SALTS and not line.optional)
    share = sum(line.mass_g for line in salts) / meat_g
    if round(share, 4) < LEAST_SALT:
        yield (
            f"It cures without curing salt and with {share:.1%} of salt: at least {LEAST_SALT:.1%} of the "
            "weight of the meat or fish is needed."
        )
    days = GROUND_DAYS if _is_ground(recipe) else FRIDGE_DAYS
    for product in recipe.products:
        if product.place is Place.FRIDGE and product.keeps_days + product.ready_day > days:
            yield (
                f"{product.name} is cured without curing salt and stays in the fridge for "
                f"{product.keeps_days + product.ready_day} days: {days} is the most. Eat it sooner, or freeze it."
            )
