"""What is left of a meal: whether it may be kept, where, and until when."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime, timedelta

from stillroom.household.clock import Clock, State, clock
from stillroom.model.household import Place
from stillroom.model.plan import Made
from stillroom.tables import vocabulary
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import Lot
from stillroom.web.table.meals import Dish, TableMeal

RULES = ("R103", "R105", "R106")  # out of the cold for two hours at most; how to cool; how to warm up
LEFTOVERS, BREAD = "leftovers", "white bread"
_LOAF = "loaf"  # the container of what keeps on the counter
_HOT_ROOM_C, _HOT_MIN, _USUAL_MIN = 32.0, 60, 120  # rule R103


def usually_left(dish: Dish, meal: TableMeal) -> int:
    """Whole portions that a dish makes beyond what is eaten; less than one is eaten up."""
    return max(0, math.floor(dish.portions - meal.portions + 1e-6))


def out_min(household: Household) -> int:
    """Minutes that cooked food may stand out: rule R103, by the usual warmth of the kitchen."""
    return _HOT_MIN if household.room_c > _HOT_ROOM_C else _USUAL_MIN


def into_the_cold_by(household: Household, meal: TableMeal) -> datetime:
    """The hour by which what is left has to be in the fridge, counted from the hour of the meal."""
    return meal.at + timedelta(minutes=out_min(household))


def keeping() -> Clock:
    """How long leftovers keep in the fridge (keeping.csv: the most perishable cooked food)."""
    return clock(vocabulary.food(LEFTOVERS), None, State.COOKED, Place.FRIDGE, None)


def keeps_outside(dish: Dish) -> bool:
    """Bread keeps on the counter, nothing else that is cooked does."""
    return _made(dish).container == _LOAF


def lot_left(dish: Dish, meal: TableMeal, portions: int, fed_from: Sequence[Lot]) -> Lot:
    """So many portions as a lot, not saved.

    Its days count from when it was cooked. What came out of the fridge, cooked before, gets no second term.
    """
    made = _made(dish)
    cooked_on = min(dish.run.day, meal.day)
    is_bread = keeps_outside(dish)
    return Lot(
        household=meal.usual.household,
        product=f"{dish.run.name}, left over"[:80],
        food=BREAD if is_bread else LEFTOVERS,
        place=(Place.COUNTER if is_bread else Place.FRIDGE).value,
        mass_g=made.mass_g / made.portions * portions,
        container="portion",
        count=portions,
        made_on=cooked_on,
        best_by=min([_best_by(made, cooked_on, is_bread=is_bread), *_terms(fed_from)]),
    )


def _best_by(made: Made, cooked_on: date, *, is_bread: bool) -> date:
    if is_bread and made.best_by is not None:
        return made.best_by
    return cooked_on + timedelta(days=keeping().keep_days)


def _terms(fed_from: Sequence[Lot]) -> list[date]:
    return [lot.best_by for lot in fed_from if lot.place == Place.FRIDGE.value]


def _made(dish: Dish) -> Made:
    """What of it is eaten."""
    return next(made for made in dish.run.made if made.portions)
