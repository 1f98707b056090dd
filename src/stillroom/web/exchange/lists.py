"""The lists of the household as tables for a spreadsheet; those of plan and recipes stand with their pages."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from stillroom.household import written_words as words
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import TakenOut

Cells = Sequence[object]


@dataclass(frozen=True, slots=True)
class HouseList:
    """One list: its columns and its rows."""

    title: str
    columns: tuple[str, ...]
    rows: Callable[[Household], Iterator[Cells]]


def _arrivals(household: Household) -> Iterator[Cells]:
    for one in household.arrivals.prefetch_related("taken"):
        used_g = sum(taken.mass_g for taken in one.taken.all())
        yield (
            *(one.key, one.name, one.amount, one.day, one.place, one.state),
            None if one.given_days is None else words.days(one.given_days),
            *(one.worth_per_kg, one.note, "yes" if one.is_here else "no"),
            words.mass(used_g) if used_g else None,
        )


def _lots(household: Household) -> Iterator[Cells]:
    for lot in household.lots.filter(count__gt=0):
        yield lot.key, lot.product, lot.food, lot.place, lot.amount, lot.made_on, lot.best_by


def _ledger(household: Household) -> Iterator[Cells]:
    for taken in TakenOut.objects.filter(lot__household=household).select_related("lot"):
        lot = taken.lot
        yield taken.day, lot.key, lot.product, lot.food, taken.count or None, round(taken.mass_g, 1), taken.why


def _jars(household: Household) -> Iterator[Cells]:
    for jar in household.jars.all():
        reusable = "yes" if jar.has_reusable_lids else "no"
        yield jar.kind, jar.count, jar.lids, reusable, jar.diameter_mm, jar.height_mm


LISTS = {
    "arrivals": HouseList(
        "Arrivals",
        ("key", "food", "amount", "day", "place", "state", "clock", "worth per kg", "note", "came", "used"),
        _arrivals,
    ),
    "larder": HouseList("What is in store", ("key", "product", "food", "place", "amount", "made on", "best by"), _lots),
    "ledger": HouseList(
        "What left the larder", ("day", "key", "product", "food", "containers", "mass g", "why"), _ledger
    ),
    "jars": HouseList("Jars and lids", ("kind", "count", "lids", "reusable lids", "diameter mm", "height mm"), _jars),
}
