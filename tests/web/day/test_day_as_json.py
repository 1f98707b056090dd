"""The plan and its tasks for other programs."""

import json
from typing import Any
from urllib.parse import quote

import pytest
from django.http import HttpResponse
from django.test import Client
from test_put_up import COLD, OUT, UNLOAD
from test_said_of_tasks import now_is

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


def test_what_a_plan_put_up_goes_into_the_larder(
    browser: Client, made: MadePlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    now_is(monkeypatch, OUT)
    assert read(browser.get("/api/put-up")) == []
    read(send(browser, f"tasks/{quote(UNLOAD)}/done"))
    (one,) = read(browser.get("/api/put-up"))
    assert (one["asks"], one["jars"], one["amounts"]) == ("out", 12, ["12 pint jars"])
    here = f"put-up/{one['id']}"
    kept = {"jars": 12, "time_kept": True, "hold_kept": True}
    told = read(send(browser, f"{here}/out", kept | {"hold_kept": False}), 422)
    assert "not for the shelf" in told["fields"]["fate"]
    assert read(send(browser, f"{here}/out", kept | {"jars": 99}), 422)["detail"]
    cools = read(send(browser, f"{here}/out", kept, **{"Idempotency-Key": "a"}))
    assert (cools["asks"], cools["lots"]) == ("wait", [])
    assert read(send(browser, f"{here}/out", kept, **{"Idempotency-Key": "a"})) == cools
    assert "twelve hours" in read(send(browser, f"{here}/lids", {"sealed": 12}), 422)["detail"]
    now_is(monkeypatch, COLD)
    assert read(browser.get("/api/put-up"))[0]["asks"] == "lids"
    ended = read(send(browser, f"{here}/lids", {"sealed": 11, "fate": "fridge"}))
    assert ended["asks"] == ""
    lots = {lot.place: lot.amount for lot in made.household.lots.filter(key__in=ended["lots"])}
    assert lots == {"shelf": "11 pint jars of 450 g", "fridge": "1 pint jar of 450 g"}
    assert read(send(browser, "put-up/99/keep", {"amounts": []}), 404)
