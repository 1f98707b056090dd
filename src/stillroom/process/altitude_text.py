"""Reads an altitude: "760 m", "2500 ft"."""

from __future__ import annotations

import math
import re

from stillroom import units
from stillroom.errors import InputError

LOWEST_FT = -1400.0  # the shore of the Dead Sea; below that a number is a slip
_ALTITUDE = re.compile(r"([-+−]?\d+(?:\.\d+)?)\s*(m|metres?|meters?|ft|feet|foot|')")
_POINTED_THOUSANDS = re.compile(r"[-+−]?([1-9]|[1-3]\d)\.\d{3}\D*")


def read_altitude(text: str) -> float:
    """Altitude [m] from text with its unit; a bare number is refused, because 2500 m is not 2500 ft.

    So is “2.500 m”: many countries write 2500 like that, and read as 2.5 it would under-process every jar.
    """
    plain = re.sub(r"(\d),(\d{3})\b", r"\1\2", text.strip().lower())
    match = _ALTITUDE.fullmatch(plain)
    if match is None:
        raise InputError(f"“{text}” is not an altitude that can be read. Write it with its unit: “760 m” or “2500 ft”.")
    if _POINTED_THOUSANDS.fullmatch(plain):
        raise InputError(f"“{text}” can be read in two ways. Write thousands without a point: “760 m” or “2500 ft”.")
    number = float(match[1].replace("−", "-"))
    return number if match[2].startswith("m") else units.metres(number)


def altitude_ft(altitude_m: float) -> float:
    """Altitude [ft] for the printed bands, exact to a millionth so that 609.6 m is 2000 ft and not a hair more.

    Below sea level counts as below the first band's end; nonsense raises InputError.
    """
    if not isinstance(altitude_m, int | float) or not math.isfinite(altitude_m):
        raise InputError(f"An altitude of {altitude_m} can't be used; give metres or feet above the sea.")
    feet = round(units.feet(altitude_m), 6)
    if feet < LOWEST_FT:
        raise InputError(f"No kitchen is {-feet:.0f} ft below the sea; check the altitude.")
    return feet
