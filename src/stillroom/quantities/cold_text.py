"""Words for the bands and temperatures of cooling, freezing, thawing and waiting, the same on every page."""

from __future__ import annotations

import math

from stillroom.physics.band import Band
from stillroom.tables.rules import rule
from stillroom.units import fahrenheit

MODEL = "By a model, not by a test: measure in the middle, with a thermometer that shows 0 °C in ice water."
AUTHORITY = "Your local food-safety authority has the last word. When in doubt, throw it out."


def hours_words(band: Band) -> str:
    """“20 to 45 min”, “50 min to 8 h”, “2 to 5 days” or “never”: no finer than the model knows."""
    if math.isinf(band.low):
        return "never"
    low, low_unit = _time(band.low)
    if math.isinf(band.high):
        return f"{low} {low_unit} at least, perhaps never"
    high, high_unit = _time(band.high)
    if low_unit != high_unit:
        return f"{low} {low_unit} to {high} {high_unit}"
    return f"about {high} {high_unit}" if low == high else f"{low} to {high} {high_unit}"


def span_words(band: Band, unit: str) -> str:
    """“11 to 14 L”: two figures."""
    low, high = _figure(band.low), _figure(band.high)
    return f"about {high} {unit}" if low == high else f"{low} to {high} {unit}"


def temp_words(temp_c: float) -> str:
    """“21 °C (70 °F)”."""
    return f"{temp_c:.0f} °C ({fahrenheit(temp_c):.0f} °F)"


def source_words(*rules: str) -> str:
    """What is printed as the source of the rules, each once."""
    return "; ".join(dict.fromkeys(source for name in rules for source in rule(name).source.split(" ; ")))


def _time(hours: float) -> tuple[str, str]:
    factor, unit = (60.0, "min") if hours < 2 else (1.0, "h") if hours < 72 else (1 / 24, "days")
    return _figure(hours * factor), unit


def _figure(value: float) -> str:
    """Two digits below ten, whole numbers above."""
    return f"{value:.1f}".removesuffix(".0") if value < 9.95 else f"{value:.0f}"
