"""One line as a cook says it: "9 kg tomatoes, ripe, Saturday"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from stillroom.errors import InputError, UnknownFood, UnreadableAmount
from stillroom.household.bundles import Bundle, read_bundle
from stillroom.household.clock import Clock, State, clock
from stillroom.household.measure_text import keep_days
from stillroom.model.household import Place
from stillroom.quantities.amounts import parse
from stillroom.tables.vocabulary import Heard, hear
from stillroom.web.arrivals.day_words import read_day

_SHELF_GROUPS = frozenset(("grain and flour", "nut and seed", "legume", "sugar and sweet", "seasoning and acid"))
_CLOCK = re.compile(r"(?:keeps |clock |waits )?(\d+ (?:days?|weeks?))")
_PIECES = re.compile(r"[1-9]\d* (\D+?) of \d.*")  # "6 chickens of 2 kg"
_HINT = "Write an amount and a food, like “9 kg tomatoes, ripe, Saturday”."


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
    def last_day(self) -> date:
        """The last day on which it may be used."""
        return self.day + timedelta(days=self.keep_days)


def read_line(text: str, today: date, given_days: int | None = None) -> Line:
    """The arrival meant by `text`; parts after the first comma may come in any order. InputError says what is unclear.

    A day is said as `read_day` reads it; a place, a state or a clock is named by its
    word; everything else is a note. Without a place the food goes where it has a published clock.
    """
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        raise InputError(_HINT)
    used, name, heard, bundle = _amount_and_food(parts)
    day, place, state, given, notes = today, None, State.RAW, given_days, []
    for part in parts[used:]:
        word = " ".join(part.lower().removeprefix("in the ").split())
        if (found := read_day(word, today)) is not None:
            day = found
        elif word in [place.value for place in Place]:
            place = Place(word)
        elif word in [state.value for state in State]:
            state = State(word)
        elif (match := _CLOCK.fullmatch(word)) is not None:
            given = keep_days(match[1])
        else:
            notes.append(part)
    chosen = place or usual_place(heard, state, given)
    waits = _clock(heard, state, chosen, given)
    return Line(
        name=name,
        food=heard.food.key,
        bundle=bundle,
        day=day,
        place=chosen,
        state=state,
        given_days=given,
        note=", ".join(notes),
        keep_days=waits.keep_days,
        reason=waits.reason,
    )


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
    return room  # nothing is published: the household says how long


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


def _amount_and_food(parts: list[str]) -> tuple[int, str, Heard, Bundle]:
    """How many parts the food's name takes (“chicken, whole”), its name, and the amount."""
    complaint: InputError | None = None
    for used in range(min(3, len(parts)), 0, -1):
        for amount, name in _divisions(", ".join(parts[:used]).split()):
            try:
                heard = hear(name)
            except UnknownFood as error:
                if used == 1 and _is_amount(amount) and not isinstance(complaint, UnreadableAmount):
                    complaint = error
                continue
            try:
                return used, name, heard, read_bundle(amount, heard.food.key)
            except UnreadableAmount as error:
                complaint = complaint if isinstance(complaint, UnreadableAmount) else error
    raise complaint or _no_amount(parts[0])


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


def _is_amount(text: str) -> bool:
    try:
        parse(text)
    except UnreadableAmount:
        return False
    return True


def _no_amount(text: str) -> InputError:
    try:
        heard = hear(text)
    except UnknownFood:
        return InputError(f"“{text}” has no amount that can be read. {_HINT}")
    return InputError(f"How much {heard.food.key}? Write the amount too, like “9 kg {text}”.")
