"""What is in store: counted in one query, and listed by place with what has to be used first at the top."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Q, QuerySet

from stillroom.model.household import Place
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.keeping_words import Kept, kept
from stillroom.web.larder.models import Lot

ON_A_PAGE, AT_A_GLANCE, FIRST = 40, 6, 5


@dataclass(frozen=True, slots=True)
class Shelf:
    """One place, how many lots are there, how many are past their date."""

    place: Place
    count: int
    past: int


@dataclass(frozen=True, slots=True)
class Page:
    """One page of a list; `number` begins at 1."""

    lots: list[Kept]
    number: int
    last: int


def lots_left(household: Household, asked: str = "") -> QuerySet[Lot]:
    """What is left, the first to expire first; with words, what has all of them in its product or food."""
    found = household.lots.filter(count__gt=0)
    for word in asked.split():
        found = found.filter(Q(product__icontains=word) | Q(food__icontains=word))
    return found


def shelves(lots: QuerySet[Lot], today: date) -> list[Shelf]:
    """The places that hold any of `lots`; one query."""
    counted = lots.order_by().values("place").annotate(n=Count("pk"), past=Count("pk", filter=Q(best_by__lt=today)))
    found = {row["place"]: row for row in counted}
    return [
        Shelf(place, found[place.value]["n"], found[place.value]["past"]) for place in Place if place.value in found
    ]


def glance(lots: QuerySet[Lot], shelf: Shelf, today: date) -> list[Kept]:
    """The first few of a place."""
    return [kept(lot, today) for lot in lots.filter(place=shelf.place.value)[:AT_A_GLANCE]]


def use_first(household: Household) -> list[Kept]:
    """What is past its date or soon will be, five at the most; where nothing presses, the one that comes next."""
    today = household.today
    first = [kept(lot, today) for lot in lots_left(household)[:FIRST]]
    return [one for one in first if one.pressing != "calm"] or first[:1]


def page(lots: QuerySet[Lot], count: int, number: int, today: date) -> Page:
    """Page `number` of `count` lots; a number beyond the end gives the last page."""
    last = max(1, -(-count // ON_A_PAGE))
    number = min(max(1, number), last)
    shown = lots[(number - 1) * ON_A_PAGE : number * ON_A_PAGE]
    return Page([kept(lot, today) for lot in shown], number, last)
