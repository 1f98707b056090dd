"""Printed gel point of jelly and jam by altitude; the rule behind it is boiling water on the day + 8 °F (N018)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("altitude_ft", "temp_f", "source", "url", "evidence")


@dataclass(frozen=True, slots=True)
class GelPoint:
    """The temperature [°F] at one altitude [ft]; the thermometer is tested in boiling water first."""

    altitude_ft: float
    temp_f: float
    source: str
    url: str
    evidence: str


@cache
def gel_points() -> tuple[GelPoint, ...]:
    """Sea level to 8,000 ft."""
    return tuple(
        GelPoint(
            row.number("altitude_ft"),
            row.number("temp_f"),
            row.text("source"),
            row.text("url"),
            row.text("evidence"),
        )
        for row in read_csv(DATA / "gel_point.csv", COLUMNS)
    )
