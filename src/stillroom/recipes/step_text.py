"""The small written forms of a recipe file: minutes, equipment, waits, holds. All refuse with ValueError.

minutes     "10", "10 + 6 per unit", "6 per unit", "by the process card"
equipment   "1 burner", "2 + 0.5 per unit oven trays at 180 °C", "1.5 per unit dryer trays at 60 °C", "3 fridge litres"
wait        "20 min", "8 h", "1 h 30 min", "2 days"
hold        "fridge 4 °C", "room 20 °C", "hot"
"""

from __future__ import annotations

import re

from stillroom.model.recipe import Need
from stillroom.tables.constants import constant
from stillroom.units import fahrenheit

_NUMBER = r"\d+(?:\.\d+)?"
_AMOUNT = re.compile(rf"(?:(?P<fixed>{_NUMBER})(?! per unit))?(?: \+ )?(?:(?P<per_unit>{_NUMBER}) per unit)?")
_EQUIPMENT = {
    "burner": "burner",
    "burners": "burner",
    "oven tray": "oven",
    "oven trays": "oven",
    "dryer tray": "dryer",
    "dryer trays": "dryer",
    "fridge litre": "fridge",
    "fridge litres": "fridge",
    "canner": "canner",
    "mixer": "mixer",
    "ice bath": "ice bath",
}
_MINUTES_PER = {"min": 1, "h": 60, "day": 1440, "days": 1440}
_COLD_PLACES = ("fridge", "freezer", "ice")


def is_cold(hold: str, temp_c: float | None) -> bool:
    """Whether food held there is out of the danger zone because it is cold (R104: up to 40 °F)."""
    is_warm = temp_c is not None and fahrenheit(temp_c) > constant("danger_zone_low_f").value
    return hold.startswith(_COLD_PLACES) and not is_warm


def read_minutes(text: str) -> tuple[float, float]:
    """(fixed, per unit) minutes; the canner cycle takes its own from the process card and counts (0, 0) here."""
    if text == "by the process card":
        return 0.0, 0.0
    return _read_amount(text, "write minutes like “10”, “6 per unit” or “10 + 6 per unit”")


def read_need(text: str) -> Need:
    """Equipment with its amount and setting."""
    words, _, setting = text.partition(" at ")
    for name, equipment in sorted(_EQUIPMENT.items(), key=lambda pair: -len(pair[0])):
        if words.endswith(" " + name):
            fixed, per_unit = _read_amount(words.removesuffix(" " + name), "write an amount like “1” or “0.5 per unit”")
            return Need(equipment=equipment, amount=fixed, per_unit=per_unit, setting=setting)
    raise ValueError(f"write an amount and one of: {', '.join(_EQUIPMENT)}; for example “2 oven trays at 180 °C”")


def read_wait_min(text: str) -> int:
    """Minutes of a wait like "8 h" or "1 h 30 min"."""
    parts = re.findall(rf"({_NUMBER}) (min|h|days?)(?: |$)", text)
    if not parts or " ".join(f"{number} {unit}" for number, unit in parts) != text:
        raise ValueError("write a wait like “20 min”, “8 h”, “1 h 30 min” or “2 days”")
    return round(sum(float(number) * _MINUTES_PER[unit] for number, unit in parts))


def read_hold(text: str) -> tuple[str, float | None]:
    """(place, temperature [°C] or None) of food that waits."""
    match = re.fullmatch(rf"(?P<place>[a-z][a-z ]*?)(?: (?P<temp>-?{_NUMBER}) °?C)?", text)
    if match is None:
        raise ValueError("write where the food waits, like “fridge 4 °C”, “room 20 °C” or “hot”")
    return match["place"], float(match["temp"]) if match["temp"] else None


def _read_amount(text: str, hint: str) -> tuple[float, float]:
    match = _AMOUNT.fullmatch(text)
    if match is None or not (match["fixed"] or match["per_unit"]) or text.startswith(" "):
        raise ValueError(hint)
    return float(match["fixed"] or 0), float(match["per_unit"] or 0)
