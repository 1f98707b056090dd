"""Empty jars and lids as stock: they leave it when they are filled, and jars come back when they are emptied."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from stillroom.web.frame.undo import Counted
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import TakenOut

_STAYS = ("eaten", "put up")  # how the reasons begin with which the jar stays in the house


def container_of(kind: str) -> str:
    """The container that a lot in jars of this kind has, as the planner knows it."""
    return f"{kind} jar"


def filled(household: Household, kind: str, jars: int) -> list[Counted]:
    """So many jars and lids of a kind are in use; nothing where the kitchen counts no such jars."""
    return [(row, {"count": -jars, "lids": -jars}) for row in household.jars.filter(kind=kind) if jars]


def lids_used(household: Household, kind: str, lids: int) -> list[Counted]:
    """New lids for jars that are closed once more; one with a sealing compound seals once (rule R046)."""
    return [(row, {"lids": -lids}) for row in household.jars.filter(kind=kind, has_reusable_lids=False) if lids]


def emptied(household: Household, taken: Iterable[TakenOut]) -> list[Counted]:
    """Jars that come back, with their lids where these may be used again. What is given or thrown away is gone."""
    jars: Counter[str] = Counter()
    for row in taken:
        if row.why.startswith(_STAYS):
            jars[row.lot.container] += row.count
    found = ((row, jars[container_of(row.kind)]) for row in household.jars.all())
    return [
        (row, {"count": count, "lids": count} if row.has_reusable_lids else {"count": count})
        for row, count in found
        if count
    ]
