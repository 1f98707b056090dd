"""Random fortnights of the demo kitchen, all figures invented: 40 arrivals in 14 days and 60 of our recipes.

A few lumps (half an animal, crates of fruit) and many small things (a basket of greens, a dozen eggs).
"""

from __future__ import annotations

import random
import shutil
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from stillroom.household.folder import Folder, read_folder
from stillroom.model.recipe import Recipe, Use
from stillroom.planning.items import FRESH, arrival_lots, input_worth, items_of, larder_lots, worths
from stillroom.planning.variants import served_role
from stillroom.recipes.reader import all_recipes

DEMO = Path(__file__).parent.parent / "examples" / "demo"
START = date(2027, 4, 9)
DAYS, ARRIVALS, RECIPES = 14, 40, 60
DISHES = {"main": 15, "side": 10, "bread": 4}
EARLY, EARLY_DAYS = 10, 2  # so many come in the first days, so that there is something to eat
LUMPS, GREATEST_LUMPS = 9, 2


@dataclass(frozen=True, slots=True)
class Comes:
    """A food that may come in: least and most kg, place, clock in days (0: the published one)."""

    food: str
    least_kg: float
    most_kg: float
    place: str = "fridge"
    clock: int = 0


GREAT = (Comes("pork carcass", 25, 40), Comes("lamb carcass", 14, 22), Comes("venison carcass", 20, 35))
LUMP = (
    Comes("tomatoes", 10, 25, "counter", 3),
    Comes("green beans", 6, 14, "fridge", 4),
    Comes("apples", 12, 22, "counter", 5),
    Comes("pears", 8, 18, "fridge", 3),
    Comes("plums", 6, 14, "fridge", 3),
    Comes("peaches", 6, 14, "fridge", 3),
    Comes("pumpkins", 10, 22, "shelf"),
    Comes("cabbages", 6, 12),
    Comes("carrots", 6, 12),
    Comes("beets", 5, 10),
    Comes("cucumbers", 5, 10, "fridge", 4),
    Comes("beef stewing meat", 6, 14),
    Comes("whole chickens", 5, 10),
    Comes("potatoes", 10, 25, "cellar"),
)
SMALL = (
    Comes("eggs", 0.7, 2.0),
    Comes("milk", 2.0, 5.0),
    Comes("spinach", 0.4, 1.5),
    Comes("kale", 0.4, 1.5),
    Comes("zucchini", 1.0, 4.0),
    Comes("eggplants", 0.8, 2.0),
    Comes("green beans", 0.8, 2.5),
    Comes("tomatoes", 1.0, 4.0, "counter", 4),
    Comes("carrots", 1.0, 3.0),
    Comes("cauliflower", 0.8, 2.5),
    Comes("broccoli", 0.6, 2.0),
    Comes("leeks", 0.8, 2.0),
    Comes("white mushrooms", 0.4, 1.5),
    Comes("red bell peppers", 0.8, 2.5),
    Comes("sweet corn", 1.0, 4.0, "fridge", 2),
    Comes("strawberries", 1.0, 4.0),
    Comes("raspberries", 0.5, 2.0),
    Comes("rhubarb", 1.0, 3.0),
    Comes("trout", 0.8, 3.0),
    Comes("lamb shoulder", 1.0, 3.0),
    Comes("ground beef", 0.8, 2.5),
    Comes("sausages", 0.6, 2.0),
    Comes("whole chickens", 1.6, 4.0),
    Comes("apples", 1.0, 4.0, "counter", 7),
)


def write_fortnight(seed: int, path: Path) -> None:
    """The household folder of a seed."""
    chance = random.Random(seed)
    shutil.copytree(DEMO, path, dirs_exist_ok=True)
    comes = [*chance.sample(GREAT, GREATEST_LUMPS), *chance.sample(LUMP, LUMPS - GREATEST_LUMPS)]
    comes += [chance.choice(SMALL) for _ in range(ARRIVALS - len(comes))]
    lines = ["# INVENTED: a random fortnight", "arrivals:"]
    for number, what in enumerate(comes):
        kg = chance.uniform(what.least_kg, what.most_kg)
        day = chance.randrange(EARLY_DAYS if number >= ARRIVALS - EARLY else DAYS - 2)
        lines.append(f"  - key: arrival {number + 1}\n    food: {what.food}\n    amount: {kg:.1f} kg")
        lines.append(f"    day: {START + timedelta(days=day)}\n    place: {what.place}")
        if what.clock:
            lines.append(f"    clock: {what.clock} days")
    (path / "arrivals.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")


def read_fortnight(path: Path) -> Folder:
    """All its fourteen days."""
    return read_folder(path, days=DAYS)


def some_recipes(folder: Folder, seed: int) -> tuple[Recipe, ...]:
    """60 recipes that the food of the folder can feed: every cutting up, dishes and breads, ways of keeping."""
    chance = random.Random(seed)
    recipes = all_recipes()
    lots = (*arrival_lots(folder.arrivals, folder.start, DAYS), *larder_lots(folder.larder, (), folder.start, DAYS))
    worth = worths(lots, folder.arrivals, recipes)
    fed = [recipe for recipe in recipes if input_worth(recipe, worth) is not None]
    here = {f"{arrival.food}, {FRESH}" for arrival in folder.arrivals}
    cuts = [r for r in fed if r.use is Use.BREAK_DOWN and any(n in here for i in r.ingredients for n in items_of(i))]
    chosen = list(cuts)
    for role, count in DISHES.items():
        dishes = [recipe for recipe in fed if served_role(recipe) == role]
        chosen += chance.sample(dishes, min(count, len(dishes)))
    kept = [r for r in fed if not served_role(r) and r.use is not Use.BREAK_DOWN]
    chosen += chance.sample(kept, min(RECIPES - len(chosen), len(kept)))
    return tuple(recipe for recipe in recipes if recipe in chosen)
