"""Measures in the unit of the household, written so that the parsers of the core read them again."""

from __future__ import annotations

import math
from collections.abc import Callable

from stillroom import units
from stillroom.errors import InputError
from stillroom.household import written_words as words
from stillroom.physics.steam import altitude_of_boiling_m
from stillroom.web.kitchen.models import US, Household

Write = Callable[[float], str]
_LAST_BITS = 0.01  # a height that was typed in whole feet comes back as them
_HALF_A_DEGREE_C = 0.5  # what a kitchen thermometer is off by, easily
_READABLE_C = (80.0, 101.5)


def altitude(household: Household) -> Write:
    """ "690 m" or "2264 ft", rounded up: a height that is too small would make the pressure too small."""
    unit, size = ("ft", units.M_PER_FT) if household.units == US else ("m", 1.0)
    return lambda altitude_m: f"{math.ceil(altitude_m / size - _LAST_BITS)} {unit}"


def volume(household: Household) -> Write:
    """ "220 L" or "7.8 cu ft"."""
    return _writer(household, ("L", 1.0, 0), ("cu ft", units.L_PER_CUBIC_FOOT, 1))


def length(household: Household) -> Write:
    """ "318 mm" or "12.5 in"."""
    return _writer(household, ("mm", 1.0, 0), ("in", units.MM_PER_IN, 2))


def mass(household: Household) -> Write:
    """ "2.5 kg" or "5.5 lb"."""
    return _writer(household, ("kg", 1000.0, 3), ("lb", units.G_PER_LB, 2))


def temperature(household: Household) -> Write:
    """ "18 °C" or "64 °F"."""
    if household.units == US:
        return lambda temp_c: f"{units.fahrenheit(temp_c):.0f} °F"
    return lambda temp_c: f"{words.number(round(temp_c, 1))} °C"


def altitude_by_boiling_m(text: str) -> float:
    """Altitude [m] to count with, from where water boils, "97 °C" or "206 °F"; half a degree is added for caution.

    A thermometer that shows too much would make the kitchen too low and the pressure too small; so the reading counts
    half a degree less. Weather moves it by about as much. A map is better.
    """
    number, _, scale = text.replace("°", " ").strip().partition(" ")
    try:
        shown = float(number)
    except ValueError:
        shown = float("nan")
    if scale.strip().lower() not in ("c", "f"):
        raise InputError(f"“{text}” can't be read: write where water boils, like “97 °C” or “206 °F”.")
    temp_c = shown if scale.strip().lower() == "c" else units.celsius(shown)
    if not _READABLE_C[0] <= temp_c <= _READABLE_C[1]:
        raise InputError(f"Water does not boil at “{text}” in any kitchen: measure again, in a full rolling boil.")
    return max(0.0, float(altitude_of_boiling_m(temp_c - _HALF_A_DEGREE_C)))


def _writer(household: Household, metric: tuple[str, float, int], us: tuple[str, float, int]) -> Write:
    unit, size, places = us if household.units == US else metric
    return lambda value: f"{words.number(round(value / size, places))} {unit}"
