"""arrivals.yaml, or any number of arrivals/*.yaml: food that has come in or is expected, with its clock."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from pydantic import Field

from stillroom.errors import InputError
from stillroom.household.bundles import read_bundle
from stillroom.household.clock import State, clock
from stillroom.household.measure_text import keep_days
from stillroom.household.places import at
from stillroom.model.household import Arrival, Place
from stillroom.tables.vocabulary import Food, hear
from stillroom.yaml_files import Written, read_yaml

# Only ranks what to save first when not everything can be saved. Common practice, no source.
_WORTH_PER_KG = {
    "beef": 12.0,
    "pork": 9.0,
    "lamb and game": 12.0,
    "poultry": 9.0,
    "fish": 12.0,
    "dairy": 4.0,
    "eggs": 6.0,
    "fruit": 4.0,
    "vegetable": 3.0,
    "herb": 8.0,
}
_WORTH_PER_KG_OTHERWISE = 3.0


class ArrivalLines(Written):
    """One arrival as it is written."""

    key: str | None = None
    food: str
    amount: str
    day: date
    place: Place
    state: State = State.RAW
    clock: str | None = None
    worth: float | None = Field(default=None, gt=0)  # per kg, in any money
    note: str = ""


class ArrivalsFile(Written):
    """The file as it is written."""

    arrivals: list[ArrivalLines]


def read_arrivals(path: Path, start: date | None, days: int) -> tuple[tuple[Arrival, ...], tuple[str, ...]]:
    """The arrivals a plan from `start` can use, and warnings; FileError with line and field when the file is wrong.

    `start` None: the household file could not be read, and only what needs no date is checked.
    What comes after the last day is left out, with a warning. What is past its clock on `start` is an error: it must
    be looked at, and not planned with.
    """
    arrivals: list[Arrival] = []
    notes: list[str] = []
    keys: set[str] = set()
    for place, lines in enumerate(read_yaml(path, ArrivalsFile).arrivals):
        arrival, note = _arrival(path, place, lines, start)
        if arrival.key in keys:
            with at(path, "arrivals", place):
                raise InputError(f"there are two arrivals “{arrival.key}”: give one of them a “key” of its own.")
        keys.add(arrival.key)
        notes += [note] if note else []
        if start is not None and arrival.day >= start + timedelta(days=days):
            notes.append(f"{arrival.food} of {arrival.day} comes after the last day of the plan and is left out.")
        else:
            arrivals.append(arrival)
    return tuple(arrivals), tuple(notes)


def _arrival(path: Path, place: int, lines: ArrivalLines, start: date | None) -> tuple[Arrival, str]:
    with at(path, "arrivals", place, "food"):
        heard = hear(lines.food)
    with at(path, "arrivals", place, "amount"):
        bundle = read_bundle(lines.amount, heard.food.key)
    with at(path, "arrivals", place, "clock" if lines.clock is not None else "place"):
        given_days = keep_days(lines.clock) if lines.clock is not None else None
        waits = clock(heard.food, heard.form, lines.state, lines.place, given_days)
    last_day = lines.day + timedelta(days=waits.keep_days)
    if start is not None and last_day < start:
        with at(path, "arrivals", place, "day"):
            raise InputError(
                f"its clock ran out on {last_day}, before the plan starts on {start}: take it out of the file, or, if "
                "it is fruit or vegetables and still sound, give it a longer clock."
            )
    return (
        Arrival(
            key=lines.key or f"{heard.food.key} {lines.day}",
            food=heard.food.key,
            mass_g=bundle.mass_g,
            piece_g=bundle.mass_g / bundle.count if bundle.piece else 0.0,
            day=lines.day,
            place=lines.place,
            keep_days=waits.keep_days,
            keep_reason=waits.reason,
            worth_per_kg=lines.worth if lines.worth is not None else _worth_per_kg(heard.food),
            note=lines.note,
            is_own_clock=given_days is not None,
        ),
        f"{waits.note}." if waits.note else "",
    )


def _worth_per_kg(food: Food) -> float:
    return _WORTH_PER_KG.get(food.group, _WORTH_PER_KG_OTHERWISE)
