"""The temperature at which jam and jelly set: the printed line of an altitude, or boiling water on the day and 8 °F."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.tables.constants import constant
from stillroom.tables.gel_point import GelPoint, gel_points
from stillroom.tables.rules import rule
from stillroom.units import celsius, fahrenheit, feet

ON_A_LINE_FT = 1.0


@dataclass(frozen=True, slots=True)
class GelAnswer:
    """Where a jam sets: `temp_c` [°C] when it can be said, else the printed lines on both sides to check it against."""

    temp_c: float | None
    lines: tuple[GelPoint, ...]
    how: str
    source: str


def at_altitude(altitude_m: float) -> GelAnswer:
    """The printed gel point of this altitude [m]; between and beyond the lines only the way to measure it.

    Printed from sea level to 8,000 ft in steps of 1,000 ft; nothing is interpolated.
    """
    wanted_ft = feet(altitude_m)
    points = gel_points()
    for point in points:
        if abs(point.altitude_ft - wanted_ft) <= ON_A_LINE_FT:
            return GelAnswer(celsius(point.temp_f), (point,), "as printed for this altitude", point.source)
    below = [point for point in points if point.altitude_ft < wanted_ft]
    above = [point for point in points if point.altitude_ft > wanted_ft]
    lines = (*below[-1:], *above[:1]) if below and above else ()
    return GelAnswer(None, lines, _measure(), rule("N018").source)


def from_boiling(boiling_c: float) -> GelAnswer:
    """The gel point [°C] from boiling water measured on the day with the same thermometer; valid 85 to 102 °C."""
    if not 85 <= boiling_c <= 102:
        raise InputError("Boiling water measures 85 to 102 °C (185 to 216 °F); check the thermometer.")
    temp_f = fahrenheit(boiling_c) + constant("gel_above_boiling_f").value
    return GelAnswer(celsius(temp_f), (), _measure(), rule("N018").source)


def _measure() -> str:
    above_f = constant("gel_above_boiling_f").value
    return f"measure boiling water that day, then cook to {above_f:g} °F ({above_f / 1.8:.1f} °C) more"
