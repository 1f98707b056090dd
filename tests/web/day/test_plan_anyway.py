"""A plan that is made anew while a safety clock runs asks back first: the new one would not tell of it."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.urls import reverse

from stillroom.web.day import task_actions
from stillroom.web.day.current import current_plan
from stillroom.web.day.models import MadePlan, PlanJob
from stillroom.web.kitchen.models import Household


def now_is(monkeypatch: pytest.MonkeyPatch, at: datetime) -> None:
    monkeypatch.setattr(Household, "now", lambda self: at.replace(tzinfo=ZoneInfo("Europe/Berlin")))


def test_a_running_clock_is_asked_about(made: MadePlan, press: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    current = current_plan(made.household)
    assert current is not None
    tasks = {task.key: task for task in current.plan.tasks}
    lags = (lag for lag in current.standing.worked_out.problem.lags if lag.is_safety and lag.after in tasks)
    before = min((tasks[lag.before] for lag in lags if lag.before in tasks), key=lambda task: task.end)
    now_is(monkeypatch, before.end)
    ask = reverse("day:ask")
    assert press(ask, {"seconds": "12"}, page="/split/").status_code == 302  # nothing was said of any step yet
    PlanJob.objects.all().delete()
    task_actions.finish(current, before.key, at=made.household.now())
    answer = press(ask, {"seconds": "12"}, page="/split/")
    assert answer.status_code == 409
    assert "A clock runs" in answer.content.decode()
    assert not PlanJob.objects.exists()
    assert press(ask, {"seconds": "12", "anyway": "yes"}, page="/split/").status_code == 302
    assert PlanJob.objects.count() == 1
