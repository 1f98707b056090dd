"""kitchen.yaml: what the work of a day has to share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from pathlib import Path

from pydantic import Field

from stillroom.errors import InputError
from stillroom.household.hours_text import Hours, hours_on, read_appointment, read_hours, week_of_hours, without
from stillroom.household.jars_on_shelf import JarLines, jar_kinds
from stillroom.household.measure_text import gauge_error_psi, length_mm, room_c, volume_l
from stillroom.household.places import at
from stillroom.model.kitchen import Appointment, Canner, Freezer, Kitchen, Person, Presence
from stillroom.model.process import CannerKind
from stillroom.model.recipe import Use
from stillroom.process.altitude_text import altitude_ft, read_altitude
from stillroom.process.canner_text import read_canner
from stillroom.quantities.amounts import mass_g
from stillroom.tables.vocabulary import hear
from stillroom.yaml_files import Written, read_yaml

HIGHEST_M = 5500.0  # above every town; a higher number is a slip


class PersonLines(Written):
    """Someone who can lend hands, and when."""

    name: str = Field(min_length=1)
    child: bool = False
    hours: dict[str, str]
    exceptions: dict[date, str] = Field(default_factory=dict)
    appointments: tuple[str, ...] = ()
    leaves: tuple[Use, ...] = ()


class CannerLines(Written):
    """A canner; `gauge_error` and `gauge_tested` are for a dial gauge."""

    name: str = Field(min_length=1)
    kind: str
    inside_diameter: str
    inside_height: str
    gauge_error: str | None = None
    gauge_tested: date | None = None


class FreezerLines(Written):
    """What the freezer holds, and what is in it."""

    capacity: str
    used: str


class KitchenFile(Written):
    """The file as it is written."""

    altitude: str
    room: str = "20 °C"
    people: list[PersonLines] = Field(min_length=1)
    canners: tuple[CannerLines, ...] = ()
    burners: int = Field(ge=0, le=20)
    small_burners: int = Field(default=0, ge=0, le=20)
    oven_trays: int = Field(ge=0, le=20)
    freezer: FreezerLines
    fridge_free: str
    dryer_trays: int = Field(default=0, ge=0, le=60)
    mixer: bool = False
    jars: tuple[JarLines, ...] = ()
    pantry: dict[str, str] = Field(default_factory=dict)


def read_kitchen(path: Path, start: date, days: int) -> Kitchen:
    """The kitchen over `days` days from `start`; FileError with line and field when the file is wrong."""
    written = read_yaml(path, KitchenFile)
    with at(path, "altitude"):
        altitude_m = _altitude_m(written.altitude)
    with at(path, "room"):
        temp_c = room_c(written.room)
    with at(path, "fridge_free"):
        fridge_free_l = volume_l(written.fridge_free)
    if written.small_burners > written.burners:
        with at(path, "small_burners"):
            raise InputError(f"{written.small_burners} of {written.burners} burners can't be small: count again.")
    check_unlike(path, "people", [person.name for person in written.people])
    check_unlike(path, "canners", [canner.name for canner in written.canners])
    return Kitchen(
        altitude_m=altitude_m,
        people=tuple(_person(path, place, lines, start, days) for place, lines in enumerate(written.people)),
        canners=tuple(_canner(path, place, lines) for place, lines in enumerate(written.canners)),
        burners=written.burners,
        oven_trays=written.oven_trays,
        freezer=_freezer(path, written.freezer),
        fridge_free_l=fridge_free_l,
        dryer_trays=written.dryer_trays,
        has_mixer=written.mixer,
        jars=jar_kinds(path, written.jars),
        room_c=temp_c,
        small_burners=written.small_burners,
        pantry_g=food_amounts_g(path, "pantry", written.pantry),
    )


def _altitude_m(text: str) -> float:
    altitude_m = read_altitude(text)
    altitude_ft(altitude_m)
    if altitude_m > HIGHEST_M:
        raise InputError(f"nobody keeps house at {altitude_m:.0f} m: check the number and its unit.")
    return altitude_m


def food_amounts_g(path: Path, field: str, written: dict[str, str]) -> tuple[tuple[str, float], ...]:
    """Lines such as "salt: 2 kg" as (vocabulary key, g); a food named twice under two names is refused."""
    amounts: dict[str, float] = {}
    for words, amount in written.items():
        with at(path, field, words):
            food = hear(words).food.key
            if food in amounts:
                raise InputError(f"this is the same food as another line here ({food}): write them as one.")
            amounts[food] = mass_g(amount, food)
    return tuple(amounts.items())


def check_unlike(path: Path, field: str, names: Sequence[str]) -> None:
    """FileError at the first name of a list that stands there a second time."""
    for place, name in enumerate(names):
        if name in names[:place]:
            with at(path, field, place):
                raise InputError(f"“{name}” stands here twice: give each its own name.")


def _person(path: Path, place: int, lines: PersonLines, start: date, days: int) -> Person:
    with at(path, "people", place, "hours"):
        week = week_of_hours(lines.hours)
    exceptions: dict[date, Hours] = {}
    for day, hours in lines.exceptions.items():
        with at(path, "people", place, "exceptions", day.isoformat()):
            exceptions[day] = read_hours(hours)
    appointments = tuple(_appointment(path, place, number, text) for number, text in enumerate(lines.appointments))
    return Person(
        name=lines.name,
        presence=tuple(
            Presence(day=day, start=begins, end=ends)
            for day in dates(start, days)
            for begins, ends in _hours_left(hours_on(day, week, exceptions), day, appointments)
        ),
        is_child=lines.child,
        leaves=frozenset(lines.leaves),
        appointments=appointments,
    )


def _appointment(path: Path, place: int, number: int, text: str) -> Appointment:
    with at(path, "people", place, "appointments", number):
        return Appointment(*read_appointment(text))


def _hours_left(hours: Hours, day: date, appointments: Iterable[Appointment]) -> Hours:
    for appointment in appointments:
        if appointment.day == day:
            hours = without(hours, appointment.start, appointment.end)
    return hours


def dates(start: date, days: int) -> Iterable[date]:
    """The dates of the plan."""
    return (start + timedelta(days=number) for number in range(days))


def _canner(path: Path, place: int, lines: CannerLines) -> Canner:
    with at(path, "canners", place, "kind"):
        kind = read_canner(lines.kind)
    with at(path, "canners", place, "inside_diameter"):
        diameter_mm = _canner_size_mm(lines.inside_diameter)
    with at(path, "canners", place, "inside_height"):
        height_mm = _canner_size_mm(lines.inside_height)
    has_dial = kind is CannerKind.DIAL
    for field, value in (("gauge_error", lines.gauge_error), ("gauge_tested", lines.gauge_tested)):
        if value is not None and not has_dial:
            with at(path, "canners", place, field):
                raise InputError(f"a {kind} canner has no dial to be wrong: leave this line out.")
    with at(path, "canners", place, "gauge_error"):
        error_psi = gauge_error_psi(lines.gauge_error) if lines.gauge_error is not None else 0.0
    return Canner(lines.name, kind, diameter_mm, height_mm, error_psi, lines.gauge_tested)


def _canner_size_mm(text: str) -> float:
    size_mm = length_mm(text)
    if not 100 <= size_mm <= 1000:
        raise InputError(f"“{text}” is no inside size of a canner: it must be between 100 and 1000 mm.")
    return size_mm


def _freezer(path: Path, lines: FreezerLines) -> Freezer:
    with at(path, "freezer", "capacity"):
        capacity_l = volume_l(lines.capacity)
    with at(path, "freezer", "used"):
        used_l = volume_l(lines.used)
        if used_l > capacity_l:
            raise InputError(f"{used_l:g} L can't be in a freezer of {capacity_l:g} L: measure one of them again.")
    return Freezer(capacity_l=capacity_l, used_l=used_l)
