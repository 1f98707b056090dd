"""Moving a task by tap: checked at once, offered, taken, held, let go; the rest arranged anew."""

import re
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any
from urllib.parse import quote
from zoneinfo import ZoneInfo

import pytest
from django.test import Client

from stillroom.model.plan import PlannedTask
from stillroom.model.work import Attention
from stillroom.planning.moving import move
from stillroom.timetable.check import check
from stillroom.timetable.progress import Progress
from stillroom.web.day import task_actions
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.models import MadePlan, TaskEvent, Timing
from stillroom.web.day.standing import minute_of, seen
from stillroom.web.kitchen.models import Household

Press = Callable[..., Any]


def current(made: MadePlan) -> Current:
    found = current_plan(made.household)
    assert found is not None
    return found


def aware(at: datetime) -> datetime:
    return at.replace(tzinfo=ZoneInfo("Europe/Berlin"))


@pytest.fixture(autouse=True)
def morning(made: MadePlan, monkeypatch: pytest.MonkeyPatch) -> datetime:
    """It is six in the morning of the first day."""
    at = datetime.combine(current(made).plan.start, datetime.min.time()) + timedelta(hours=6)
    monkeypatch.setattr(Household, "now", lambda self: aware(at))
    return at


@pytest.fixture
def one(made: MadePlan) -> PlannedTask:
    """The first task by hand that has room for both moves of these tests, with no meal late for them."""
    here = current(made)
    for task in here.plan.tasks:
        start = minute_of(here.standing.worked_out, task.start)
        offers = (move(here.kept, Progress(360), task.key, start + later).found for later in (15, 30))
        if task.attention is Attention.HANDS and all(
            found and max(found.late_min.values(), default=0) <= 0 for found in offers
        ):
            return task
    raise AssertionError("no task of the small plan can be moved")


@pytest.fixture
def try_at(press: Press, one: PlannedTask) -> Press:
    def send(at: datetime | str, again: bool = False) -> Any:
        text = at if isinstance(at, str) else f"{at:%H:%M}"
        key = quote(one.key)
        return press(f"/timetable/move/{key}", {"time": text}, page=f"/timetable/task/{key}", again=again)

    return send


def start_of(made: MadePlan, key: str) -> datetime:
    return task_actions.find_task(current(made), key).start


def test_it_works(made: MadePlan, one: PlannedTask, try_at: Press, browser: Client, press: Press) -> None:
    to = one.start + timedelta(minutes=15)
    answer = try_at(to, again=True)
    offer = Timing.objects.get()
    assert answer["Location"] == f"/timetable/offer/{offer.pk}"
    assert start_of(made, one.key) == one.start  # nothing changes before it is taken
    text = browser.get(answer["Location"]).content.decode()
    assert f"Moved to {to:%H:%M}" in text
    press(f"/timetable/offer/{offer.pk}/take", {}, page=answer["Location"], again=True)
    assert start_of(made, one.key) == to
    assert one.key in current(made).standing.pinned
    worked_out = current(made).standing.worked_out
    assert check(worked_out.problem, worked_out.timetable) == ()
    assert "It stays where you put it" in browser.get(f"/timetable/task/{quote(one.key)}").content.decode()


def test_it_can_be_taken_back(made: MadePlan, one: PlannedTask, try_at: Press, press: Press, browser: Client) -> None:
    from stillroom.web.frame.models import Change

    before = current(made).plan.tasks
    answer = try_at(one.start + timedelta(minutes=15))
    press(f"{answer['Location']}/take", {}, page=answer["Location"])
    assert current(made).plan.tasks != before
    browser.post(f"/frame/undo/{Change.objects.first().pk}", {})
    assert current(made).plan.tasks == before


def test_it_is_let_go_again(made: MadePlan, one: PlannedTask, try_at: Press, press: Press) -> None:
    answer = try_at(one.start + timedelta(minutes=15))
    press(f"{answer['Location']}/take", {}, page=answer["Location"])
    key = quote(one.key)
    press(f"/timetable/let-go/{key}", {}, page=f"/timetable/task/{key}", again=True)
    assert current(made).standing.pinned == frozenset()
    assert start_of(made, one.key) == one.start + timedelta(minutes=15)


def test_what_can_not_be_is_explained(one: PlannedTask, try_at: Press) -> None:
    answer = try_at("04:00")
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "can’t be" in text
    assert "already" in text
    assert not Timing.objects.exists()


def quick_times(browser: Client, task: PlannedTask) -> list[str]:
    text = browser.get(f"/timetable/task/{quote(task.key)}").content.decode()
    return re.findall(r'<button name="time" value="(\d\d:\d\d)"', text)


def test_only_times_to_come_are_offered(
    one: PlannedTask, browser: Client, monkeypatch: pytest.MonkeyPatch, try_at: Press
) -> None:
    now = one.start - timedelta(minutes=20)
    monkeypatch.setattr(Household, "now", lambda self: aware(now))
    times = [one.start + timedelta(minutes=minutes) for minutes in (-15, 15, 30, 60)]
    assert quick_times(browser, one) == [f"{at:%H:%M}" for at in times]
    for at in times:
        assert "already" not in try_at(at).content.decode()


@pytest.mark.parametrize("minutes", [1, 60])
def test_what_has_begun_by_the_plan_is_offered_no_time(
    one: PlannedTask, browser: Client, monkeypatch: pytest.MonkeyPatch, minutes: int
) -> None:
    monkeypatch.setattr(Household, "now", lambda self: aware(one.start + timedelta(minutes=minutes)))
    assert quick_times(browser, one) == []
    text = browser.get(f"/timetable/task/{quote(one.key)}").content.decode()
    assert "Its hour has come" in text
    assert "Move it" not in text


@pytest.mark.parametrize("time", ["25:00", "", "noon", "1"])
def test_no_time_of_day(try_at: Press, time: str) -> None:
    assert try_at(time).status_code == 400
    assert not Timing.objects.exists()


def test_an_offer_that_is_overtaken_is_not_taken(made: MadePlan, one: PlannedTask, try_at: Press, press: Press) -> None:
    answer = try_at(one.start + timedelta(minutes=15))
    other = current(made).plan.tasks[0]
    task_actions.delay(current(made), other.key, 15, at=aware(other.start - timedelta(hours=1)))
    refused = press(f"{answer['Location']}/take", {}, page=answer["Location"])
    assert refused.status_code == 400
    assert "check it once more" in refused.content.decode()


def test_what_is_done_is_not_moved(made: MadePlan, one: PlannedTask, press: Press) -> None:
    task_actions.finish(current(made), one.key, at=aware(one.end), is_as_planned=True)
    answer = press(f"/timetable/move/{quote(one.key)}", {"time": "12:00"}, page="/timetable/")
    assert answer.status_code == 400
    assert "only what is to come" in answer.content.decode()


def test_the_rest_is_arranged_anew_when_dinner_would_be_late(
    made: MadePlan, press: Press, browser: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Half an hour is lost on the dish of the meal; what can be done about it is done at once."""
    plan = current(made).plan
    meal = next(m for m in plan.meals if m.runs)
    dish = next(t for t in plan.tasks if t.run in meal.runs and t.attention is Attention.HANDS)
    at = dish.start + timedelta(minutes=1)
    monkeypatch.setattr(Household, "now", lambda self: aware(at))
    press(f"/timetable/say/late/{quote(dish.key)}", {"minutes": "30"}, page="/", again=True)
    assert TaskEvent.objects.count() == 1
    stands = current(made).standing
    if Timing.objects.exists():
        assert "Arranged the rest anew" in browser.get("/").content.decode()
    else:
        assert not stands.late_meals
    late = task_actions.find_task(current(made), dish.key)
    assert late.end >= dish.end + timedelta(minutes=30)


def test_arranged_anew_by_hand_keeps_what_happened_and_every_rule(
    made: MadePlan, press: Press, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = current(made).plan
    first = plan.tasks[0]
    task_actions.finish(current(made), first.key, at=aware(first.end + timedelta(minutes=20)))
    monkeypatch.setattr(Household, "now", lambda self: aware(first.end + timedelta(minutes=20)))
    press("/timetable/anew", {}, page="/timetable/", again=True)
    assert Timing.objects.count() == 1
    after = current(made)
    assert task_actions.find_task(after, first.key).end == first.end + timedelta(minutes=20)
    assert after.standing.broken_clocks == ()


def test_what_is_not_said_went_as_planned(made: MadePlan) -> None:
    stands = current(made).standing
    tasks = current(made).plan.tasks
    moment = tasks[3].start + timedelta(minutes=1)
    now = minute_of(stands.worked_out, moment)
    happened = seen(stands, now)
    assert tasks[3].key in happened.going_on
    assert all(t.key in happened.finished for t in tasks if t.end <= moment)
    assert all(t.key not in happened.finished for t in tasks if t.start > moment)
    task_actions.reopen(current(made), tasks[3].key, at=aware(moment))  # nothing was said: nothing to take back
    assert not TaskEvent.objects.exists()


def test_a_beginning_put_off_does_not_undo_a_later_move(
    made: MadePlan, one: PlannedTask, try_at: Press, press: Press, morning: datetime
) -> None:
    task_actions.delay(current(made), one.key, 10, at=aware(morning))
    assert start_of(made, one.key) == one.start + timedelta(minutes=10)
    answer = try_at(one.start + timedelta(minutes=30))
    press(f"{answer['Location']}/take", {}, page=answer["Location"])
    assert start_of(made, one.key) == one.start + timedelta(minutes=30)


def test_chances_are_told(made: MadePlan, browser: Client) -> None:
    sure = current(made).plan.sureness
    text = browser.get("/timetable/").content.decode()
    assert "How sure is it" in text
    assert f"On {sure.days} simulated days" in text
