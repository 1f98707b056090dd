"""A day as a cook says it: "Saturday", "tomorrow", "14 April", "3 days ago"."""

from __future__ import annotations

import re
from datetime import date, timedelta

from stillroom.errors import InputError

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_NEAR = {
    "now": 0,
    "tonight": 0,
    "this morning": 0,
    "this afternoon": 0,
    "this evening": 0,
    "today": 0,
    "tomorrow": 1,
    "yesterday": -1,
    "the day after tomorrow": 2,
    "the day before yesterday": -2,
    "last night": -1,
}
_FURTHEST_DAYS = 366
_HINT = "write it like “14 April” or 2027-04-14"
_PART_OF_DAY = re.compile(r"(?<=day|row) (?:morning|afternoon|evening|night)$|^(?:just in|just came)\b ?")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DAY_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th|\.)?(?: of)? ([a-z]{3,9})\.?(?: (\d{4}))?")
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?(?: (\d{4}))?")
_FIGURES = re.compile(r"\d{1,2}[./]\d{1,2}(?:[./](?:\d{4}|\d{2})?)?")
_AHEAD = re.compile(r"in (\d{1,3}) (day|week)s?")
_AGO = re.compile(r"(\d{1,3}) (day|week)s? (?:ago|old)")
_SINCE = re.compile(r"(?:bought|caught|killed|slaughtered|picked|gutted|harvested|dug|laid|since|from)\b ?(?:on )?(.+)")
_SO_LONG = re.compile(r"\d{1,3} (?:day|week)s?")
_NUMBERS = {
    **{"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8},
    **{"nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "a couple of": 2},
}
_NUMBER = re.compile(rf"\b({'|'.join(sorted(_NUMBERS, key=len, reverse=True))})(?= (?:day|week)s?\b)")


def read_day(text: str, today: date) -> date | None:
    """The day meant by "saturday", "tomorrow", "14 April", "2027-04-10", "3 days ago"; None when it is none of these.

    A weekday is the next one, today included, with "last" the one before; a day of a month is the nearest one.
    InputError for a date that does not exist, may be read in two ways, or lies more than a year off.
    """
    word = days_in_figures(" ".join(text.lower().split()).removesuffix("."))
    if (match := _SINCE.fullmatch(word)) is not None:
        return _past(match[1], today)
    word = _PART_OF_DAY.sub("", word)
    if word in _NEAR:
        return today + timedelta(days=_NEAR[word])
    for prefix in ("came ", "comes ", "on ", "next ", "this "):
        word = word.removeprefix(prefix)
    found = _said(word, today) or _dated(word, text, today)
    if found is not None and abs((found - today).days) > _FURTHEST_DAYS:
        raise InputError(f"{found} is more than a year away: check the date.")
    return found


def days_in_figures(words: str) -> str:
    """“two days old” is “2 days old”."""
    return _NUMBER.sub(lambda match: str(_NUMBERS[match[1]]), words)


def _past(word: str, today: date) -> date | None:
    """The day since which food is out of the field or the animal; None where it would lie ahead or may be two days."""
    if _SO_LONG.fullmatch(word):
        word += " ago"
    found = read_day(word, today)
    weekday = _weekday(_PART_OF_DAY.sub("", word))
    if found is not None and weekday is not None:
        found -= timedelta(days=7)
        return None if found == today - timedelta(days=7) else found
    return None if found is None or found > today else found


def _said(word: str, today: date) -> date | None:
    """Words that count from today."""
    if word in _NEAR:
        return today + timedelta(days=_NEAR[word])
    is_last, name = word.startswith("last "), word.removeprefix("last ")
    weekday = _weekday(name)
    if weekday is not None:
        ahead = (weekday - today.weekday()) % 7
        return today + timedelta(days=ahead - 7 if is_last else ahead)
    for pattern, sign in ((_AHEAD, 1), (_AGO, -1)):
        if (match := pattern.fullmatch(word)) is not None:
            return today + sign * timedelta(days=int(match[1]) * (7 if match[2] == "week" else 1))
    return None


def _dated(word: str, text: str, today: date) -> date | None:
    """A date, with or without its weekday."""
    first, _, rest = word.partition(" ")
    weekday = _weekday(first.rstrip(","))
    found = _date(rest if weekday is not None else word, text, today)
    if found is not None and weekday is not None and found.weekday() != weekday:
        raise InputError(f"{found.day} {found:%B} is a {found:%A}: check the date.")
    return found


def _date(word: str, text: str, today: date) -> date | None:
    if (match := _ISO.fullmatch(word)) is not None:
        return _real(int(match[1]), int(match[2]), int(match[3]), text)
    if (match := _DAY_MONTH.fullmatch(word)) is not None:
        day, name, year = match[1], match[2], match[3]
    elif (match := _MONTH_DAY.fullmatch(word)) is not None:
        name, day, year = match[1], match[2], match[3]
    elif _FIGURES.fullmatch(word):
        raise InputError(f"“{text}” may be read in two ways: {_HINT}.")
    else:
        return None
    month = next((n for n, full in enumerate(_MONTHS, 1) if name in (full, full[:3]) or name == full[:4] == "sept"), 0)
    if not month:
        return None
    if year:
        return _real(int(year), month, int(day), text)
    years = [today.year - 1, today.year, today.year + 1]
    near = [found for at in years if (found := _maybe(at, month, int(day))) is not None]
    return min(near, key=lambda found: abs((found - today).days)) if near else _real(today.year, month, int(day), text)


def _weekday(word: str) -> int | None:
    return next((number for number, name in enumerate(_DAYS) if word in (name, name[:3])), None)


def _maybe(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _real(year: int, month: int, day: int, text: str) -> date:
    found = _maybe(year, month, day)
    if found is None:
        raise InputError(f"“{text}” is no date: {_HINT}.")
    return found
