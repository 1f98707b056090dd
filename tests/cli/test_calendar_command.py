"""`stillroom calendar PLAN`, run as a person runs it."""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from icalendar import Calendar

sys.path.insert(0, str(Path(__file__).parents[1] / "planning"))

from kept_day import kept_day

from stillroom.planning.kept_plan import write_plan_file

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def plan(tmp_path: Path) -> str:
    write_plan_file(tmp_path / "plan.json", kept_day())
    return str(tmp_path / "plan.json")


def test_it_works(plan: str, run: Run, tmp_path: Path) -> None:
    code, out, err = run("calendar", plan, "--to", str(tmp_path / "day.ics"), "--zone", "Europe/Vienna")
    assert (code, err) == (0, "")
    assert "day.ics holds the timetable" in out
    calendar = Calendar.from_ical((tmp_path / "day.ics").read_bytes())
    assert any("Soup" in str(event["SUMMARY"]) for event in calendar.walk("VEVENT"))


def test_it_is_printed_when_no_file_is_named(plan: str, run: Run) -> None:
    code, out, _ = run("calendar", plan, "--day", "2027-04-09")
    assert code == 0
    assert out.startswith("BEGIN:VCALENDAR")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--zone", "Middle/Earth"), "is no time zone"),
        (("--day", "2027-05-01"), "is no day of this plan"),
        (("--person", "nobody"), "does nothing in this plan"),
        (("--to", "/nowhere/at/all.ics"), "can't be written"),
    ],
)
def test_wrong_words_get_one_sentence(plan: str, run: Run, words: tuple[str, ...], sentence: str) -> None:
    code, _, err = run("calendar", plan, *words)
    assert code == 2
    assert sentence in err
