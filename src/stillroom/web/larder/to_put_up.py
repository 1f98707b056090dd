"""What a plan put up and the larder does not hold yet, as pages and other programs list it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from stillroom.household import written_words as words
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.empty_jars import container_of
from stillroom.web.larder.models import PutUp

SHOWN = 60


@dataclass(frozen=True, slots=True)
class ToPutUp:
    """One batch. `asks`: "out", "lids" or "keep" by one tap, "wait" while it cools or cures, "" when all is said."""

    row: PutUp
    asks: str
    amount: str
    until: datetime | None = None  # when it can be said, by the clock of the household

    @property
    def one_tap(self) -> dict[str, str]:
        """What the button sends: everything as planned and kept."""
        if self.asks == "out":
            return {"jars": str(self.row.jars), "time_kept": "yes", "hold_kept": "yes", "fate": ""}
        if self.asks == "lids":
            return {"sealed": str(self.row.jars), "fate": ""}
        return {f"amount_{number}": _amount(line) for number, line in enumerate(self.row.made)}


def to_put_up(household: Household) -> list[ToPutUp]:
    """What waits for a word, the oldest first; what only has to stand for a while last."""
    now = household.now()
    rows = household.put_ups.filter(ended_at=None)[:SHOWN]
    found = []
    for row in rows:
        row.household = household
        found.append(one_to_put_up(row, now))
    return sorted(found, key=lambda one: one.asks == "wait")


def one_to_put_up(row: PutUp, now: datetime) -> ToPutUp:
    """What is asked of one."""
    if row.jar:
        amount = f"{row.jars} {container_of(row.jar)}{'s' if row.jars != 1 else ''}"
        if row.ended_at is not None:
            return ToPutUp(row, "", amount)
        if row.used_at is None:
            return ToPutUp(row, "out", amount)
        is_cold = now >= row.looked_at_from
        return ToPutUp(row, "lids" if is_cold else "wait", amount, row.looked_at_from)
    amount = ", ".join(map(_amount, row.made[:2]))
    more = len(row.made) - 2
    amount += f" and {more} more" if more > 0 else ""
    if row.ended_at is not None:
        return ToPutUp(row, "", amount)
    if row.used_at is not None and row.ready_on > now.date():
        return ToPutUp(row, "wait", amount)
    return ToPutUp(row, "keep", amount)


def _amount(line: dict[str, Any]) -> str:
    return words.bundle(line["count"], line["container"], line["mass_g"])
