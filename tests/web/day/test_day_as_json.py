"""The plan and its tasks for other programs."""

import json
from typing import Any
from urllib.parse import quote

from django.http import HttpResponse
from django.test import Client

from stillroom.web.day.current import current_plan
from stillroom.web.day.models import MadePlan, PlanJob, TaskEvent
from stillroom.web.kitchen.models import Household


def send(browser: Client, address: str, body: dict[str, object] | None = None, **headers: str) -> HttpResponse:
    return browser.post(f"/api/{address}", json.dumps(body or {}), content_type="application/json", headers=headers)


def read(answer: HttpResponse, status: int = 200) -> Any:
    assert answer.status_code == status, answer.content
    return json.loads(answer.content)


def test_a_plan_is_asked_for_once(browser: Client, small: Household) -> None:
    assert read(browser.get("/api/plan"), 404)["detail"]
    first = read(send(browser, "plan", {"seconds": 5}), 202)
    second = read(send(browser, "plan"), 202)
    assert first["id"] == second["id"]
    assert read(browser.get("/api/plan/job"))["state"] == "waiting"
    assert PlanJob.objects.get().seconds == 12.0  # the longer one of the two
    assert read(send(browser, "plan", {"seconds": 1e9}), 422)["fields"]["seconds"]


def test_the_plan_as_it_stands(browser: Client, made: MadePlan) -> None:
    told = read(browser.get("/api/plan"))
    current = current_plan(made.household)
    assert current is not None
    assert told["changed_since"] == []
    assert [task["key"] for task in told["plan"]["tasks"]] == [task.key for task in current.plan.tasks]
    assert {run["name"] for run in told["plan"]["runs"]} == {run.name for run in current.plan.runs}


def test_begun_done_later_and_not_after_all(browser: Client, made: MadePlan) -> None:
    current = current_plan(made.household)
    assert current is not None
    key = current.plan.tasks[0].key
    address = f"tasks/{quote(key, safe='')}"
    assert read(send(browser, f"{address}/begin"))["is_begun"]
    before = read(send(browser, f"{address}/later", {"minutes": 5}))
    again = [read(send(browser, f"{address}/later", {"minutes": 5}, **{"Idempotency-Key": "a"})) for _ in range(2)]
    assert again[0]["end"] == again[1]["end"] != before["end"]
    assert read(send(browser, f"{address}/later", {"minutes": 5000}), 422)["detail"]
    assert read(send(browser, f"{address}/done"))["is_done"]
    assert not read(send(browser, f"{address}/reopen"))["is_done"]
    assert read(send(browser, "tasks/no such task/begin"), 404)["detail"]
    assert TaskEvent.objects.count() == 5


def test_now_and_next(browser: Client, made: MadePlan) -> None:
    told = read(browser.get("/api/today"))
    keys = {task["key"] for task in read(browser.get("/api/plan"))["plan"]["tasks"]}
    assert {task["key"] for task in (*told["now"], *told["next"])} <= keys
    assert told["next"] or told["now"]
