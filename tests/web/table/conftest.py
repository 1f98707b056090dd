"""The invented household with a plan written by hand: a stew and a bird for dinner on the first day, half past six.

The stew takes 1.7 kg out of the freezer (one of two packs) and makes 5 portions, the bird 900 g of the tomatoes that
came in and makes 7. Five people eat 4.25 adult portions.
"""

import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

sys.path.insert(0, str(Path(__file__).parents[2] / "planning"))

from kept_day import START, kept_day

from stillroom.model.household import Place
from stillroom.model.plan import Made, PlannedMeal, TakenFood
from stillroom.planning.kept_plan import KeptPlan
from stillroom.web.day.models import MadePlan
from stillroom.web.kitchen.models import Household

At = Callable[..., datetime]
STEW, TOMATOES = "stew 2027-02-27", "tomato 2027-04-09"


@pytest.fixture
def plan(household: Household) -> MadePlan:
    """The plan in force."""
    kept = kept_day()
    worked_out, found = kept.worked_out, kept.worked_out.plan
    beans, soup = found.runs
    stew = replace(
        soup,
        name="Frozen stew, heated",
        taken=(TakenFood("stew, frozen", 1700.0, STEW),),
        made=(Made("Stew", "plate", Place.COUNTER, 2000.0, None, START, None, 5.0),),
    )
    bird = replace(
        soup,
        key="bird@0",
        name="Roast bird",
        taken=(TakenFood("tomato, fresh", 900.0, TOMATOES), TakenFood("pork fat, fresh", 50.0, "pig_half_cut@0")),
        made=(Made("Bird", "plate", Place.COUNTER, 2100.0, None, START, None, 7.0),),
    )
    at = datetime.combine(START, found.meals[0].at.time())
    meal = PlannedMeal("dinner", at, 4.25, (stew.name, bird.name), (), at, (stew.key, bird.key), 0.96)
    kept = KeptPlan(
        folder=kept.folder,
        worked_out=replace(worked_out, plan=replace(found, runs=(beans, stew, bird), meals=(meal,))),
    )
    return MadePlan.objects.create(household=household, made_at=timezone.now(), kept=kept.as_text())


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> At:
    """Sets the clock of every household to an hour of its first day, or a day of April later."""

    def at(hour: int, minute: int = 0, *, day: int = 9) -> datetime:
        now = datetime(2027, 4, day, hour, minute, tzinfo=ZoneInfo("Etc/UTC"))
        monkeypatch.setattr(Household, "now", lambda _: now)
        return now

    return at
