"""What a line that was not understood may have meant: whole lines, each of which is understood."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from difflib import SequenceMatcher

from stillroom.errors import InputError, UnknownFood, UnreadableAmount
from stillroom.household import written_words as words
from stillroom.quantities.amounts import parse
from stillroom.tables.spelling import folded, plain
from stillroom.tables.vocabulary import SeveralMeanings, known
from stillroom.web.arrivals.line import read_line
from stillroom.web.arrivals.line_head import LineUnclear, read_head
from stillroom.web.arrivals.line_words import FRESH_GROUPS, kept_otherwise, spelt_out, uncooked

MOST = 6
_POUNDS = {"5 kg": "10 lb", "10 kg": "20 lb", "20 kg": "50 lb", "40 kg": "100 lb", "250 g": "8 oz", "500 g": "1 lb"}
_POUNDS |= {"1 kg": "2 lb"}
_ROUND = re.compile(r"(?<=, )\d+ k?g\b")
_ALIKE, _LIKE_A_WORD = 0.8, 0.6  # a slip of the pen in a name, in one word of it
_ANY_DAY = date(2000, 1, 1)
_SIZES = ("small", "medium", "large")
_BY_SIZE = ("head", "heads", "ear", "ears")
_COUNTED = re.compile(r"(\d+|an?) (?:(small|medium|large) )?(.+)", re.I)
_LIST_BEGINS = re.compile(r"(?: The nearest known names are:|; weigh it, or use one of:| Write instead:).*", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Way:
    """A whole line, and what its button says."""

    line: str
    words: str


def ways(text: str, error: InputError, today: date, *, in_pounds: bool = False) -> tuple[Way, ...]:
    """Up to MOST lines instead of `text`, each read without a question; with round weights in pounds where wanted."""
    found: dict[str, Way] = {}
    for candidate in _candidates(text, error):
        line = _ROUND.sub(lambda match: _POUNDS.get(match[0], match[0]), candidate) if in_pounds else candidate
        try:
            read = read_line(line, today)
        except InputError:
            continue
        weighed = words.mass(round(read.bundle.mass_g))
        told = line if "kg" in line or weighed in line or " lb" in line else f"{line} ({weighed})"
        found.setdefault(line, Way(line, told))
    return tuple(found.values())[:MOST]


def short_words(error: InputError) -> str:
    """The complaint without the list of names or measures, which the buttons say."""
    told = _LIST_BEGINS.sub("", str(error))
    return told if told[-1] in ".?" else f"{told}."


def _candidates(text: str, error: InputError) -> Iterator[str]:
    if isinstance(error, LineUnclear):
        yield from error.ways
    elif isinstance(error, UnknownFood):
        yield from _with_comma(text)
        for name in _names(error):
            yield from _with_name(text, error.heard, name)
    elif isinstance(error, UnreadableAmount):
        head, _, rest = text.partition(",")
        if (match := _COUNTED.fullmatch(spelt_out(head.strip()))) is not None:
            unit, _, name = match[3].rpartition(" of ")
            sizes = sorted(_SIZES, key=lambda one: one != match[2]) if unit in ("", *_BY_SIZE) else []
            yield from (f"{line}, {rest.strip()}" if rest else line for line in _counted(match[1], sizes, name))


def _counted(count: str, sizes: list[str], name: str) -> Iterator[str]:
    """So many pieces of a size, or a weight."""
    heads = "head of" if count == "1" else "heads of"
    for one in sizes:
        for kind in ("", "ears of", heads):
            yield " ".join(f"{count} {one} {kind} {name}".split())
    for weight in ("1 kg", "2 kg", "5 kg"):
        yield f"{weight} {name}"


def _names(error: UnknownFood) -> Iterator[str]:
    """What may be offered: never what is smoked as if it were fresh, nor another kind of food by its letters."""
    if isinstance(error, SeveralMeanings):
        yield from re.findall("“(.+?)”", error.choices)
        return
    if (raw := uncooked(error.heard)) != error.heard:
        yield f"{raw}, cooked"
    word, kind = kept_otherwise(error.heard)
    if word and kind:
        yield f"{word} {kind}"
    said = set(folded(plain(error.heard)).split())
    for name in error.nearest:
        if kept_otherwise(name)[0] and not word:
            continue
        if _drops_a_word(said, set(folded(plain(name)).split())):
            continue
        is_like = said & set(folded(plain(name)).split()) or SequenceMatcher(None, error.heard, name).ratio() >= _ALIKE
        if is_like and (not word or (word in plain(name).split() and kind in ("", _kind(name)))):
            yield name


def _drops_a_word(said: set[str], words: set[str]) -> bool:
    """Whether a word that may change how long the food keeps has nothing like it in a name."""
    return any(all(SequenceMatcher(None, one, other).ratio() < _LIKE_A_WORD for other in words) for one in said)


def _kind(name: str) -> str:
    heard = known(name)
    return heard.food.group if heard else ""


def _with_comma(text: str) -> Iterator[str]:
    """“7 kg tomatoes some split”: the last words as a note, of what is fresh from the garden."""
    head, comma, rest = text.partition(",")
    said = head.split()
    for place in range(len(said) - 1, 1, -1):
        line = " ".join(said[:place]) + ", " + " ".join(said[place:]) + comma + rest
        try:
            food = read_head([" ".join(said[:place])], _ANY_DAY).heard.food
        except InputError:
            continue
        if food.group in FRESH_GROUPS:
            yield line
            return


def _with_name(text: str, heard: str, name: str) -> Iterator[str]:
    if heard in text:
        yield text.replace(heard, name, 1)
        return
    head, *rest = [part.strip() for part in text.split(",")]
    said = head.split()
    for place in range(len(said), 0, -1):
        amount = " ".join(said[:place])
        try:
            parse(amount)
        except UnreadableAmount:
            continue
        told = set(plain(heard).split())
        yield ", ".join([f"{amount} {name}", *(part for part in rest if not set(plain(part).split()) <= told)])
        return
