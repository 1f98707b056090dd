"""When to take out of the freezer what a dish of the plan needs, by the slow side, beside the hour of its own step."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.model.plan import PlannedRun, TakenFood
from stillroom.planning.freezing import is_whole, piece_kg
from stillroom.planning.held import Held
from stillroom.quantities.cold_text import hours_words
from stillroom.quantities.food_parts import FoodParts, food_parts
from stillroom.quantities.freezing import USUAL_PACK_KG, PackKind, usual_thickness_m
from stillroom.quantities.thawing import ThawPlace, ThawTime, thaw_time

THAW = "thaw"  # the key of the step that sets frozen food into the fridge
FROZEN = ", frozen"


def thawing_advice(planned: PlannedRun, held: Sequence[Held], folder: Folder) -> tuple[str, ...]:
    """One sentence for each frozen food that the dish thaws; none where it goes frozen into the pot."""
    thaw = next((each for each in held if each.step.key == THAW), None)
    if thaw is None:
        return ()
    frozen = (taken for taken in planned.taken if taken.food.endswith(FROZEN))
    return tuple(words for taken in frozen if (words := _words(taken, thaw, folder)))


def _words(taken: TakenFood, thaw: Held, folder: Folder) -> str:
    food = taken.food.removesuffix(FROZEN)
    try:
        parts = food_parts(food)
        pack_kg = _pack_kg(taken, food, folder)
        fridge, water = (_time(parts, food, pack_kg, place) for place in (ThawPlace.FRIDGE, ThawPlace.WATER))
    except InputError:  # too dry, too sweet or unknown to the composition table
        return ""
    lump = f"{pack_kg:.1f} kg in one piece" if is_whole(food) else f"packs {100 * fridge.thickness_m:.0f} cm thick"
    needs = f"{hours_words(fridge.times.band)} in the fridge by the model, {fridge.times.rule_h:.0f} h by weight"
    left_h = (thaw.then - thaw.end) / timedelta(hours=1)
    begin = f"Take {taken.mass_g / 1000:.1f} kg {food} out of the freezer"
    if left_h >= fridge.allow_h:
        return f"{begin} on {_moment(thaw.begin)}: {lump} take {needs}."
    return (
        f"{begin} by {_moment(fridge.take_out(thaw.then))}, before the step on {_moment(thaw.begin)}: {lump} take "
        f"{needs}, and that step leaves {left_h:.0f} h. What is icy then thaws in cold water, fresh every half hour "
        f"({hours_words(water.times.band)} from frozen), and is cooked at once."
    )


def _time(parts: FoodParts, food: str, pack_kg: float, place: ThawPlace) -> ThawTime:
    if is_whole(food):
        return thaw_time(parts, PackKind.ODD, pack_kg, place=place)
    return thaw_time(parts, PackKind.FLAT, pack_kg, thickness_m=usual_thickness_m(pack_kg), place=place)


def _pack_kg(taken: TakenFood, food: str, folder: Folder) -> float:
    """One pack or bird: of the lot in store, of what came in, or what is taken, in packs of a kilogram at most."""
    lot = next((lot for lot in folder.larder if lot.key == taken.origin), None)
    if lot is not None:
        return lot.mass_g / lot.count / 1000
    if is_whole(food):
        return piece_kg(food, folder) or taken.mass_g / 1000
    return min(taken.mass_g / 1000, USUAL_PACK_KG)


def _moment(at: datetime) -> str:
    return f"{at:%A %H:%M}"
