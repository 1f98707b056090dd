"""One line as a cook says it: "9 kg tomatoes, ripe, Saturday"."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date, timedelta

from stillroom.errors import InputError
from stillroom.household.bundles import Bundle
from stillroom.household.clock import Clock, State, clock
from stillroom.household.measure_text import keep_days
from stillroom.model.household import Place
from stillroom.tables.spelling import plain
from stillroom.tables.vocabulary import Food, Heard, hear, known
from stillroom.web.arrivals.day_words import read_day
from stillroom.web.arrivals.line_head import HINT, Head, LineUnclear, read_head
from stillroom.web.arrivals.line_words import FRESH_GROUPS, makes_another_food, sounds_like_a_day, state_said

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

    A day is said as `read_day` reads it; a place, a state or a clock is named by its word; everything else is a note,
    unless it makes another food of it (“trout, smoked”). Without a place the food goes where it has a published clock;
    where nobody publishes one and it is of quality, not of safety, a short one is assumed and the note says so.
    """
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        raise InputError(HINT)
    if _FROZEN.search(text):
        raise InputError("What is frozen already is a lot in store: write it into the Larder, not here.")
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
        elif (match := _CLOCK.fullmatch(word)) is not None:
            given = keep_days(match[1])
        elif sounds_like_a_day(word):
            raise LineUnclear(f"Which day is “{part}”?", tuple(_days_instead(text, part, today)))
        else:
            head, note = _noted(head, part)
            notes += [note] if note else []
    chosen = place or usual_place(head.heard, state, given)
    try:
        waits = _clock(head.heard, state, chosen, given)
    except ClockWanted:
        given = _assumed_days(head.heard.food, state)
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


def _noted(head: Head, part: str) -> tuple[Head, str]:
    """The food that “beef, minced” or “peaches, white” is, or the note; UnknownFood where nobody knows that food."""
    if set(plain(part).split()) <= set(plain(head.name).split()):
        return head, ""
    for name in (f"{part} {head.name}", f"{head.name}, {part}"):
        heard = known(name)
        if heard is None:
            continue
        return (head, part) if heard == head.heard else (replace(head, name=name, heard=heard), "")
    if makes_another_food(part, head.heard.food):
        hear(f"{part} {head.name}")  # raises, with the nearest names
    return head, part


def _days_instead(text: str, part: str, today: date) -> list[str]:
    ahead = (today + timedelta(days=number) for number in range(1, 8))
    return [text.replace(part, f"{day:%A}") for day in ahead]


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
