"""Days and hours as people write them."""

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.household.hours_text import (
    hours_on,
    read_appointment,
    read_hours,
    read_weekdays,
    week_of_hours,
    without,
)


def test_it_works() -> None:
    assert read_weekdays("Monday, thursday") == {0, 3}
    assert read_weekdays("weekend, friday") == {4, 5, 6}
    assert read_weekdays("daily") == set(range(7))
    assert read_hours("17:30-21:00, 7:00 - 8:15") == (
        (time(7), time(8, 15)),
        (time(17, 30), time(21)),
    )
    assert read_hours("none") == ()


def test_the_line_that_names_days_wins_whatever_the_order() -> None:
    week = week_of_hours({"tuesday": "9:00-12:00", "daily": "7:00-8:00", "weekdays": "17:00-20:00"})
    assert week[0] == ((time(17), time(20)),)
    assert week[1] == ((time(9), time(12)),)
    assert week[6] == ((time(7), time(8)),)


def test_an_exception_wins_over_the_weekday() -> None:
    monday = date(2027, 4, 12)
    week = {0: read_hours("7:00-8:00")}
    assert hours_on(monday, week, {}) == read_hours("7:00-8:00")
    assert hours_on(monday, week, {monday: ()}) == ()
    assert hours_on(date(2027, 4, 13), week, {}) == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("20:00-7:00", "ends before it starts"),
        ("8:00-8:00", "ends before it starts"),
        ("7-8", "can't be read as hours"),
        ("7:00-25:00", "no time of day"),
        ("7:00-9:00, 8:30-10:00", "twice"),
        ("", "can't be read as hours"),
    ],
)
def test_hours_that_cannot_be_are_refused(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_hours(text)


def test_days_that_cannot_be_are_refused() -> None:
    with pytest.raises(InputError, match="“someday” is no day"):
        read_weekdays("someday")
    with pytest.raises(InputError, match="Monday is given hours in two lines"):
        week_of_hours({"monday, tuesday": "7:00-8:00", "monday": "9:00-10:00"})


@given(st.lists(st.integers(0, 1439), min_size=2, max_size=8, unique=True))
def test_hours_written_are_hours_read(minutes: list[int]) -> None:
    ends = sorted(minutes)[: len(minutes) // 2 * 2]
    pairs = list(zip(ends[::2], ends[1::2], strict=True))
    text = ", ".join(f"{a // 60}:{a % 60:02}-{b // 60}:{b % 60:02}" for a, b in reversed(pairs))
    assert [(a.hour * 60 + a.minute, b.hour * 60 + b.minute) for a, b in read_hours(text)] == pairs


def test_an_appointment_takes_its_span_out_of_the_hours() -> None:
    assert read_appointment("2027-04-14 10:00-11:30 school play") == (
        date(2027, 4, 14),
        time(10),
        time(11, 30),
        "school play",
    )
    assert read_appointment("2027-04-14 10:00-11:30")[3] == "away"
    hours = read_hours("8:00-12:00, 14:00-18:00")
    assert without(hours, time(10), time(11)) == read_hours("8:00-10:00, 11:00-12:00, 14:00-18:00")
    assert without(hours, time(11), time(15)) == read_hours("8:00-11:00, 15:00-18:00")
    assert without(hours, time(7), time(19)) == ()
    assert without(hours, time(12), time(14)) == hours


@pytest.mark.parametrize(
    "text", ["tuesday 10:00-11:00", "2027-02-30 10:00-11:00 x", "2027-04-14", "2027-04-14 11-12 x"]
)
def test_an_appointment_that_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_appointment(text)
