"""Canning syrups: cups of water and sugar for a load. A syrup keeps shape and colour; it does not preserve."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("syrup", "nominal_percent", "load", "water_cups", "sugar_cups", "source", "url", "evidence", "note")


@dataclass(frozen=True, slots=True)
class Syrup:
    """One line of the table; the printed percentage is nominal, the real one by weight is lower."""

    name: str
    nominal_percent: float
    load: str  # "9 pints" or "7 quarts"
    water_cups: float
    sugar_cups: float
    source: str
    url: str
    evidence: str
    note: str


@cache
def syrups() -> tuple[Syrup, ...]:
    """All lines, thin to thick."""
    return tuple(
        Syrup(
            row.text("syrup"),
            row.number("nominal_percent"),
            row.text("load"),
            row.number("water_cups"),
            row.number("sugar_cups"),
            row.text("source"),
            row.cells["url"],
            row.text("evidence"),
            row.cells["note"],
        )
        for row in read_csv(DATA / "syrups.csv", COLUMNS)
    )
