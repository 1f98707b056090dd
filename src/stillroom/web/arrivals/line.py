"""One line as a cook says it: "9 kg tomatoes, ripe, Saturday"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from stillroom.errors import InputError
from stillroom.household.bundles import Bundle
from stillroom.household.clock import Clock, State, clock
from stillroom.household.measure_text import keep_days
from stillroom.model.household import Place
from stillroom.tables.keeping import keeping
from stillroom.tables.spelling import plain
from stillroom.tables.vocabulary import Food, Heard, hear, known
from stillroom.web.arrivals.day_words import days_in_figures, read_day
from stillroom.web.arrivals.line_head import HINT, Head, LineUnclear, read_head
from stillroom.web.arrivals.line_words import (
    FRESH_GROUPS,
    is_plan,
    makes_another_food,
    not_understood,
    rotten_word,
    sounds_like_a_day,
    speaks_of_the_past,
    state_said,
)

ASSUMED = "clock assumed"  # stands in the note of an arrival until somebody has looked at it
_FRESH_DAYS, _DRY_DAYS = 3, 30  # common practice, no source: short enough to be looked at before it spoils
_AS_PICKED = re.compile(
    r"(?!.*(?:canned|pickled|prepared|paste|puree|sauce|juice|peel|frozen|dried|spread|cocktail)).*"
)
# Of these nobody publishes a time; by common practice (no source) they wait on the counter, others in the fridge.
_ON_THE_COUNTER = frozenset(
    (
        "tomato",
        "tomato, green",
        "tomatillo",
        "quince",
        "crabapple",
        "melon",
        "yam",
        "taro",
        "cassava",
        "shallot",
        "medlar",
    )
)
_SHELF_GROUPS = frozenset(("grain and flour", "nut and seed", "legume", "sugar and sweet", "seasoning and acid"))
_FROZEN = re.compile(r"\b(?:frozen|freezer)\b(?<!for the freezer)", re.I)
_COMMA_FIGURE = re.compile(r"(?:^[,.]\s*|\s[,.])\d+")
_THOUSANDS = re.compile(r"(\d{1,3})\.(\d{3})( ?(?:g|gr|grams?|grammes?|ml)\b)", re.I)
_AN_AMOUNT = re.compile(
    r"\d[\d./]* ?(?:kgs?|kilos?|g|gr|grams?|lbs?|pounds?|oz|ounces?|l|ml|litres?|liters?)\b.*", re.I
)
_CLOCK = re.compile(r"(?:keeps |clock |waits )?(\d+ (?:days?|weeks?))")


class ClockWanted(InputError):  # noqa: N818 - named as the cook would say it
    """Nobody publishes how long such food waits there: the household looks at it and says."""


@dataclass(frozen=True, slots=True)
class Line:
    """What was understood; `given_days` None: the published clock."""

    name: str
    food: str
    bundle: Bundle
    day: date
    place: Place
    state: State
    given_days: int | None
    note: str
    keep_days: int
    reason: str

    @property
    def is_assumed(self) -> bool:
        """Whether nobody published or said how long it waits."""
        return self.note.endswith(ASSUMED)

    @property
    def last_day(self) -> date:
        """The last day on which it may be used."""
        return self.day + timedelta(days=self.keep_days)


def read_line(text: str, today: date, given_days: int | None = None) -> Line:
    """The arrival meant by `text`; parts after the first comma may come in any order. InputError says what is unclear.

    A day is said as `read_day` reads it; a place, a state or a clock is named by its word; a note is
    taken only where each of its words is known to change nothing, and everything else is asked back (“rice, steamed”).
    Without a place the food goes where it has a published clock; where nobody publishes one and it is of quality, not
    of safety, a short one is assumed and the note says so.
    """
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        raise InputError(HINT)
    _check_text(text.strip())
    head = read_head(parts, today)
    day, place, state, given, notes = today, None, State.RAW, given_days, []
    for part in head.rest:
        word = " ".join(part.lower().removeprefix("in the ").removeprefix("on the ").split())
        if (found := read_day(word, today)) is not None:
            day = found
        elif word in [place.value for place in Place]:
            place = Place(word)
        elif (said := state_said(word)) is not None:
            state = said
        elif (match := _CLOCK.fullmatch(days_in_figures(word))) is not None:
            given = keep_days(match[1])
        else:
            _check_note(text, part, word, today)
            head, note = _noted(head, part, text)
            notes += [note] if note else []
    chosen = place or usual_place(head.heard, state, given)
    longest = _longest_in_the_fridge(head.heard.food, state, chosen)
    if given is not None and longest is not None and given > longest:
        raise InputError(
            f"{given} days on the {chosen} is too long for {head.heard.food.key}, which keeps {longest} days at the "
            "most even in the fridge: say a shorter time, or put it in the fridge."
        )
    try:
        waits = _clock(head.heard, state, chosen, given)
    except ClockWanted:
        given = _assumed_days(head.heard.food, state) if longest is None else None
        if given is None:
            raise
        notes.append(ASSUMED)
        waits = replace(
            _clock(head.heard, state, chosen, given),
            reason=f"assumed, since nobody publishes how long {head.heard.food.key} keeps there: look at it",
        )
    return Line(
        name=head.name,
        food=head.heard.food.key,
        bundle=head.bundle,
        day=day,
        place=chosen,
        state=state,
        given_days=given,
        note=", ".join(notes),
        keep_days=waits.keep_days,
        reason=waits.reason,
    )


def _noted(head: Head, part: str, text: str) -> tuple[Head, str]:
    """The food that “beef, minced” or “peaches, white” is, or the note; UnknownFood where nobody knows that food."""
    if set(plain(part).split()) <= set(plain(head.name).split()):
        return head, ""
    for name in (f"{part} {head.name}", f"{head.name}, {part}"):
        heard = known(name)
        if heard is None:
            continue
        if heard != head.heard:
            return replace(head, name=name, heard=heard), ""
        if head.heard.food.group in FRESH_GROUPS or not_understood(part, heard.food) != "fresh":
            return head, part
    if makes_another_food(part, head.heard.food):
        hear(f"{part} {head.name}")  # raises, with the nearest names
    if word := not_understood(part, head.heard.food):
        raise LineUnclear(
            f"“{word}” is not understood here, and it may change how long {head.heard.food.key} keeps: if it is cooked,"
            " say “cooked”; if it is raw and whole, leave the word out and write it into the note afterwards.",
            tuple(_as_cooked(text, part, head.heard.food)),
        )
    return head, part


def _as_cooked(text: str, part: str, food: Food) -> Iterator[str]:
    """The line with “cooked” for what was not understood, of food that keeps no longer so than raw."""
    if food.group in _SHELF_GROUPS | {"vegetable"}:
        yield from (text.replace(part, how, 1) for how in ("cooked", "cooked, 1 day"))


def _check_note(text: str, part: str, word: str, today: date) -> None:
    """LineUnclear for a second amount, or a day that was not understood."""
    if _AN_AMOUNT.fullmatch(word):
        raise LineUnclear(f"“{part}” is a second amount: write one line for each amount.", ())
    if sounds_like_a_day(word) and not is_plan(word):
        raise _which_day(text, part, today)


def _check_text(text: str) -> None:
    """InputError for what is spoilt or frozen, and for figures that may be others (“,5 kg”, “1.500 g”)."""
    if rotten := rotten_word(text):
        raise InputError(
            f"What is {rotten} is not planned with: throw it away, weigh what is sound, and write only that."
        )
    if _FROZEN.search(text):
        raise InputError("What is frozen already is a lot in store: write it into the Larder, not here.")
    if (match := _COMMA_FIGURE.search(text)) is not None:
        raise InputError(f"“{match[0].strip()}”: put figures on both sides of a decimal point, as in 0.5.")
    if (match := _THOUSANDS.search(text)) is not None:
        many, few = f"{match[1]}{match[2]}{match[3]}", f"{match[1]}.{match[2].rstrip('0') or '0'}{match[3]}"
        ways = tuple(text.replace(match[0], one, 1) for one in (many, few))
        raise LineUnclear(f"Is “{match[0]}” {many} or {few}?", ways)


def _longest_in_the_fridge(food: Food, state: State, place: Place) -> int | None:
    """What no clock in a warmer place may exceed [days]; None for food with a published clock outside, or with none."""
    if place is Place.FRIDGE or keeping(food.key, state.value, "pantry"):
        return None
    rows = keeping(food.key, state.value, "refrigerator")
    return max((int(row.max_days) for row in rows if row.max_days is not None), default=None)


def _which_day(text: str, part: str, today: date) -> LineUnclear:
    """The question about a day, with no day to tap on which the food would seem fresher than it is."""
    if speaks_of_the_past(part):
        return LineUnclear(
            f"Which day is “{part}”? Say since when it is as it is, like “bought 2 days ago”, or how long it keeps, "
            "like “2 days”.",
            (),
        )
    ahead = (today + timedelta(days=number) for number in range(1, 8))
    return LineUnclear(f"Which day is “{part}”?", tuple(text.replace(part, f"{day:%A}") for day in ahead))


def _assumed_days(food: Food, state: State) -> int | None:
    """A short clock for food that spoils in quality, not in safety, as it is picked or milled; None: ask."""
    if state is not State.RAW or _AS_PICKED.fullmatch(food.key) is None:
        return None
    if food.group in FRESH_GROUPS:
        return _FRESH_DAYS
    return _DRY_DAYS if food.group in _SHELF_GROUPS | {"fat and oil"} else None


def usual_place(heard: Heard, state: State, given_days: int | None) -> Place:
    """Where such food waits: on the counter or a shelf where it may, else in the fridge."""
    room = Place.SHELF if heard.food.group in _SHELF_GROUPS else Place.COUNTER
    for days in dict.fromkeys((given_days, None)):
        for place in (room, Place.FRIDGE):
            try:
                clock(heard.food, heard.form, state, place, days)
            except InputError:
                continue
            return place
    is_soft = heard.food.group in FRESH_GROUPS and heard.food.key not in _ON_THE_COUNTER
    return Place.FRIDGE if is_soft and _assumed_days(heard.food, state) else room  # nothing is published


def _clock(heard: Heard, state: State, place: Place, given_days: int | None) -> Clock:
    try:
        return clock(heard.food, heard.form, state, place, given_days)
    except InputError:
        if given_days is not None:
            raise
        clock(heard.food, heard.form, state, place, 1)  # raises again where the place is wrong
        raise ClockWanted(
            f"No keeping time is published for {heard.food.key}, {state}, on the {place}: look at it and say how long "
            "it will wait, like “3 days”."
        ) from None
