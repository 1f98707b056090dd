"""How a run packs what it freezes: flat against a block, how thick at the most, how long until it is solid."""

from __future__ import annotations

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.model.household import Place
from stillroom.model.plan import PlannedRun
from stillroom.model.recipe import Product, Recipe
from stillroom.quantities.cold_text import hours_words
from stillroom.quantities.food_parts import POURED, FoodParts, food_parts
from stillroom.quantities.freezing import (
    DOWN_K,
    USUAL_PACK_KG,
    Cold,
    PackKind,
    pack_time,
    thickest_flat_m,
    usual_thickness_m,
)
from stillroom.tables.vocabulary import food

WARMEST_C = 20.0  # food goes in at most as warm as this; what was hot is cooled first


def freezing_advice(planned: PlannedRun, recipe: Recipe, folder: Folder) -> tuple[str, ...]:
    """One sentence for each product that goes into the freezer; none where its food is not moist enough to tell."""
    return tuple(
        words
        for product, made in zip(recipe.products, planned.made, strict=True)
        if product.place is Place.FREEZER and (words := _words(product, made.mass_g / 1000, recipe, folder))
    )


def is_whole(name: str) -> bool:
    """A bird that stays in one piece."""
    return food(name).group == "poultry" and ("whole" in name or name.endswith(" hen"))


def piece_kg(name: str, folder: Folder) -> float | None:
    """What one piece of it weighs, by what came in; None where nobody wrote it."""
    return next((a.piece_g / 1000 for a in folder.arrivals if a.food == name and a.piece_g), None)


def _words(product: Product, mass_kg: float, recipe: Recipe, folder: Folder) -> str:
    name = product.food or next((i.foods[0] for i in recipe.ingredients if i.main), "")
    cold = Cold(from_c=min(folder.kitchen.room_c, WARMEST_C))
    try:
        parts = food_parts(name)
        if is_whole(name):
            return _bird_words(parts, piece_kg(name, folder), cold)
        return _pack_words(parts, min(mass_kg, USUAL_PACK_KG), _wrapped(parts, cold))
    except InputError:  # too dry, too sweet or unknown to the composition table
        return ""


def _wrapped(parts: FoodParts, cold: Cold) -> Cold:
    """What is poured goes into boxes, everything else is wrapped tight."""
    return Cold(cold.from_c, cold.freezer_c, is_boxed=parts.food.group in POURED)


def _pack_words(parts: FoodParts, pack_kg: float, cold: Cold) -> str:
    flat = pack_time(parts, PackKind.FLAT, pack_kg, thickness_m=usual_thickness_m(pack_kg), cold=cold)
    block = pack_time(parts, PackKind.BLOCK, pack_kg, cold=cold)
    thickest_m = thickest_flat_m(parts, cold)
    limit = "" if thickest_m is None else f" No thicker than {100 * thickest_m:.1f} cm, so that it is solid in a day."
    what = "boxes" if cold.is_boxed else "packs"
    return (
        f"Freeze it in flat {what}: {pack_kg:.1g} kg {100 * flat.thickness_m:.0f} cm thick is solid in "
        f"{hours_words(flat.solid)} and {_down(cold)} in the middle by {flat.down.high:.0f} h; as a block, "
        f"{100 * block.thickness_m:.0f} cm thick, solid in {hours_words(block.solid)}.{limit}"
    )


def _bird_words(parts: FoodParts, bird_kg: float | None, cold: Cold) -> str:
    thickest_m = thickest_flat_m(parts, cold)
    limit = "" if thickest_m is None else f"; jointed, in packs of up to {100 * thickest_m:.1f} cm, within a day"
    if bird_kg is None:
        return ""
    whole = pack_time(parts, PackKind.ODD, bird_kg, cold=cold)
    return (
        f"A bird of {bird_kg:.1f} kg in one piece is solid in {hours_words(whole.solid)} and {_down(cold)} in the "
        f"middle by {whole.down.high:.0f} h, each with air around it{limit}."
    )


def _down(cold: Cold) -> str:
    return f"{cold.freezer_c + DOWN_K:.0f} °C".replace("-", "−")
