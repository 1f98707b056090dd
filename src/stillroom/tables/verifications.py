"""Rows recalled from memory whose figures were later read on a published page and agree.

The file may be missing or empty: then every row keeps the evidence it was typed with. What was read has to say every
minute of the row, so that a page with other figures can never confirm it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.model.process import Evidence, ProcessRow
from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = ("table", "food", "form", "pack", "jar", "evidence", "url", "source", "read")


@dataclass(frozen=True, slots=True)
class Verification:
    """What was read, where; `read` says the figures in the words of the page."""

    evidence: Evidence
    url: str
    source: str
    read: str


def verifications(printed: Iterable[ProcessRow]) -> dict[str, Verification]:
    """Confirmations by row key. A line that names no printed row, or confirms nothing, is an error of ours."""
    path = DATA / "verifications.csv"
    if not path.exists():
        return {}
    lines: dict[tuple[str, ...], list[ProcessRow]] = {}
    for row in printed:
        lines.setdefault((row.key.partition(":")[0], row.food, row.form, row.pack, row.jar.value), []).append(row)
    confirmed: dict[str, Verification] = {}
    for cell_row in read_csv(path, COLUMNS):
        named = lines.get(tuple(cell_row.cells[column] for column in COLUMNS[:5]))
        if named is None:
            raise cell_row.broken("food", "names no row of the process tables")
        evidence = cell_row.chosen("evidence", Evidence)
        if evidence is Evidence.MEMORY:
            raise cell_row.broken("evidence", "memory confirms nothing")
        read = Verification(evidence, cell_row.cells["url"], cell_row.text("source"), cell_row.text("read"))
        figures = set(re.findall(r"\d+", read.read))
        for row in (row for row in named if row.evidence is Evidence.MEMORY):
            if not {str(minutes) for minutes in row.minutes} <= figures:
                raise cell_row.broken("read", f"does not say the minutes of {row.key}: {row.minutes}")
            confirmed[row.key] = read
    return confirmed
