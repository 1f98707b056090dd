"""Portion sizes by food group and eater, and the share of an adult portion at each age.

Look at `basis` before using a number: raw, dried and cooked weight differ by up to three times.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("kind", "food_group", "role", "eater", "min", "max", "unit", "basis", "source", "evidence")


@dataclass(frozen=True, slots=True)
class Portion:
    """One published portion, serve, minimum, number of serves a day or child factor: `low` to `high` in `unit`."""

    kind: str
    food_group: str
    role: str
    eater: str
    low: float
    high: float
    unit: str
    basis: str
    source: str
    evidence: str


@cache
def portions() -> tuple[Portion, ...]:
    """All rows of the table."""
    return tuple(
        Portion(
            row.text("kind"),
            row.text("food_group"),
            row.text("role"),
            row.text("eater"),
            row.number("min"),
            row.number("max"),
            row.text("unit"),
            row.text("basis"),
            row.text("source"),
            row.text("evidence"),
        )
        for row in read_csv(DATA / "portions.csv", COLUMNS)
    )
