"""What may be asked with "what if": short sentences of our own, each read strictly, and the folder it makes.

Nothing that keeps food safe can be asked away: no clock, no process, no wait.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.household.hours_text import Hours, read_hours, read_weekdays
from stillroom.planning.what_if_changes import (
    arrival_moved,
    canner_added,
    counted_added,
    food_added,
    hours_added,
    hours_taken,
    meal_moved,
    person_added,
    room_added,
)

CAN_ASK = (
    "freezer +100 L",
    "fridge +20 L",
    "another canner",
    "another person 9:00-12:00",
    "another person 9:00-12:00 on saturday",
    "NAME also 13:00-15:00 on saturday",
    "NAME away on saturday",
    "apples a day later",
    "apples 2 days earlier",
    "apples +5 kg",
    "no apples",
    "+12 quart lids",
    "+12 quart jars",
    "+1 burner",
    "+1 oven tray",
    "+3 dryer trays",
    "dinner at 19:00",
    "dinner at 19:00 on saturday",
)
_DAYS = r"(?: on (?P<days>[a-z, ]+))?"


@dataclass(frozen=True, slots=True)
class Changed:
    """A folder with one thing changed, and a sentence that says what."""

    folder: Folder
    words: str


def read_change(text: str, folder: Folder) -> Changed:
    """The folder as `text` would have it; InputError says what can't be, or what can be asked."""
    plain = " ".join(text.split()).casefold()
    for pattern, change in _FORMS:
        match = re.fullmatch(pattern, plain)
        if match is not None:
            return Changed(*change(folder, match))
    raise InputError(f"“{text}” can't be read as a “what if”. This can be asked: {'; '.join(CAN_ASK)}.")


def read_changes(texts: Iterable[str], folder: Folder) -> tuple[Folder, tuple[str, ...]]:
    """All changes, one after the other; of the first day only what is left of it."""
    words = []
    for text in texts:
        changed = read_change(text, folder)
        folder = changed.folder
        words.append(changed.words)
    return folder.from_hour(folder.begins), tuple(words)


def _room(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return room_added(folder, match["where"], match["sign"], match["amount"])


def _person(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return person_added(folder, _hours(match), _weekdays(match))


def _another(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return canner_added(folder, match["what"])


def _counted(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return counted_added(folder, int(match["count"]), match["what"])


def _also(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return hours_added(folder, match["who"], _hours(match), _weekdays(match))


def _away(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return hours_taken(folder, match["who"], _weekdays(match))


def _moved(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    days = 1 if match["count"] in ("a", "one") else int(match["count"])
    return arrival_moved(folder, match["food"], days if match["way"] == "later" else -days)


def _more(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return food_added(folder, match["food"], match["sign"], match["amount"])


def _without(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return food_added(folder, match["food"], "-", "")


def _meal(folder: Folder, match: re.Match[str]) -> tuple[Folder, str]:
    return meal_moved(folder, match["meal"], match["at"], _weekdays(match))


def _hours(match: re.Match[str]) -> Hours:
    return read_hours(match["hours"])


def _weekdays(match: re.Match[str]) -> frozenset[int]:
    return read_weekdays(match["days"]) if match["days"] else frozenset(range(7))


_FORMS: tuple[tuple[str, Callable[[Folder, re.Match[str]], tuple[Folder, str]]], ...] = (
    (r"(?P<where>freezer|fridge) (?P<sign>[+-]) ?(?P<amount>.+)", _room),
    (rf"another person (?P<hours>\d[\d:–, -]*?){_DAYS}", _person),
    (r"another (?P<what>.+)", _another),
    (r"(?P<count>[+-]\d{1,4}) (?P<what>[^+]+)", _counted),
    (rf"(?P<who>.+) also (?P<hours>\d[\d:–, -]*?){_DAYS}", _also),
    (rf"(?P<who>.+) away{_DAYS}", _away),
    (r"(?P<food>.+?) (?P<count>a|one|\d{1,2}) days? (?P<way>later|earlier)", _moved),
    (r"(?P<food>.+?) (?P<sign>[+-]) ?(?P<amount>\d.*)", _more),
    (r"no (?P<food>.+)", _without),
    (rf"(?P<meal>.+) at (?P<at>\d{{1,2}}:\d{{2}}){_DAYS}", _meal),
)
