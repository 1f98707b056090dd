"""How large a circle has to be to hold n equal circles: jars in one layer of a round canner.

R/r is the inside radius of the canner, less any clearance, over the outside radius of the jar. At exactly this ratio
jars touch each other and the wall. Valid for n = 1 to 20; more jars are outside the table.
Source: table of the best known packings; n = 12 is from memory of it, some layouts have a closed form (`closed_form`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("n", "ratio", "closed_form", "source", "url", "evidence", "note")


@dataclass(frozen=True, slots=True)
class CirclePacking:
    """The smallest R/r that holds `n` circles [-]; figures without a closed form are printed truncated."""

    n: int
    ratio: float
    closed_form: str
    source: str
    url: str
    evidence: str
    note: str


@cache
def packings() -> tuple[CirclePacking, ...]:
    """n = 1 to 20."""
    return tuple(
        CirclePacking(
            row.whole("n"),
            row.number("ratio"),
            row.cells["closed_form"],
            row.text("source"),
            row.cells["url"],
            row.text("evidence"),
            row.cells["note"],
        )
        for row in read_csv(DATA / "circles.csv", COLUMNS)
    )


def circles_that_fit(ratio: float) -> int:
    """How many circles of radius r a circle of radius R = `ratio` × r holds, at most 20."""
    return max((packing.n for packing in packings() if packing.ratio <= ratio + 1e-9), default=0)
