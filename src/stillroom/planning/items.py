"""Items of the split: a food in a state ("tomato, fresh"), the lots of it at hand, and what a gram is worth."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from stillroom.allocation.problem import Lot
from stillroom.model.household import Arrival, LarderLot, Place
from stillroom.model.kitchen import JarKind
from stillroom.model.recipe import Ingredient, Product, Recipe, Use
from stillroom.planning.empties import of_lot
from stillroom.tables.vocabulary import food

FRESH, JARRED, FROZEN, DRIED = "fresh", "jarred", "frozen", "dried"

# Common practice, no source: what is left of a gram's worth in by-products of a carcass.
BY_PRODUCT_WORTH = 0.15
BY_PRODUCT_WORDS = ("bone", "carcass", "skin", "fat", "feet", "head", "giblets", "liver")
# A gram in store was paid for in work as well as food: it is used when a meal needs it, oldest first.
STORE_WORTH = 0.5
STORE_PRICE_PER_G = 0.004
# Common practice, no source: what food is worth that can be put by after the plan, surely so with a week in hand.
LATER_WORTH = 0.35
SURE_DAYS = 7


@dataclass(frozen=True, slots=True)
class Store:
    """What is known of items: worth per gram of all that can be had, grams of one piece of what stays whole."""

    worth: dict[str, float]
    piece_g: dict[str, float]
    windows: dict[str, tuple[tuple[int, int], ...]]  # first and last day of each lot of an item


def item(name: str, state: str) -> str:
    """The name of a food in a state."""
    return f"{name}, {state}"


def items_of(ingredient: Ingredient) -> tuple[str, ...]:
    """Every item that will do for a main ingredient."""
    return tuple(item(name, state) for name in ingredient.foods for state in ingredient.states)


def state_of(place: Place, container: str) -> str:
    """In which state food stands at a place."""
    if place is Place.FREEZER:
        return FROZEN
    if place is Place.SHELF and "jar" in container:
        return DRIED if "dry" in container else JARRED
    return FRESH


def names_of(name: str) -> frozenset[str]:
    """A food under its own name and that of the process it falls under ("pork shoulder" is pork): for targets."""
    under = food(name).process_food
    return frozenset({name, under} if under else {name})


def arrival_lots(arrivals: Iterable[Arrival], start: date, days: int) -> tuple[Lot, ...]:
    """Arrivals within the plan as lots; what came earlier is usable from the first day while its clock runs."""
    lots = []
    for arrival in arrivals:
        first = (arrival.day - start).days
        last = first + arrival.keep_days
        if first < days and last >= 0:
            name, worth, lasting = item(arrival.food, FRESH), arrival.worth_per_kg / 1000, last - days + 1
            if lasting > 0:
                # Still good after the plan: using it now costs what it could have become then.
                cost = LATER_WORTH * worth * min(1.0, lasting / SURE_DAYS)
                lots.append(Lot(arrival.key, name, arrival.mass_g, max(first, 0), last, cost, is_store=True))
            else:
                lots.append(Lot(arrival.key, name, arrival.mass_g, max(first, 0), last, worth))
    return tuple(lots)


def larder_lots(larder: Iterable[LarderLot], jars: Sequence[JarKind], start: date, days: int) -> tuple[Lot, ...]:
    """What is in store and in date as lots, with the room, jars and lids they give back when used.

    What passes its best-by date within the plan counts as lost if it is not eaten by then.
    """
    lots = []
    for lot in larder:
        last = (lot.best_by - start).days
        if last < 0:
            continue
        is_store = last >= days
        # The nearer the best-by date the less it costs to use: first-expiring-first.
        age = min(1.0, max(0.1, last / 365)) if is_store else 1.0
        lots.append(
            Lot(
                lot.key,
                item(lot.food, state_of(lot.place, lot.container)),
                lot.mass_g,
                0,
                last,
                STORE_WORTH * age * STORE_PRICE_PER_G,
                is_store=is_store,
                gives_back=of_lot(lot, jars),
            )
        )
    return tuple(lots)


def worths(lots: Iterable[Lot], arrivals: Iterable[Arrival], recipes: Iterable[Recipe]) -> dict[str, float]:
    """Worth per gram of every item: of its arrivals and lots, or handed down from what it is made of."""
    price = {arrival.key: arrival.worth_per_kg / 1000 for arrival in arrivals}
    worth: dict[str, float] = {}
    for lot in lots:
        worth[lot.item] = max(worth.get(lot.item, 0.0), price.get(lot.key, lot.worth_per_g))
    known = list(recipes)
    for _ in range(3):  # carcass -> part -> product is the longest chain
        for recipe in known:
            source = input_worth(recipe, worth)
            if source is None:
                continue
            for product in recipe.products:
                if product.food is not None:
                    worth.setdefault(item_made(product), source * _handed_down(recipe, product))
    return worth


def input_worth(recipe: Recipe, worth: dict[str, float]) -> float | None:
    """Worth per gram of main ingredients, by mass; None when one of them is nowhere to be had."""
    total = 0.0
    for ingredient in recipe.ingredients:
        if not ingredient.main or ingredient.optional:
            continue
        priced = [worth[name] for name in items_of(ingredient) if name in worth]
        if not priced:
            return None
        total += max(priced) * ingredient.mass_g
    return total / recipe.main_g if recipe.main_g else 0.0


def item_made(product: Product) -> str:
    """The item that a product with a food is."""
    return item(product.food or "", state_of(product.place, product.container))


def _handed_down(recipe: Recipe, product: Product) -> float:
    if recipe.use is Use.BREAK_DOWN and any(word in (product.food or "") for word in BY_PRODUCT_WORDS):
        return BY_PRODUCT_WORTH
    return 1.0
