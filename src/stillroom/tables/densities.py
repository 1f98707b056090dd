"""What a kitchen or trade measure of a food weighs: cups, pieces, bushels.

Source: SR Legacy portions and extension tables, see each row. For cut or leafy food the density is a bulk density
(with air); two measures of one food may give different ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, grouped, read_csv

COLUMNS = ("food", "measure", "grams", "density_g_per_ml", "source", "evidence")


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure (“cup, cubes”, “bushel”) and its weight [g]; `g_per_ml` where the measure is a volume."""

    measure: str
    grams: float
    g_per_ml: float | None
    source: str
    evidence: str


@cache
def _by_food() -> dict[str, tuple[Measure, ...]]:
    return grouped(
        (
            row.text("food"),
            Measure(
                row.text("measure"),
                row.number("grams"),
                row.optional_number("density_g_per_ml"),
                row.text("source"),
                row.text("evidence"),
            ),
        )
        for row in read_csv(DATA / "densities.csv", COLUMNS)
    )


def measures(food_key: str) -> tuple[Measure, ...]:
    """The measures of one food; () where none is published."""
    return _by_food().get(food_key, ())
