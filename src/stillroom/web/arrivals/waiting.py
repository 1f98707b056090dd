"""Arrivals as a page shows them: how long each may still wait, how pressing that is, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from stillroom.errors import InputError
from stillroom.web.arrivals.models import Arrival
from stillroom.web.kitchen.models import Household

_GRAM = 1.0
SOON_DAYS = 1  # today and tomorrow are soon


@dataclass(frozen=True, slots=True)
class Waiting:
    """An arrival with its clock. `pressing`: "stop" past its clock, "soon" today or tomorrow, "calm" later."""

    arrival: Arrival
    left_g: float
    last_day: date | None
    days_left: int | None  # from today; negative: past
    keep_days: int | None
    reason: str
    pressing: str
    warning: str = ""


def waiting(household: Household) -> list[Waiting]:
    """What is in the house and not used up, the most pressing first."""
    rows = household.arrivals.filter(is_here=True).prefetch_related("taken")
    found = [_waiting(arrival, household.today) for arrival in rows]
    left = [one for one in found if one.left_g >= _GRAM]
    return sorted(left, key=lambda one: (one.last_day or date.min, one.arrival.name))


def expected(household: Household) -> list[Waiting]:
    """What is still to come, by day; what did not come on its day stands first."""
    rows = household.arrivals.filter(is_here=False).prefetch_related("taken")
    return [_waiting(arrival, household.today) for arrival in rows]


def one_waiting(arrival: Arrival) -> Waiting:
    """One arrival with its clock."""
    return _waiting(arrival, arrival.household.today)


def _waiting(arrival: Arrival, today: date) -> Waiting:
    left_g = arrival.left_g
    try:
        clock = arrival.clock()
    except InputError as error:
        return Waiting(arrival, left_g, None, None, None, str(error), "stop")
    last_day = arrival.last_day
    days = (last_day - today).days
    pressing = "stop" if days < 0 else "soon" if days <= SOON_DAYS else "calm"
    return Waiting(arrival, left_g, last_day, days, clock.keep_days, clock.reason, pressing, clock.note)
