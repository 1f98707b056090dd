"""What people write in a household file, as numbers: sizes, temperatures, gauge errors, keeping times.

Strict: a unit is always wanted, and what can't be read is refused with what can.
"""

from __future__ import annotations

import re

from stillroom import units
from stillroom.errors import InputError

_NUMBER = re.compile(r"\s*([+-]?\d+(?:\.\d+)?)\s*(.*?)\s*")

_LITRES = {
    "l": 1.0,
    "litre": 1.0,
    "litres": 1.0,
    "liter": 1.0,
    "liters": 1.0,
    "cu ft": units.L_PER_CUBIC_FOOT,
    "cubic feet": units.L_PER_CUBIC_FOOT,
}
_MILLIMETRES = {"mm": 1.0, "cm": 10.0, "in": units.MM_PER_IN, "inch": units.MM_PER_IN, "inches": units.MM_PER_IN}


def volume_l(text: str) -> float:
    """Volume of a freezer or fridge [l] from "220 L" or "7.5 cu ft"; zero or more."""
    return _measured(text, _LITRES, "litres, like “220 L”, or cubic feet, like “7.5 cu ft”")


def length_mm(text: str) -> float:
    """Length [mm] from "82 mm", "8.2 cm" or "3.25 in"; zero or more."""
    return _measured(text, _MILLIMETRES, "a length like “82 mm”, “8.2 cm” or “3.25 in”")


def room_c(text: str) -> float:
    """Temperature of a kitchen [°C] from "18 °C" or "64 °F"; 5 to 45 °C, outside of which no dough rises."""
    wanted = "a room temperature between 5 and 45 °C, like “18 °C” or “64 °F”"
    value, unit = _split(text, wanted)
    scale = unit.replace("°", "").replace("degrees", "").strip().lower()
    if scale not in ("c", "f"):
        raise InputError(f"“{text}” can't be read: write {wanted}.")
    temp_c = value if scale == "c" else units.celsius(value)
    if not 5 <= temp_c <= 45:
        raise InputError(f"“{text}” is {temp_c:.0f} °C: write {wanted}.")
    return temp_c


def gauge_error_psi(text: str) -> float:
    """What a gauge shows minus the true pressure [psi] from "0.5 psi high", "1 psi low", "+0.5 psi" or "0 psi".

    A number that says neither high nor low is refused: the wrong sign would cost pressure.
    """
    wanted = "how much the gauge shows too high or too low, like “0.5 psi high” or “1 psi low”"
    value, unit = _split(text, wanted)
    match = re.fullmatch(r"(psi|kpa)(?:\s+(high|low))?", unit.lower())
    if match is None or (match[2] and text.strip()[0] in "+-"):
        raise InputError(f"“{text}” can't be read: write {wanted}.")
    if value != 0 and match[2] is None and text.strip()[0] not in "+-":
        raise InputError(f"“{text}” does not say whether the gauge shows too high or too low: write {wanted}.")
    shown_psi = value if match[1] == "psi" else value / units.KPA_PER_PSI
    return -shown_psi if match[2] == "low" else shown_psi


def keep_days(text: str) -> int:
    """A clock [days] from "3 days" or "2 weeks"; 0 to 730."""
    wanted = "days or weeks, like “3 days” or “2 weeks”"
    value, unit = _split(text, wanted)
    days_per = {"day": 1, "days": 1, "week": 7, "weeks": 7}.get(unit.lower())
    if days_per is None or value != int(value) or not 0 <= value * days_per <= 730:
        raise InputError(f"“{text}” can't be read as a clock: write {wanted}, two years at the most.")
    return int(value) * days_per


def _measured(text: str, sizes: dict[str, float], wanted: str) -> float:
    value, unit = _split(text, wanted)
    size = sizes.get(unit.lower())
    if size is None or value < 0:
        raise InputError(f"“{text}” can't be read: write {wanted}.")
    return value * size


def _split(text: str, wanted: str) -> tuple[float, str]:
    match = _NUMBER.fullmatch(text)
    if match is None:
        raise InputError(f"“{text}” can't be read: write {wanted}.")
    return float(match[1]), match[2]
