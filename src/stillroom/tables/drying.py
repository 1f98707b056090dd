"""How much dried food a fresh amount gives, in the printed units. Air, hours and end points are constants."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, grouped, read_csv

COLUMNS = (
    *("food", "fresh_amount", "fresh_unit", "dried_amount", "dried_unit", "basis", "rule"),
    *("source", "url", "evidence"),
)


@dataclass(frozen=True, slots=True)
class DryingYield:
    """`fresh_amount` of food, weighed as `basis` says, gives `dried_amount`."""

    food: str
    fresh_amount: float
    fresh_unit: str
    dried_amount: float
    dried_unit: str
    basis: str
    source: str
    url: str
    evidence: str


@cache
def _by_food() -> dict[str, tuple[DryingYield, ...]]:
    return grouped(
        (
            row.text("food"),
            DryingYield(
                row.text("food"),
                row.number("fresh_amount"),
                row.text("fresh_unit"),
                row.number("dried_amount"),
                row.text("dried_unit"),
                row.text("basis"),
                row.text("source"),
                row.cells["url"],
                row.text("evidence"),
            ),
        )
        for row in read_csv(DATA / "drying_yields.csv", COLUMNS)
    )


def drying_yields(food_key: str) -> tuple[DryingYield, ...]:
    """The drying yields of one food; () where none is published."""
    return _by_food().get(food_key, ())
