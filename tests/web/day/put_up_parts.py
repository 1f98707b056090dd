"""A load of beans of the small plan, and what is said of it."""

from datetime import datetime
from typing import Any

from test_said_of_tasks import aware

from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import PutUp

UNLOAD = "beans_green_jarred/pint/pressure canner@0#1:unload"
OUT, COLD = datetime(2027, 4, 9, 18, 20), datetime(2027, 4, 10, 10, 0)  # noqa: DTZ001 - by the clock of the plan
KEPT = {"jars": "12", "time_kept": "yes", "hold_kept": "yes", "fate": ""}


def pints(household: Household) -> tuple[int, int]:
    row = household.jars.get(kind="pint")
    return row.count, row.lids


def beans_left_g(household: Household) -> float:
    return household.arrivals.get(food="green bean").left_g


def offered(household: Household, **facts: Any) -> PutUp:
    line = {"product": "Plums, frozen", "food": "plum", "place": "freezer", "container": "freezer pack"}
    usual = {"key": "1:x", "run": "1:x", "name": "Plums, frozen", "done_at": aware(OUT), "ready_on": OUT.date()}
    usual["made"] = [line | {"count": 3, "mass_g": 3000.0, "keeps_days": 300}]
    return PutUp.objects.create(household=household, **(usual | facts))
