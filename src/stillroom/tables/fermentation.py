"""Salt, times and temperatures of fermented cabbage and cucumbers, in the printed units."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("product", "quantity", "low", "high", "unit", "source", "url", "evidence", "note")


@dataclass(frozen=True, slots=True)
class FermentationFact:
    """A quantity of one product: `low` to `high` in `unit`."""

    product: str
    quantity: str
    low: float
    high: float
    unit: str
    source: str
    url: str
    evidence: str
    note: str


@cache
def fermentation() -> tuple[FermentationFact, ...]:
    """All facts."""
    return tuple(
        FermentationFact(
            row.text("product"),
            row.text("quantity"),
            row.number("low"),
            row.number("high"),
            row.text("unit"),
            row.text("source"),
            row.cells["url"],
            row.text("evidence"),
            row.cells["note"],
        )
        for row in read_csv(DATA / "fermentation.csv", COLUMNS)
    )
