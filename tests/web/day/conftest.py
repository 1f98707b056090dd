"""A small household (tomatoes and beans over two days of the invented week) with a plan of its own."""

from datetime import timedelta

import pytest
from django.utils import timezone

from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.pipeline import work_out
from stillroom.web.day.models import MadePlan
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

_texts: list[str] = []  # worked out once: the household is the same in every test


@pytest.fixture
def small(household: Household) -> Household:
    """What comes in on the first day of the demo, over two days."""
    household.arrivals.exclude(food__in=("tomato", "green bean")).delete()
    household.plan_days = 2
    household.save()
    return household


@pytest.fixture
def made(small: Household) -> MadePlan:
    """Its plan, ten minutes old."""
    if not _texts:
        folder = folder_of(small)
        found = work_out(folder, days=folder.days, seconds=2.0, progress=lambda _: None)
        _texts.append(KeptPlan(folder=folder, worked_out=found).as_text())
    return MadePlan.objects.create(household=small, made_at=timezone.now() - timedelta(minutes=10), kept=_texts[0])
