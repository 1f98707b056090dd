"""The split: the household's food, kitchen and wishes as one allocation problem."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date

from stillroom.allocation.problem import Cut, Lot, Problem
from stillroom.household.folder import Folder
from stillroom.model.household import LarderLot
from stillroom.model.plan import RefusedJar
from stillroom.model.recipe import Recipe, Use
from stillroom.planning.activities import activities
from stillroom.planning.items import FRESH, Store, arrival_lots, item, items_of, larder_lots, worths
from stillroom.planning.supply import BRISK, capacities, pools
from stillroom.planning.variants import Variant, variants
from stillroom.planning.wishes import courses, give_away, meal_needs, targets


@dataclass(frozen=True, slots=True)
class Split:
    """An allocation problem with what is needed to read its answer."""

    problem: Problem
    variants: dict[str, Variant]
    refused: tuple[RefusedJar, ...]
    worth: dict[str, float]  # per gram of every item
    jarred_items: frozenset[str]  # that some recipe puts into jars, here or in a better equipped kitchen

    def with_cuts(self, cuts: Iterable[Cut]) -> Problem:
        """The same problem with what the days could not hold ruled out."""
        return replace(self.problem, cuts=tuple(cuts))


def split(folder: Folder, recipes: Sequence[Recipe], days: int) -> Split:
    """Everything the household could do with what it has, in `days` days from `folder.start`."""
    lots: tuple[Lot, ...] = (
        *arrival_lots(folder.arrivals, folder.start, days),
        *larder_lots(folder.larder, folder.kitchen.jars, folder.start, days),
    )
    worth = worths(lots, folder.arrivals, recipes)
    ways, refused = variants(recipes, folder.kitchen, folder.household.meals, folder.start)
    ways = tuple(day_way for way in ways for day_way in _by_day(way, folder, days))
    needs = meal_needs(folder.household, folder.start, days)
    # What the household gave a short clock (bruised, dead ripe) does not keep in sand or cellar either.
    sound = frozenset(arrival.food for arrival in folder.arrivals if not arrival.is_own_clock)
    pieces = {item(a.food, FRESH): a.piece_g for a in folder.arrivals if a.piece_g and "whole" in a.food}
    windows: dict[str, tuple[tuple[int, int], ...]] = {}
    for lot in lots:
        windows[lot.item] = (*windows.get(lot.item, ()), (lot.first_day, lot.last_day))
    fit = [way for way in ways if _is_sound(way, sound)]
    possible = activities(fit, folder.household, needs, Store(worth, pieces, windows), days)
    perishable = {lot.item for lot in lots if not lot.is_store} | {
        output.item for activity in possible for output in activity.outputs if output.item.endswith(FRESH)
    }
    problem = Problem(
        days,
        lots,
        (*possible, *give_away(perishable, worth, days)),
        (*capacities(folder.kitchen, folder.start, days, BRISK), *courses(needs, days)),
        pools(folder.kitchen),
        needs,
        targets(folder.household, stored_g(folder.larder, folder.start), worth),
    )
    jarred = frozenset(
        name for recipe in recipes if recipe.process for i in recipe.ingredients if i.main for name in items_of(i)
    )
    told = {recipe.name for recipe in recipes if any(_has_food(recipe, name) for name in perishable)}
    refused = tuple(entry for entry in refused if entry.recipe in told)
    return Split(problem, {way.key: way for way in ways}, refused, worth, jarred)


def _by_day(way: Variant, folder: Folder, days: int) -> tuple[Variant, ...]:
    """Cutting up once for every day: the clock of the parts begins when the food comes in, not when it is cut."""
    if way.recipe.use is not Use.BREAK_DOWN:
        return (way,)
    foods = {food for i in way.recipe.ingredients if i.main for food in i.foods}
    first_days = [((a.day - folder.start).days, a.keep_days) for a in folder.arrivals if a.food in foods]
    ways = []
    for day in range(days):
        waits = [day - first for first, keeps in first_days if first <= day <= first + keeps]
        if waits or not first_days:  # from the larder, where best-by dates hold
            key = f"{way.key}/day {day + 1}"
            ways.append(replace(way, key=key, only_day=day, waited_days=max(waits, default=0)))
    return tuple(ways)


def stored_g(larder: Iterable[LarderLot], today: date) -> dict[str, float]:
    """Grams in store by food, what is past its best-by date not counted."""
    total: dict[str, float] = defaultdict(float)
    for lot in larder:
        if lot.best_by >= today:
            total[lot.food] += lot.mass_g
    return dict(total)


def _is_sound(way: Variant, sound: Set[str]) -> bool:
    mains = [ingredient for ingredient in way.recipe.ingredients if ingredient.main]
    return way.recipe.use is not Use.KEEP_FRESH or any(food in sound for main in mains for food in main.foods)


def _has_food(recipe: Recipe, name: str) -> bool:
    return any(name == f"{food}, fresh" for i in recipe.ingredients if i.main for food in i.foods)
