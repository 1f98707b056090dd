"""The calendar of a plan, held against RFC 5545 byte by byte and read back by another parser."""

import re
import sys
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

sys.path.insert(0, str(Path(__file__).parents[1] / "planning"))

from kept_day import START, kept_day

from stillroom.errors import InputError
from stillroom.papers.calendar import calendar_of

STAMP = datetime(2027, 4, 8, 12, 0, 30, 5, tzinfo=UTC)
VIENNA = "Europe/Vienna"
PLAN = kept_day().worked_out.plan


def lines_of(text: bytes) -> list[str]:
    """Unfolded as RFC 5545, 3.1 says: a line break and one space or tab after it are taken out."""
    return re.sub(r"\r\n[ \t]", "", text.decode()).split("\r\n")


def test_it_works() -> None:
    """Every task and meal is there at its time when a parser reads it back."""
    events = Calendar.from_ical(calendar_of(PLAN, stamp=STAMP, zone=VIENNA)).walk("VEVENT")
    zone = ZoneInfo(VIENNA)
    found = {(event.start, str(event["SUMMARY"])) for event in events}
    names = {run.key: run.name for run in PLAN.runs}
    tasks = {(t.start.replace(tzinfo=zone), f"{names[t.run]}: {t.text}" if t.run else t.text) for t in PLAN.tasks}
    meals = {(m.at.replace(tzinfo=zone), f"Dinner for {m.portions:g} portions") for m in PLAN.meals}
    assert found == tasks | meals
    assert {event.end for event in events if "DTEND" in event} >= {task.end.replace(tzinfo=zone) for task in PLAN.tasks}


def test_lines_end_and_fold_by_the_rule() -> None:
    """RFC 5545, 3.1: CRLF after each line, no line longer than 75 octets without its break."""
    text = calendar_of(PLAN, stamp=STAMP, zone=VIENNA)
    assert text.endswith(b"\r\n")
    assert b"\n" not in text.replace(b"\r\n", b"") and b"\r" not in text.replace(b"\r\n", b"")
    assert max(len(line) for line in text.split(b"\r\n")) <= 75
    for line in text.split(b"\r\n"):
        line.decode()  # no character is cut in two


def test_everything_that_must_be_there_is_there_once() -> None:
    """RFC 5545, 3.6: PRODID and VERSION; 3.6.1: UID and DTSTAMP in UTC, once in each event, every UID another one."""
    text = calendar_of(PLAN, stamp=STAMP, zone=VIENNA)
    lines = lines_of(text)
    assert lines[0] == "BEGIN:VCALENDAR" and lines[-2] == "END:VCALENDAR"
    assert lines.count("VERSION:2.0") == 1
    assert sum(line.startswith("PRODID:") for line in lines) == 1
    events = "\n".join(lines).split("BEGIN:VEVENT")[1:]
    assert len(events) == len(PLAN.tasks) + len(PLAN.meals)
    uids = [re.findall(r"^UID:(.+)$", event, re.M) for event in events]
    assert all(len(one) == 1 for one in uids)
    assert len({one[0] for one in uids}) == len(events)
    assert all(re.findall(r"^DTSTAMP.*$", event, re.M) == ["DTSTAMP:20270408T120030Z"] for event in events)


def test_the_zone_is_told_with_its_rules() -> None:
    """RFC 5545, 3.2.19: a TZID that is used has its VTIMEZONE in the same calendar."""
    lines = lines_of(calendar_of(PLAN, stamp=STAMP, zone=VIENNA))
    assert f"TZID:{VIENNA}" in lines
    starts = [line for line in lines if line.startswith("DTSTART;TZID")]
    assert len(starts) == len(PLAN.tasks) + len(PLAN.meals)
    assert all(re.fullmatch(rf"DTSTART;TZID={VIENNA}:20270409T\d{{6}}", line) for line in starts)


def test_without_a_zone_the_clock_on_the_wall_counts() -> None:
    """RFC 5545, 3.3.5, form 1: no Z and no TZID."""
    lines = lines_of(calendar_of(PLAN, stamp=STAMP))
    starts = [line for line in lines if line.startswith("DTSTART")]
    assert starts and all(re.fullmatch(r"DTSTART:20270409T\d{6}", line) for line in starts)
    assert not any("VTIMEZONE" in line for line in lines)


def test_safety_clocks_have_an_alarm_before_them() -> None:
    """RFC 5545, 3.6.6: a DISPLAY alarm has ACTION, DESCRIPTION and TRIGGER."""
    calendar = Calendar.from_ical(calendar_of(PLAN, stamp=STAMP, zone=VIENNA))
    clocks = {str(event["SUMMARY"]): event for event in calendar.walk("VEVENT") if event.walk("VALARM")}
    wanted = [task for task in PLAN.tasks if task.must_follow]
    assert wanted and len(clocks) == len(wanted)
    for task in wanted:
        (alarm,) = next(event for words, event in clocks.items() if words.endswith(task.text)).walk("VALARM")
        assert alarm["ACTION"] == "DISPLAY"
        assert task.must_follow in str(alarm["DESCRIPTION"])
        assert alarm["TRIGGER"].dt == timedelta(minutes=-5)


def test_the_same_task_keeps_its_uid() -> None:
    """So that a calendar that takes it in again replaces what it had (RFC 5545, 3.8.4.7)."""
    earlier, later = (
        [line for line in lines_of(calendar_of(PLAN, stamp=at)) if line.startswith("UID:")]
        for at in (STAMP, STAMP + timedelta(days=1))
    )
    assert earlier == later


def test_a_day_and_a_person_are_chosen() -> None:
    person = next(task.person for task in PLAN.tasks if task.person)
    calendar = Calendar.from_ical(calendar_of(PLAN, stamp=STAMP, day=START, person=person))
    mine = [task for task in PLAN.tasks if task.person in (person, None) and task.start.date() == START]
    assert len(calendar.walk("VEVENT")) == len(mine) + len(PLAN.meals)


@pytest.mark.parametrize(
    ("chosen", "sentence"),
    [({"day": date(2027, 5, 1)}, "2027-05-01 is no day of this plan"), ({"person": "nobody"}, "does nothing in this")],
)
def test_what_the_plan_has_not_is_refused(chosen: dict[str, object], sentence: str) -> None:
    with pytest.raises(InputError, match=sentence):
        calendar_of(PLAN, stamp=STAMP, **chosen)  # type: ignore[arg-type]


def test_what_comes_out_of_the_freezer_has_an_alarm_at_its_minute() -> None:
    task = replace(PLAN.tasks[0], key="soup@0:thaw", must_follow="", text="Set it into the fridge.")
    calendar = Calendar.from_ical(calendar_of(replace(PLAN, tasks=(task,), meals=()), stamp=STAMP, zone=VIENNA))
    (alarm,) = calendar.walk("VALARM")
    assert alarm["TRIGGER"].dt == timedelta(0)
    assert str(alarm["DESCRIPTION"]) == "Set it into the fridge."
