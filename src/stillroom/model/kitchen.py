"""The kitchen as it is: people and hours, canners, burners, oven, freezer, jars in stock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

from stillroom.model.process import CannerKind
from stillroom.model.recipe import Use


@dataclass(frozen=True, slots=True)
class Presence:
    """Hours one person is in the kitchen on one date."""

    day: date
    start: time
    end: time


@dataclass(frozen=True, slots=True)
class Appointment:
    """Something that takes a person out of the kitchen for a while."""

    day: date
    start: time
    end: time
    what: str


HANDS_OF_AN_ADULT_YEARS = 14  # whoever is younger helps as a child, whatever is ticked (common practice, no source)


def is_too_young(age_years: int | None) -> bool:
    """Whether somebody of that age is kept from blades, heat and raw meat; None: an adult."""
    return age_years is not None and age_years < HANDS_OF_AN_ADULT_YEARS


@dataclass(frozen=True, slots=True)
class Person:
    """Someone who can lend hands; `presence` already leaves out the appointments.

    `leaves` are uses of food that this person leaves to others. A child does only the steps that say so.
    """

    name: str
    presence: tuple[Presence, ...]
    is_child: bool = False
    leaves: frozenset[Use] = frozenset()
    appointments: tuple[Appointment, ...] = ()


@dataclass(frozen=True, slots=True)
class JarKind:
    """A kind of jar on the shelf: how many are empty and clean, and what it measures outside."""

    name: str  # "pint", "1200 ml"
    volume_ml: float
    diameter_mm: float
    height_mm: float
    count: int
    lids: int
    has_reusable_lids: bool = False


@dataclass(frozen=True, slots=True)
class Canner:
    """A canner, its gauge and its inside size."""

    name: str
    kind: CannerKind
    inside_diameter_mm: float
    inside_height_mm: float
    gauge_error_psi: float = 0.0  # what the gauge shows minus the true pressure
    gauge_tested_on: date | None = None


@dataclass(frozen=True, slots=True)
class Freezer:
    """Capacity and what is already in it."""

    capacity_l: float
    used_l: float


@dataclass(frozen=True, slots=True)
class Kitchen:
    """Everything the work of a day has to share."""

    altitude_m: float
    people: tuple[Person, ...]
    canners: tuple[Canner, ...]
    burners: int  # big and small
    oven_trays: int
    freezer: Freezer
    fridge_free_l: float
    dryer_trays: int
    has_mixer: bool
    jars: tuple[JarKind, ...]
    room_c: float = 20.0
    small_burners: int = 0  # of `burners`; neither a canner nor a large pot stands on one
    pantry_g: tuple[tuple[str, float], ...] = ()  # vinegar, salt, sugar ... in the house: (food, g)
