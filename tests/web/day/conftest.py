"""A small household (tomatoes and beans over two days of the invented week) with a plan of its own."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from urllib.parse import quote

import pytest
from django.utils import timezone
from put_up_parts import OUT, UNLOAD
from test_said_of_tasks import aware, now_is

from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.pipeline import work_out
from stillroom.web.day.models import MadePlan
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import PutUp

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


@pytest.fixture
def beans(made: MadePlan, press: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> PutUp:
    """Twelve pints of beans, just out of the canner: the last task of their load is ticked on Today."""
    now_is(monkeypatch, OUT)
    made.household.time_zone = f"{aware(OUT).tzinfo}"  # as in all times here
    made.household.save()
    press(f"/timetable/say/done/{quote(UNLOAD)}", {}, page="/", again=True)
    return made.household.put_ups.get()
