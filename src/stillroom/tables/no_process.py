"""Foods and preparations that have no tested home process: never a jar for the shelf."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("foods", "preparation", "reason", "instead", "methods", "source", "url", "evidence", "note")


@dataclass(frozen=True, slots=True)
class NoProcess:
    """Why these foods, prepared so, may not stand on a shelf, and what to do instead.

    `preparation` "" means the food however prepared. `methods` is "all", or "boiling water" where a pressure process
    exists and only the boiling-water (and steam) one is missing.
    """

    foods: tuple[str, ...]  # vocabulary keys, or process foods
    preparation: str
    reason: str
    instead: str
    methods: str
    source: str
    url: str
    evidence: str
    note: str


@cache
def no_process() -> tuple[NoProcess, ...]:
    """All entries."""
    return tuple(
        NoProcess(
            foods=tuple(row.text("foods").split("; ")),
            preparation=row.cells["preparation"],
            reason=row.text("reason"),
            instead=row.text("instead"),
            methods=row.text("methods"),
            source=row.text("source"),
            url=row.cells["url"],
            evidence=row.text("evidence"),
            note=row.cells["note"],
        )
        for row in read_csv(DATA / "no_process.csv", COLUMNS)
    )
