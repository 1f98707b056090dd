"""Reads percentages, temperatures and times that a person wrote; a number without its unit is refused."""

from __future__ import annotations

import re

from stillroom.errors import InputError
from stillroom.units import MM_PER_IN, celsius

_NUMBER = r"([0-9]+(?:\.[0-9]+)?)"


def read_percent(text: str) -> float:
    """“2.5%” as a fraction [-], 0.025. The sign is asked for: 0.025 and 2.5 are a factor of 100 apart."""
    match = re.fullmatch(rf"\s*{_NUMBER}\s*%\s*", text)
    if match is None or not 0 <= float(match[1]) <= 1000:
        raise InputError(f"“{text}” is not a percentage; write it with its sign, as in 2.5%.")
    return float(match[1]) / 100


def read_ppm(text: str) -> float:
    """“120 ppm” or “120” as a number [ppm]."""
    match = re.fullmatch(rf"\s*{_NUMBER}\s*(?:ppm)?\s*", text)
    if match is None:
        raise InputError(f"“{text}” is not a number of ppm; write it as in 120 ppm.")
    return float(match[1])


def read_temp_c(text: str) -> float:
    """“24 C” or “75 F” as °C."""
    match = re.fullmatch(rf"\s*([-−]?){_NUMBER}\s*°?\s*([cfCF])\s*", text)
    if match is None:
        raise InputError(f"“{text}” is not a temperature; write it with its unit, as in “24 C” or “75 F”.")
    value = float(match[2]) * (-1 if match[1] else 1)
    return celsius(value) if match[3] in "fF" else value


def read_difference_k(text: str) -> float:
    """A difference of temperature, “11 C” or “20 F”, in kelvin: 20 °F of friction are 11.1 °C, never −6.7 °C."""
    match = re.fullmatch(rf"\s*{_NUMBER}\s*°?\s*([cfCF])\s*", text)
    if match is None:
        raise InputError(f"“{text}” is not a difference of temperature; write it as in “11 C” or “20 F”.")
    return float(match[1]) / (1.8 if match[2] in "fF" else 1)


def read_time_min(text: str) -> float:
    """“90 min”, “2 h” or “1.5 h” in minutes."""
    match = re.fullmatch(rf"\s*{_NUMBER}\s*(h|min)\s*", text)
    if match is None:
        raise InputError(f"“{text}” is not a time; write it as in “90 min” or “2 h”.")
    return float(match[1]) * (60 if match[2] == "h" else 1)


def read_length_mm(text: str) -> float:
    """“40 mm”, “4 cm” or “1.5 in” in mm."""
    match = re.fullmatch(rf"\s*{_NUMBER}\s*(mm|cm|in)\s*", text)
    if match is None or float(match[1]) == 0:
        raise InputError(f"“{text}” is not a length; write it as in “40 mm”, “4 cm” or “1.5 in”.")
    return float(match[1]) * {"mm": 1.0, "cm": 10.0, "in": MM_PER_IN}[match[2]]


def read_sides_mm(text: str) -> tuple[float, float]:
    """“30 x 40 cm” in mm, longer side first; the unit may stand after each side or once at the end."""
    match = re.fullmatch(rf"\s*{_NUMBER}\s*(mm|cm|in)?\s*[x×]\s*{_NUMBER}\s*(mm|cm|in)\s*", text)
    if match is None:
        raise InputError(f"“{text}” is not two sides; write them as in “30 x 40 cm”.")
    sides = (f"{match[1]} {match[2] or match[4]}", f"{match[3]} {match[4]}")
    longer, shorter = sorted((read_length_mm(side) for side in sides), reverse=True)
    return longer, shorter
