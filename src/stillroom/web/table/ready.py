"""What the larder would feed: jars to open, packs to thaw, dishes and bread to eat, with the portions in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from django.db.models import Q

from stillroom.model.household import Place
from stillroom.model.recipe import Recipe, Use
from stillroom.planning.items import FROZEN, state_of
from stillroom.recipes.reader import all_recipes
from stillroom.tables import vocabulary
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.keeping_words import Kept, kept
from stillroom.web.larder.models import Lot

ON_A_SHELF = 8
_READY_GROUPS = ("dish", "stock and soup")
_BREAD, _BAKED = "dough and bread", ("bread", "roll", "loaf", "bun")
_UNREADY = ("dough", "crumb")
_NAMES = 3


@dataclass(frozen=True, slots=True)
class Feeds:
    """A recipe that makes a meal of a food as it stands in store, and the food for one adult portion [g]."""

    recipe: Recipe
    portion_g: float
    thaws: bool


@dataclass(frozen=True, slots=True)
class Ready:
    """A lot with the meals in it."""

    kept: Kept
    portions: float | None  # adult portions of the dish that takes most of it; None where no recipe knows it
    dishes: tuple[str, ...]
    thaws: bool


@dataclass(frozen=True, slots=True)
class Shelf:
    """One kind of what is ready; `more` lots are not shown."""

    key: str
    title: str
    lots: tuple[Ready, ...]
    more: int
    place: str


_TITLES = (
    ("dish", "Cooked, in the fridge", Place.FRIDGE),
    ("bread", "Bread", Place.COUNTER),
    ("pack", "Packs in the freezer", Place.FREEZER),
    ("jar", "Jars to open", Place.SHELF),
)


def ready(household: Household) -> list[Shelf]:
    """What is in date and feeds without being put up first, the first to expire first."""
    lots = household.lots.filter(count__gt=0, best_by__gte=household.today)
    shelves = []
    for key, title, place in _TITLES:
        there = lots.filter(_which(key))
        shown = tuple(_ready(lot, household) for lot in there[:ON_A_SHELF])
        if shown:
            shelves.append(Shelf(key, title, shown, there.count() - len(shown), place.value))
    return shelves


def _which(kind: str) -> Q:
    if kind == "dish":
        return Q(place=Place.FRIDGE, food__in=_foods(_READY_GROUPS))
    if kind == "bread":
        return Q(place__in=(Place.COUNTER, Place.SHELF, Place.FREEZER), food__in=_breads())
    if kind == "pack":
        frozen = {food for food, state in feeding() if state == FROZEN}
        return Q(place=Place.FREEZER, food__in=frozen) & ~Q(food__in=_breads())
    return Q(place=Place.SHELF, container__contains="jar") & ~Q(container__contains="dry")  # as items.state_of


def _foods(groups: tuple[str, ...]) -> list[str]:
    return [food.key for food in vocabulary.foods() if food.group in groups]


def _breads() -> list[str]:
    """What is baked and ready: dough and crumbs stand in the same group."""
    return [
        key
        for key in _foods((_BREAD,))
        if any(word in key for word in _BAKED) and not any(word in key for word in ("dough", "crumb"))
    ]


def _ready(lot: Lot, household: Household) -> Ready:
    feeds = feeding().get((lot.food, state_of(Place(lot.place), lot.container)), ())
    portions = lot.mass_g / max(one.portion_g for one in feeds) if feeds else None
    names = tuple(dict.fromkeys(one.recipe.name for one in feeds))[:_NAMES]
    return Ready(kept(lot, household.today), portions, names, any(one.thaws for one in feeds))


@cache
def feeding() -> Mapping[tuple[str, str], tuple[Feeds, ...]]:
    """Our recipes to eat now, by the food and the state of their main ingredient."""
    found: dict[tuple[str, str], list[Feeds]] = defaultdict(list)
    for recipe in all_recipes():
        portions = sum(product.portions_per_unit for product in recipe.products)
        if recipe.use is not Use.EAT_NOW or not portions:
            continue
        thaws = any(step.key == "thaw" for step in recipe.steps)
        for ingredient in recipe.ingredients:
            if ingredient.main and not ingredient.optional:
                for food in ingredient.foods:
                    for state in ingredient.states:
                        found[food, state].append(Feeds(recipe, ingredient.mass_g / portions, thaws))
    return MappingProxyType({key: tuple(values) for key, values in found.items()})
