"""The timetable for a phone's calendar, from the page."""

from django.test import Client
from icalendar import Calendar

from stillroom.web.day.current import current_plan
from stillroom.web.day.models import MadePlan
from stillroom.web.day.task_actions import delay
from stillroom.web.kitchen.models import Household


def test_it_works(browser: Client, made: MadePlan) -> None:
    made.household.time_zone = "Europe/Vienna"
    made.household.save()
    page = browser.get("/timetable/?day=2027-04-09").content.decode()
    assert 'href="/timetable/calendar?day=2027-04-09"' in page
    answer = browser.get("/timetable/calendar?day=2027-04-09")
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="timetable-2027-04-09.ics"'
    events = Calendar.from_ical(answer.content).walk("VEVENT")
    assert {event.start.date().isoformat() for event in events} == {"2027-04-09"}
    assert {str(event.start.tzinfo) for event in events} == {"Europe/Vienna"}


def test_it_is_the_plan_as_it_stands(browser: Client, made: MadePlan, household: Household) -> None:
    current = current_plan(household)
    assert current is not None
    task = max(current.plan.tasks, key=lambda one: one.start)
    before = {e["UID"]: e.start for e in Calendar.from_ical(browser.get("/timetable/calendar").content).walk("VEVENT")}
    delay(current, task.key, 30, at=household.now())
    after = {e["UID"]: e.start for e in Calendar.from_ical(browser.get("/timetable/calendar").content).walk("VEVENT")}
    assert before.keys() == after.keys()
    assert before != after


def test_a_day_that_is_none_is_told(browser: Client, made: MadePlan) -> None:
    assert "is no day of this plan" in browser.get("/timetable/calendar?day=2020-01-01").content.decode()


def test_without_a_plan_there_is_none(browser: Client, household: Household) -> None:
    assert browser.get("/timetable/calendar").status_code == 404
