"""Reads one line of a recipe's ingredients: its amount, the foods it names, and what could not be read."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from stillroom.tables.spelling import folded, plain
from stillroom.tables.vocabulary import Food, Heard, hear, names

LONGEST_NAME_WORDS = 8
_NUMBER = r"(?:\d+(?:[.,]\d+)?(?:\s*/\s*\d+)?(?:\s+\d+/\d+)?|[½¼¾⅓⅔⅛])"
_UNIT = r"[A-Za-z]+\.?"
_FAT_TAKEN_OFF = re.compile(
    r"\b(?:trimmed|drained|skimmed|free) of (?:(?:all|any|excess|visible) )*fat\b"
    r"|\b(?:(?:all|any|excess|visible|the) )*fat (?:trimmed|removed|drained|skimmed)\b(?: off| away)?"
    r"|\b(?:fat free|low fat|reduced fat)\b"
)
_AMOUNT = re.compile(rf"\s*({_NUMBER}\s*[½¼¾⅓⅔⅛]?\s*{_UNIT})")
_COUNT = r"(?:\d+(?:[./]\d+)?|[½¼¾⅓⅔⅛]|an?|one|two|three|four|five|six|eight|ten|half an?)"
_MEASURED = re.compile(rf"(?<![\d/–-])\b{_COUNT}(?: \d/\d)? (?:(?:[a-z-]+)[ ]?){{1,5}}")
_NO_MEASURE = re.compile(
    r"\b(?:min\w*|hours?|h|hr|hrs|days?|sec\w*|inch\w*|in|cm|mm|deg\w*|f|c|psi|kpa|jars?|loads?|batch\w*|times?|boil"
    r"|simmer|layers?|headspace|half-inch|(?:quart|pint|litre|liter)s? of \w+ (?:need|take|hold)\w*)\b"
)

NO_FOOD = re.compile(r"\b(?:butter knife|cheese ?cloth|egg[- ]sized?|nut[- ]sized?)\b")  # tools and sizes
HARMLESS_TXT = Path(__file__).with_name("data") / "harmless_words.txt"


@dataclass(frozen=True, slots=True)
class Line:
    """One ingredient as written, the foods in it, the words that are no food and the words nobody knows."""

    text: str
    amount: str  # "2 1/2 lb"; "" when the line starts with none
    foods: tuple[Heard, ...]
    left_over: str  # plain words that belong to no food
    unread: tuple[str, ...]  # of these, the words that are neither measure nor preparation


def read_line(text: str) -> Line:
    """The line, read by the longest food names that it contains; a name does not run on past a bracket."""
    amount = _AMOUNT.match(text)
    foods: list[Heard] = []
    left: list[str] = []
    for part in re.split(r"[;()]", text):
        _read_part(_FAT_TAKEN_OFF.sub(" ", plain(part)).split(), foods, left)
    # What follows the first comma is a remark, once a food was named.
    named = plain(re.split(r"[,;]", text)[0] if foods else text).split()
    unread = tuple(word for word in left if word in named and _is_unknown(word))
    return Line(text, amount[1].strip() if amount else "", tuple(foods), " ".join(left), unread)


def measured_in(method: str) -> tuple[tuple[str, Food], ...]:
    """Foods that the method measures out (“add 3 chopped onions”), each with the words that do."""
    found = []
    for match in _MEASURED.finditer(NO_FOOD.sub(" ", " ".join(method.lower().split()))):
        if not _NO_MEASURE.search(match[0]):
            found += [(match[0].strip(), heard.food) for heard in read_line(match[0]).foods]
    return tuple(found)


def _read_part(words: list[str], foods: list[Heard], left: list[str]) -> None:
    """Sort the words into names of foods and the rest."""
    at = 0
    while at < len(words):
        name, length = _longest_name(words, at)
        if name is None and words[at] in ("broth", "bouillon"):
            foods.append(hear("stock"))
            at += 1
        elif name is None:
            left.append(words[at])
            at += 1
        else:
            foods.append(hear(name))
            at += length


@cache
def _names_by_words() -> dict[str, str]:
    return {folded(name): name for name in reversed(names())}


def _longest_name(words: list[str], at: int) -> tuple[str | None, int]:
    for length in range(min(LONGEST_NAME_WORDS, len(words) - at), 0, -1):
        said = " ".join(words[at : at + length])
        if said in names_set():
            return said, length
        known = _names_by_words().get(folded(said))
        if known is not None:
            return known, length
    return None, 0


@cache
def _harmless() -> frozenset[str]:
    """Words that change nothing about the process: measures, sizes, colours, cuts, and small words."""
    return frozenset(HARMLESS_TXT.read_text(encoding="utf-8").split())


@cache
def names_set() -> frozenset[str]:
    """All plain names of foods."""
    return frozenset(names())


def _is_unknown(word: str) -> bool:
    """Whether a word is neither a measure nor a preparation (“chopped”, “finely”)."""
    return word.isalpha() and len(word) > 1 and word not in _harmless() and not word.endswith(("ed", "ly"))
