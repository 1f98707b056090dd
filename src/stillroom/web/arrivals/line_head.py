"""The amount and the food of a line as people write them: "6 chickens, 2 kg each", "a 25 kg sack of potatoes"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from stillroom.errors import InputError, UnknownFood, UnreadableAmount
from stillroom.household.bundles import Bundle, read_bundle
from stillroom.household.clock import State
from stillroom.model.household import Place
from stillroom.quantities.amounts import Amount, parse
from stillroom.tables.vocabulary import Heard, ask_back, hear, known
from stillroom.web.arrivals.day_words import read_day
from stillroom.web.arrivals.line_words import is_some_day, spelt_out, state_said, without_describing

HINT = "Write an amount and a food, like “9 kg tomatoes, ripe, Saturday”."
_PIECES = re.compile(r"[1-9]\d* (\D+?) of \d.*")  # "6 chickens of 2 kg"
_MASS = r"\d[\d./ ]* ?(?:kg|kgs|kilos?|g|grams?|lbs?\.?|pounds?|oz)(?: \d+ ?oz)?"
_WEIGHT = re.compile(rf"(?:about |of )?({_MASS})(?: (each|apiece|a piece|in all|in total|total|together|altogether))?")
_EACH = ("each", "apiece", "a piece")
_CONTAINERS = "case|box|sack|bag|punnet|tray|crate|carton|basket|bucket|net|bin|flat|lug|tub|pallet|load"
# Weights to be tapped by who has weighed it; nothing is taken for granted.
_BOXES, _SMALL_BOXES, _SIDES = (
    ("5 kg", "10 kg", "20 kg"),
    ("250 g", "500 g", "1 kg"),
    ("10 kg", "20 kg", "40 kg", "60 kg"),
)
_COUNTED = re.compile(r"(\d+|an?) (.+)")
_CONTAINER = re.compile(rf"(?:(\d+|an?) )?({_CONTAINERS})(?:e?s)? (?:of )?(.+)")
_FILLED = re.compile(rf"(?:(\d+|an?) )?({_MASS}) ({_CONTAINERS})(?:e?s)? (?:of )?(.+)")
_OF_WEIGHT = re.compile(rf"((?:an? |1 |half |a quarter |quarter )?\D+?) of ({_MASS})")
_BOXES_OF_WEIGHT = re.compile(rf"(\d+ (?:{_CONTAINERS})(?:e?s)? (?:of )?\D+?) of ({_MASS})")
_PURPOSE = re.compile(r"(.+?) (for .+)")
_TAIL_WORDS = 4
_WAITING_PLACES = [place.value for place in Place if place is not Place.FREEZER]


class LineUnclear(InputError):  # noqa: N818 - named as the cook would say it
    """A line that may mean several things, with each of them as a line of its own."""

    def __init__(self, sentence: str, ways: tuple[str, ...]) -> None:
        super().__init__(sentence)
        self.ways = ways


@dataclass(frozen=True, slots=True)
class Head:
    """What the beginning of a line says; `rest`: the parts that are still to be read."""

    name: str
    heard: Heard
    bundle: Bundle
    rest: list[str]


def read_head(parts: list[str], today: date) -> Head:
    """The amount and the food that `parts` begin with; InputError says what is unclear."""
    parts = [spelt_out(parts[0]), *parts[1:]]
    complaint: InputError | None = None
    for said in _rewritings(parts, today):
        try:
            used, name, heard, bundle = _amount_and_food(said)
        except InputError as error:
            complaint = complaint or error
            continue
        return Head(name.rstrip(", "), heard, bundle, said[used:])
    described = _described(parts, today)
    if described is not None:
        return described
    raise _weights_wanted(parts) or _better(parts[0], complaint)


def _rewritings(parts: list[str], today: date) -> Iterator[list[str]]:
    """The line as it stands, then with more and more of it told apart."""
    yield parts
    for change in (_tail_apart, _state_apart, _purpose_apart):
        changed = change(parts, today)
        if changed != parts:
            parts = changed
            yield parts
    yield from _pieces(parts)


def _tail_apart(parts: list[str], today: date) -> list[str]:
    """“tomatoes Saturday” and “milk in the fridge”: a day, a place or a state without its comma."""
    words = parts[0].split()
    for length in range(min(_TAIL_WORDS, len(words) - 2), 0, -1):
        tail = " ".join(words[-length:])
        if _is_day_or_place(tail, today):
            return [*_tail_apart([" ".join(words[:-length])], today), tail, *parts[1:]]
    return parts


def _is_day_or_place(tail: str, today: date) -> bool:
    word = tail.lower().removeprefix("in the ").removeprefix("on the ")
    if word in _WAITING_PLACES or word == State.THAWED.value or is_some_day(word):
        return True
    try:
        return read_day(word, today) is not None
    except InputError:
        return False


def _state_apart(parts: list[str], _today: date) -> list[str]:
    """“2 kg cooked chicken” is chicken, cooked. What is dried has a name of its own or is asked back."""
    words = parts[0].split()
    for word in words:
        state = state_said(word.lower())
        if state in (State.COOKED, State.THAWED):
            return [" ".join(other for other in words if other != word), state.value, *parts[1:]]
    return parts


def _purpose_apart(parts: list[str], _today: date) -> list[str]:
    match = _PURPOSE.fullmatch(parts[0])
    return parts if match is None else [match[1], match[2], *parts[1:]]


def _pieces(parts: list[str]) -> Iterator[list[str]]:
    """Pieces and containers whose weight is said beside them, each or in all."""
    head, rest = parts[0], parts[1:]
    if (match := _FILLED.fullmatch(head)) is not None:
        yield [_each(_count(match[1]), match[3], match[2], match[4]), *rest]
    if (match := _BOXES_OF_WEIGHT.fullmatch(head)) is not None:
        head, rest = match[1], [f"{match[2]} each", *rest]
    elif (match := _OF_WEIGHT.fullmatch(head)) is not None:
        head, rest = match[1], [match[2], *rest]
    found = next(((part, match) for part in rest if (match := _WEIGHT.fullmatch(part.lower()))), None)
    if found is None:
        return
    part, weight = found
    rest = [other for other in rest if other != part]
    container = _CONTAINER.fullmatch(head)
    counted = _COUNTED.fullmatch(head)
    if container is not None:
        count, piece, name = _count(container[1]), container[2], container[3]
    elif counted is not None:
        count, piece, name = _count(counted[1]), "", counted[2]
    else:
        count, piece, name = 1, "", head
    if known(name) is not None:
        yield [_each(count, piece, _mass_of_one(count, weight, head, rest), name), *rest]


def _mass_of_one(count: int, weight: re.Match[str], head: str, rest: list[str]) -> str:
    how = weight[2] or ""
    if count == 1 or how in _EACH:
        return weight[1]
    if how:
        return f"{parse(weight[1]).value / count:.1f} g"
    after = "".join(f", {part}" for part in rest)
    ways = tuple(f"{head}, {weight[1]} {word}{after}" for word in ("each", "in all"))
    raise LineUnclear(f"Is it {weight[1]} each, or {weight[1]} in all?", ways)


def _each(count: int, piece: str, mass: str, name: str) -> str:
    if count == 1:
        return f"{mass} {name}"
    if piece or " of " in name:
        return f"{count} {piece or 'piece'}s of {mass} {name}"
    return f"{count} {name} of {mass}"


def _count(said: str | None) -> int:
    return int(said) if said and said.isdigit() else 1


def _described(parts: list[str], today: date) -> Head | None:
    """The line without the words that only describe the food, where that leaves a weight and a food."""
    for said in _rewritings(parts, today):
        head, dropped = without_describing(said[0])
        if not dropped:
            continue
        try:
            used, name, heard, bundle = _amount_and_food([head, *said[1:]])
        except InputError:
            continue
        is_weighed = (
            _amount(head.removesuffix(name).strip().removesuffix(" of")) or Amount("count", 1, "")
        ).kind == "mass"
        if is_weighed and not without_describing(dropped, heard.food)[0]:
            return Head(name, heard, bundle, [dropped, *said[used:]])
    return None


def _amount_and_food(parts: list[str]) -> tuple[int, str, Heard, Bundle]:
    """How many parts the food's name takes (“chicken, whole”), its name, and the amount."""
    complaint: InputError | None = None
    for used in range(min(3, len(parts)), 0, -1):
        if used > 1 and parts[used - 1].lower() == "fresh":  # of pasta or yeast it is another food: read as a note
            continue
        for amount, name in _divisions(", ".join(parts[:used]).split()):
            heard = _one_food(name)
            if heard is None:
                continue
            try:
                return used, name, heard, read_bundle(amount, heard.food.key)
            except UnreadableAmount as error:
                complaint = complaint or error
    raise complaint or InputError(f"“{parts[0]}” has no amount that can be read. {HINT}")


def _divisions(words: list[str]) -> Iterator[tuple[str, str]]:
    """Every way to divide the words into an amount and a food: the amount before it, after it, or around it."""
    for place in range(1, len(words)):
        before, after = words[:place], words[place:]
        yield " ".join(before), " ".join(after[1:] if after[0].lower() == "of" and len(after) > 1 else after)
        yield " ".join(after), " ".join(before)
    whole = " ".join(words)
    if (match := _PIECES.fullmatch(whole)) is not None:  # what is counted by the piece is whole
        yield whole, f"whole {match[1]}"
        yield whole, match[1]


def _amount(text: str) -> Amount | None:
    try:
        return parse(text)
    except UnreadableAmount:
        return None


def _weights_wanted(parts: list[str]) -> LineUnclear | None:
    """A container, a half or a side of a known food, of which no table says the weight."""
    match = _CONTAINER.fullmatch(parts[0])
    name = match[3] if match else parts[0].removeprefix("a ").removeprefix("an ")
    heard = known(name)
    if heard is None:
        return None
    what = f"a {match[2]} of {match[3]}" if match else heard.food.key
    weights = _SMALL_BOXES if match and match[2] in ("punnet", "tub") else _BOXES if match else _SIDES
    after = "".join(f", {part}" for part in parts[1:])
    each = " each" if match and _count(match[1]) > 1 else ""
    ways = tuple(f"{parts[0]}, {weight}{each}{after}" for weight in weights)
    verb = "What {} weighs is printed in no table here: weigh it and" if match else "How much {}? Weigh it and"
    return LineUnclear(f"{verb.format(what)} add that, like “{parts[0]}, {weights[1]}{each}”.", ways)


def _better(head: str, complaint: InputError | None) -> InputError:
    """The complaint about the food where the amount could be read, instead of one about a longer amount."""
    words = head.split()
    for place in range(len(words) - 1, 0, -1):
        before, after = words[:place], words[place:]
        for amount, name in ((before, after[1:] if after[0].lower() == "of" else after), (after, before)):
            if name and _amount(" ".join(amount)) is not None:
                return _of_food(" ".join(name)) or complaint or InputError(HINT)
    return complaint or InputError(f"“{head}” has no amount that can be read. {HINT}")


def _of_food(name: str) -> UnknownFood | None:
    try:
        ask_back(name)
        hear(name)
    except UnknownFood as error:
        return error
    return None


def _one_food(name: str) -> Heard | None:
    """The food of that name; None for one that is unknown or may mean several."""
    try:
        ask_back(name)
    except UnknownFood:
        return None
    return known(name)
