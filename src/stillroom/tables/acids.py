"""Acid to put into each jar of food that is not acid enough by itself, also when it is pressure canned."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.model.process import JarSize
from stillroom.tables.csv_rows import DATA, grouped, read_csv

COLUMNS = ("process_food", "jar", "agent", "amount", "unit", "source", "url", "evidence", "note")


@dataclass(frozen=True, slots=True)
class Acid:
    """One way to acidify one jar; every row of a food and jar is an alternative to the others."""

    process_food: str
    jar: JarSize
    agent: str  # "bottled lemon juice", "citric acid" or "vinegar 5 %"
    amount: float
    unit: str  # "tbsp" or "tsp"
    source: str
    url: str
    evidence: str
    note: str


@cache
def _by_food() -> dict[str, tuple[Acid, ...]]:
    return grouped(
        (
            row.text("process_food"),
            Acid(
                row.text("process_food"),
                row.chosen("jar", JarSize),
                row.text("agent"),
                row.number("amount"),
                row.text("unit"),
                row.text("source"),
                row.cells["url"],
                row.text("evidence"),
                row.cells["note"],
            ),
        )
        for row in read_csv(DATA / "acids.csv", COLUMNS)
    )


def acids(process_food: str) -> tuple[Acid, ...]:
    """The acid for one food of the process tables, by jar; () where none is added jar by jar."""
    return _by_food().get(process_food, ())
