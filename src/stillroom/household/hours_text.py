"""Days and hours as people write them: "weekdays: 7:00-8:15, 17:30-21:00"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, time
from itertools import pairwise

from stillroom.errors import InputError

Hours = tuple[tuple[time, time], ...]  # spans in order, none overlapping

_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_GROUPS = {"daily": range(7), "weekdays": range(5), "weekend": range(5, 7)}
_DAY_HELP = "name days (monday … sunday), “weekdays”, “weekend” or “daily”"
_APPOINTMENT = re.compile(r"(?P<day>\d{4}-\d{2}-\d{2})\s+(?P<hours>\S+)(?:\s+(?P<what>.+))?")
_SPAN = re.compile(r"(\d{1,2}):(\d{2})\s*[-–]\s*(\d{1,2}):(\d{2})")


def read_weekdays(text: str) -> frozenset[int]:
    """Weekdays, Monday = 0, from "monday, thursday", "weekdays", "weekend" or "daily"."""
    found: set[int] = set()
    for word in (part.strip().lower() for part in text.split(",")):
        if word in _GROUPS:
            found.update(_GROUPS[word])
        elif word in _NAMES:
            found.add(_NAMES.index(word))
        else:
            raise InputError(f"“{word}” is no day: {_DAY_HELP}.")
    return frozenset(found)


def read_hours(text: str) -> Hours:
    """Spans from "7:00-8:15, 17:30-21:00"; "none" for a day without any."""
    if text.strip().lower() == "none":
        return ()
    spans = tuple(sorted(_span(part.strip()) for part in text.split(",")))
    for (_, earlier_end), (later_start, _) in pairwise(spans):
        if later_start < earlier_end:
            raise InputError(f"“{text}” counts the time after {later_start:%H:%M} twice: let the hours not overlap.")
    return spans


def week_of_hours(written: Mapping[str, str]) -> dict[int, Hours]:
    """Hours of each weekday (Monday = 0) from lines such as {"weekdays": "17:30-21:00", "saturday": "7:00-20:00"}.

    A line that names days wins over "weekdays" and "weekend", and these over "daily".
    """
    week: dict[int, Hours] = {}
    rank_of: dict[int, int] = {}
    for words, hours_text in sorted(written.items(), key=lambda line: _rank(line[0])):
        rank = _rank(words)
        for weekday in read_weekdays(words):
            if rank_of.get(weekday) == rank:
                raise InputError(f"{_NAMES[weekday].capitalize()} is given hours in two lines: keep one of them.")
            week[weekday], rank_of[weekday] = read_hours(hours_text), rank
    return week


def read_appointment(text: str) -> tuple[date, time, time, str]:
    """(day, start, end, what) from "2027-04-14 10:00-11:30 dentist"."""
    match = _APPOINTMENT.fullmatch(text.strip())
    if match is None:
        raise InputError(f"“{text}” can't be read: write an appointment like “2027-04-14 10:00-11:30 dentist”.")
    try:
        day = date.fromisoformat(match["day"])
    except ValueError:
        raise InputError(f"“{match['day']}” is no date: write it like 2027-04-14.") from None
    return day, *_span(match["hours"]), match["what"] or "away"


def without(hours: Hours, start: time, end: time) -> Hours:
    """The hours less the span from `start` to `end`."""
    pieces = ((begin, min(until, start)) for begin, until in hours)
    later = ((max(begin, end), until) for begin, until in hours)
    return tuple(sorted((begin, until) for begin, until in (*pieces, *later) if begin < until))


def hours_on(day: date, week: Mapping[int, Hours], exceptions: Mapping[date, Hours]) -> Hours:
    """Hours on one date: its exception, or those of its weekday."""
    return exceptions.get(day, week.get(day.weekday(), ()))


def _rank(words: str) -> int:
    return {"daily": 0, "weekdays": 1, "weekend": 1}.get(words.strip().lower(), 2)


def _span(text: str) -> tuple[time, time]:
    match = _SPAN.fullmatch(text)
    if match is None:
        raise InputError(f"“{text}” can't be read as hours: write them like “7:00-8:15, 17:30-21:00”, or “none”.")
    try:
        start, end = time(int(match[1]), int(match[2])), time(int(match[3]), int(match[4]))
    except ValueError:
        raise InputError(f"“{text}” is no time of day: hours run from 0:00 to 23:59.") from None
    if end <= start:
        raise InputError(f"“{text}” ends before it starts: give the later time second (a night is two days).")
    return start, end
