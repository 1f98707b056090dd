"""Begun, done, later, not after all: one tap each, safe to tap twice, and the rest makes way."""

import html
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any
from urllib.parse import quote
from zoneinfo import ZoneInfo

import pytest
from django.test import Client

from stillroom.errors import InputError
from stillroom.model.plan import PlannedTask
from stillroom.model.work import Attention
from stillroom.web.day import task_actions
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.models import MadePlan, TaskEvent
from stillroom.web.day.standing import minute_of, seen
from stillroom.web.day.today_page import Today
from stillroom.web.kitchen.models import Household

Kind = TaskEvent.Kind


def now_is(monkeypatch: pytest.MonkeyPatch, at: datetime) -> None:
    monkeypatch.setattr(Household, "now", lambda self: aware(at))


def aware(at: datetime) -> datetime:
    return at.replace(tzinfo=ZoneInfo("Europe/Berlin"))


def current(made: MadePlan) -> Current:
    found = current_plan(made.household)
    assert found is not None
    return found


def task(made: MadePlan, key: str) -> PlannedTask:
    return task_actions.find_task(current(made), key)


@pytest.fixture
def first(made: MadePlan) -> PlannedTask:
    """The first task that takes hands and on which others wait."""
    lags = {lag.before for lag in current(made).standing.worked_out.problem.lags}
    return next(t for t in current(made).plan.tasks if t.attention is Attention.HANDS and t.key in lags)


@pytest.fixture
def tight(made: MadePlan) -> PlannedTask:
    """The first task that takes hands and on which another waits that begins within 20 minutes."""
    tasks = {task.key: task for task in current(made).plan.tasks}
    lags = [lag for lag in current(made).standing.worked_out.problem.lags if {lag.before, lag.after} <= tasks.keys()]
    soon = {lag.before for lag in lags if tasks[lag.after].start - tasks[lag.before].end <= timedelta(minutes=20)}
    return next(t for t in tasks.values() if t.attention is Attention.HANDS and t.key in soon)


@pytest.fixture
def tap(browser: Client, press: Callable[..., Any]) -> Callable[..., Any]:
    def send(kind: str, one: PlannedTask, again: bool = False, **fields: object) -> Any:
        return press(f"/timetable/say/{kind}/{quote(one.key)}", fields, page="/", again=again)

    return send


def test_it_works(made: MadePlan, tight: PlannedTask, tap: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Done so much later: what waits for it comes later too, and nothing that must follow comes before."""
    now_is(monkeypatch, tight.end + timedelta(minutes=40))
    before = {t.key: t.start for t in current(made).plan.tasks}
    assert tap("done", tight, again=True)["Location"] == "/"
    assert TaskEvent.objects.count() == 1
    after = current(made)
    assert after.standing.is_done(tight)
    assert task(made, tight.key).end == tight.end + timedelta(minutes=40)
    assert any(t.start > before[t.key] for t in after.plan.tasks if t.key != tight.key)
    spans = {t.key: t for t in after.plan.tasks}
    for lag in after.standing.worked_out.problem.lags:
        if lag.before in spans and lag.after in spans:
            assert spans[lag.after].start >= spans[lag.before].end + timedelta(minutes=lag.min_lag)


def test_what_is_done_as_planned_moves_nothing(made: MadePlan, first: PlannedTask) -> None:
    before = current(made).plan.tasks
    task_actions.finish(current(made), first.key, at=aware(first.end + timedelta(hours=3)), is_as_planned=True)
    assert current(made).plan.tasks == before


def test_what_is_still_to_come_is_not_done_in_time(
    made: MadePlan, first: PlannedTask, browser: Client, monkeypatch: pytest.MonkeyPatch, tap: Any
) -> None:
    """Nobody has done it by an hour that has not come: not offered, and taken as done now."""
    page = f"/timetable/task/{quote(first.key)}"
    now_is(monkeypatch, first.end)
    assert "Done in time" in browser.get(page).content.decode()
    at = first.start - timedelta(minutes=30)
    now_is(monkeypatch, at)
    assert "Done in time" not in browser.get(page).content.decode()
    tap("done", first, when="planned")
    assert task(made, first.key).end == at


def test_nothing_is_brought_forward_when_something_is_done_early(made: MadePlan, first: PlannedTask) -> None:
    before = {t.key: t.start for t in current(made).plan.tasks}
    task_actions.finish(current(made), first.key, at=aware(first.start + timedelta(minutes=1)))
    assert all(t.start == before[t.key] for t in current(made).plan.tasks if t.key != first.key)


def test_what_is_done_before_it_was_planned_keeps_its_length(made: MadePlan, first: PlannedTask) -> None:
    task_actions.finish(current(made), first.key, at=aware(first.start - timedelta(minutes=30)))
    done = task(made, first.key)
    assert done.end == first.start - timedelta(minutes=30)
    assert done.end - done.start == first.end - first.start


def test_later_is_told_with_what_follows(
    made: MadePlan, tight: PlannedTask, tap: Any, browser: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    now_is(monkeypatch, tight.start + timedelta(minutes=1))
    tap("late", tight, again=True, minutes="30")
    assert task(made, tight.key).end == tight.end + timedelta(minutes=30)
    assert current(made).standing.is_begun(tight)
    text = browser.get("/").content.decode()
    assert "Later:" in text
    assert "moved" in text


def test_the_whole_task_is_told(made: MadePlan, tap: Any, browser: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is cut at its first comma: “Begun: scrub, leave the roots on, sort by size.”"""
    one = next(t for t in current(made).plan.tasks if "," in t.text and len(t.text) < 150)
    now_is(monkeypatch, one.start)
    tap("begin", one)
    text = html.unescape(browser.get("/").content.decode())
    assert f"Begun: {one.text[0].lower()}{one.text[1:].rstrip('.')}." in text


def test_a_long_task_breaks_off_between_words() -> None:
    text = "Lift out the bones, pick the meat, strain the stock into shallow pans"
    assert task_actions.inside(text) == "lift out the bones, pick the meat, strain the stock into shallow pans"
    assert task_actions.inside(text, 40) == "lift out the bones, pick the meat, …"


def test_what_has_not_begun_begins_later(made: MadePlan, first: PlannedTask) -> None:
    task_actions.delay(current(made), first.key, 15, at=aware(first.start - timedelta(minutes=60)))
    moved = task(made, first.key)
    assert (moved.start, moved.end) == (first.start + timedelta(minutes=15), first.end + timedelta(minutes=15))
    assert not current(made).standing.is_begun(moved)
    task_actions.delay(current(made), first.key, 15, at=aware(first.start - timedelta(minutes=50)))
    assert task(made, first.key).start == first.start + timedelta(minutes=30)


def test_begun_now_ends_after_its_minutes(made: MadePlan, first: PlannedTask) -> None:
    at = first.start + timedelta(minutes=20)
    task_actions.begin(current(made), first.key, at=aware(at))
    task_actions.begin(current(made), first.key, at=aware(at + timedelta(minutes=5)))
    begun = task(made, first.key)
    assert begun.start == at
    assert begun.end - begun.start == first.end - first.start
    assert TaskEvent.objects.count() == 1


def test_what_was_begun_and_should_be_over_says_so(
    made: MadePlan, first: PlannedTask, browser: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    task_actions.begin(current(made), first.key, at=aware(first.start))
    now_is(monkeypatch, first.end - timedelta(minutes=1))
    assert "should be over" not in browser.get("/").content.decode()
    now_is(monkeypatch, first.end + timedelta(minutes=20))
    assert "begun, should be over" in browser.get("/").content.decode()


def test_not_after_all_puts_everything_back(made: MadePlan, first: PlannedTask) -> None:
    before = current(made).plan.tasks
    task_actions.finish(current(made), first.key, at=aware(first.end + timedelta(minutes=50)))
    assert current(made).plan.tasks != before
    task_actions.reopen(current(made), first.key, at=aware(first.end + timedelta(minutes=51)))
    assert current(made).plan.tasks == before
    assert TaskEvent.objects.count() == 2  # nothing is struck out


@pytest.mark.parametrize("minutes", ["0", "241", "-5", "many", "٣", ""])
def test_a_delay_of_no_sense_is_refused(made: MadePlan, first: PlannedTask, tap: Any, minutes: str) -> None:
    assert tap("late", first, minutes=minutes).status_code == 400
    assert not TaskEvent.objects.exists()


def test_what_is_done_can_not_be_late(made: MadePlan, first: PlannedTask) -> None:
    task_actions.finish(current(made), first.key, at=aware(first.end))
    with pytest.raises(InputError, match="done already"):
        task_actions.delay(current(made), first.key, 15, at=aware(first.end))


def test_a_task_of_another_plan_is_told(made: MadePlan, browser: Client, press: Any) -> None:
    answer = press("/timetable/say/done/no-such-task", {}, page="/")
    assert answer.status_code == 400
    assert "not in the plan any more" in answer.content.decode()
    assert browser.post("/timetable/say/eaten/x").status_code == 404


def test_a_clock_that_can_not_be_kept_is_told(made: MadePlan, browser: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    """A step that must follow within minutes begins two hours late."""
    worked_out = current(made).standing.worked_out
    keys = {t.key: t for t in current(made).plan.tasks}
    lag = next(lag for lag in worked_out.problem.lags if lag.is_safety and lag.max_lag and lag.max_lag <= 15)
    one = keys[lag.before]
    task_actions.finish(current(made), one.key, at=aware(one.end))
    after = keys[lag.after]
    task_actions.begin(current(made), after.key, at=aware(one.end + timedelta(hours=2)))
    assert any(lag.reason in clock.words for clock in current(made).standing.broken_clocks)
    now_is(monkeypatch, one.end + timedelta(hours=2))
    assert "A clock can’t be kept" in browser.get("/").content.decode()


def test_a_late_meal_is_told(made: MadePlan, browser: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    meal = next(meal for meal in current(made).plan.meals if meal.runs)
    last = max((t for t in current(made).plan.tasks if t.run in meal.runs), key=lambda t: t.end)
    assert not current(made).standing.late_meals
    task_actions.finish(current(made), last.key, at=aware(meal.at + timedelta(minutes=25)))
    late = current(made).standing.late_meals
    assert [(one.name, one.ready) for one in late] == [(meal.name, meal.at + timedelta(minutes=25))]
    now_is(monkeypatch, meal.at)
    assert f"{meal.name.capitalize()} will be late" in browser.get("/").content.decode()


def test_the_page_of_today_at_every_hour(made: MadePlan, browser: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each task is shown as now, next or past, and only once."""
    start = datetime.combine(current(made).plan.start, datetime.min.time())
    for hours in range(0, 60, 3):
        moment = start + timedelta(hours=hours)
        now_is(monkeypatch, moment)
        page = Today(current(made), moment)
        shown = [entry.task.key for entry in (*page.now(), *page.next(), *page.unticked())]
        assert len(shown) == len(set(shown))
        assert all(e.task.start <= moment < e.task.end for e in page.now())
        assert all(e.task.start > moment for e in page.next())
        assert all(clock.until > moment for clock in page.clocks())
        assert browser.get("/").status_code == 200


def test_after_the_last_day_a_new_plan_is_asked_for(made: MadePlan, browser: Client) -> None:
    Household.objects.update(minutes_ahead=made.household.minutes_ahead + 5 * 24 * 60)
    assert "The plan ended" in browser.get("/").content.decode()


def test_the_part_of_today_comes_alone_for_htmx(made: MadePlan, browser: Client) -> None:
    text = browser.get("/", headers={"HX-Request": "true"}).content.decode()
    assert "<html" not in text
    assert 'id="now"' in text


def test_a_tap_kept_without_connection_counts_from_when_it_was_tapped(
    made: MadePlan, first: PlannedTask, tap: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    now_is(monkeypatch, first.end + timedelta(minutes=60))
    tap("done", first, ago_s=str(58 * 60))
    assert task(made, first.key).end == first.end + timedelta(minutes=2)


@pytest.mark.parametrize("ago", ["86401", "-1", "soon", "1" * 30])
def test_a_tap_that_is_too_old_is_refused(made: MadePlan, first: PlannedTask, tap: Any, ago: str) -> None:
    answer = tap("done", first, ago_s=ago)
    assert answer.status_code == 400
    assert "say it anew" in answer.content.decode()
    assert not TaskEvent.objects.exists()


def test_what_is_under_way_is_told_before_a_new_plan(made: MadePlan, first: PlannedTask, browser: Client) -> None:
    name = next(run.name for run in current(made).plan.runs if run.key == first.run)
    assert "under way" not in browser.get("/split/").content.decode()
    task_actions.finish(current(made), first.key, at=aware(first.end))
    assert current(made).standing.open_runs == (name,)
    assert f"{name}: under way" in browser.get("/split/").content.decode()


def test_a_beginning_put_off_counts_as_begun_when_its_time_has_come(made: MadePlan, first: PlannedTask) -> None:
    task_actions.delay(current(made), first.key, 15, at=aware(first.start - timedelta(hours=1)))
    stands = current(made).standing
    began = minute_of(stands.worked_out, first.start) + 15
    assert first.key not in seen(stands, began - 5).going_on
    assert seen(stands, began + 1).going_on[first.key].start == began
