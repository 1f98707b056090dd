"""Usual shares, temperatures and friction of bread dough, in the printed units."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("quantity", "low", "high", "unit", "rule", "source", "url", "evidence", "note")


@dataclass(frozen=True, slots=True)
class BakingFigure:
    """A quantity from `low` to `high` in `unit`; `rule` is the row of the rules table."""

    quantity: str
    low: float
    high: float
    unit: str
    rule: str
    source: str
    url: str
    evidence: str
    note: str


@cache
def baking_figures() -> tuple[BakingFigure, ...]:
    """The baker's table."""
    return tuple(
        BakingFigure(
            row.text("quantity"),
            row.number("low"),
            row.number("high"),
            row.text("unit"),
            row.text("rule"),
            row.text("source"),
            row.cells["url"],
            row.text("evidence"),
            row.cells["note"],
        )
        for row in read_csv(DATA / "baking.csv", COLUMNS)
    )
