"""Food that leaves arrivals and larder for something that a plan made: a meal, jars, packs."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime

from django.db import models

from stillroom.model.plan import TakenFood
from stillroom.web.arrivals.models import Arrival, Taken
from stillroom.web.frame.undo import Counted
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.actions import part_out
from stillroom.web.larder.empty_jars import emptied
from stillroom.web.larder.models import Lot, PutUp, TakenOut

_GRAM = 1.0


@dataclass
class Stores:
    """What is taken out of arrivals and larder, row by row; nothing is saved before all is known.

    `plan` is the key of the plan whose runs are taken from, where there is one.
    """

    household: Household
    why: str
    day: date
    at: datetime
    plan: int | None = None
    rows: list[models.Model] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)
    lots: dict[str, Lot] = field(default_factory=dict)
    short: list[str] = field(default_factory=list)

    def take(self, used: Iterable[TakenFood]) -> list[Lot]:
        """All that is used up; the lots of it. What another run of the plan made is taken where it was kept."""
        return [lot for taken in used if (lot := self._take(taken)) is not None]

    @property
    def changed(self) -> list[models.Model]:
        """Every row to save."""
        return [*self.rows, *self.lots.values()]

    @property
    def jars(self) -> list[Counted]:
        """The jars that were emptied."""
        return emptied(self.household, (row for row in self.rows if isinstance(row, TakenOut)))

    def _take(self, taken: TakenFood) -> Lot | None:
        arrival = self.household.arrivals.filter(key=taken.origin).first()
        if arrival is not None:
            self._from_arrival(arrival, taken)
            return None
        lot = self.lots.get(taken.origin) or self._lot(taken)
        if lot is None:
            return None
        lot = self.lots.setdefault(lot.key, lot)
        self._from_lot(lot, taken)
        return lot

    def _lot(self, taken: TakenFood) -> Lot | None:
        lots = self.household.lots.select_for_update()
        found: Lot | None = lots.filter(key=taken.origin).first()
        if found is None and self.plan is not None:
            food = taken.food.rsplit(", ", 1)[0]
            made = PutUp.made_by(self.household, self.plan, taken.origin)
            keys = [key for row in made for key in row.lots]
            found = lots.filter(key__in=keys, food=food, count__gt=0).first()
        return found

    def _from_arrival(self, arrival: Arrival, taken: TakenFood) -> None:
        used_g = sum(row.mass_g for row in self.rows if isinstance(row, Taken) and row.arrival_id == arrival.pk)
        mass_g = min(taken.mass_g, arrival.left_g - used_g)
        if mass_g < taken.mass_g - _GRAM:
            self.short.append(arrival.name)
        if mass_g >= _GRAM:
            self.rows.append(Taken(arrival=arrival, mass_g=mass_g, why=self.why, at=self.at))
            self.keys.append(arrival.key)

    def _from_lot(self, lot: Lot, taken: TakenFood) -> None:
        """Whole containers: one that has been opened is used up, or its rest is among what is left."""
        if lot.count == 0:
            self.short.append(lot.product)
            return
        wanted = math.ceil(taken.mass_g / (lot.mass_g / lot.count) - 1e-6)
        if taken.mass_g > lot.mass_g + _GRAM:
            self.short.append(lot.product)
        count, mass_g = min(wanted, lot.count), min(taken.mass_g, lot.mass_g)
        self.rows.append(part_out(lot, count, mass_g, self.why, day=self.day, at=self.at))
        self.keys.extend((lot.key, lot.container))
