"""The printed process tables: low-acid food under pressure, acid food in boiling water, acid food under pressure.

Root source: USDA Complete Guide to Home Canning (AIB 539), Guides 2-7, read on the pages that each row names.
Figures stay in the printed units. A pair of food and jar that is not here has no tested process.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from stillroom.model.process import Evidence, JarSize, ProcessRow
from stillroom.tables.csv_rows import DATA, CsvRow, grouped, read_csv
from stillroom.tables.no_process import NoProcess, no_process
from stillroom.tables.verifications import Verification, verifications

__all__ = ["NoProcess", "no_process", "rows", "rows_for"]

BOILING_WATER_MINUTES = ("min_0_1000ft", "min_1001_3000ft", "min_3001_6000ft", "min_above_6000ft")
DIAL_PSI = ("dial_psi_0_2000ft", "dial_psi_2001_4000ft", "dial_psi_4001_6000ft", "dial_psi_6001_8000ft")
WEIGHTED_PSI = ("weighted_psi_0_1000ft", "weighted_psi_above_1000ft")
_START = ("key", "food", "form", "pack", "jar")
_END = ("headspace_in", "acidification", "guide_table", "source", "url", "evidence", "note")
BOILING_WATER_COLUMNS = (*_START, *BOILING_WATER_MINUTES, *_END)
PRESSURE_COLUMNS = (*_START, "minutes", *DIAL_PSI, *WEIGHTED_PSI, *_END)
_NOT_RECOMMENDED = "not recommended"
_RECALLED = "recalled, not seen on a page: confirm before relying on it"


def _psi(row: CsvRow, column: str) -> int | None:
    return None if row.cells[column] in ("", _NOT_RECOMMENDED) else row.whole(column)


def _process_row(row: CsvRow, *, is_pressure: bool) -> ProcessRow:
    """One printed line; bands are in the order of the table."""
    if row.text("pack") not in ("raw", "hot"):
        raise row.broken("pack", "must be raw or hot")
    columns = ("minutes",) if is_pressure else BOILING_WATER_MINUTES
    return ProcessRow(
        key=row.text("key"),
        food=row.text("food"),
        form=row.text("form"),
        pack=row.text("pack"),
        jar=row.chosen("jar", JarSize),
        minutes=tuple(row.whole(column) for column in columns),
        dial_psi=tuple(_psi(row, column) for column in DIAL_PSI) if is_pressure else (),
        weighted_psi=tuple(_psi(row, column) for column in WEIGHTED_PSI) if is_pressure else (),
        headspace_in=row.number("headspace_in"),
        acidification=row.cells["acidification"],
        guide_table=row.text("guide_table"),
        source=row.text("source"),
        url=row.cells["url"],
        evidence=row.chosen("evidence", Evidence),
        note=row.cells["note"],
    )


def _printed() -> Iterator[ProcessRow]:
    for row in read_csv(DATA / "low_acid.csv", PRESSURE_COLUMNS):
        yield _process_row(row, is_pressure=True)
    for row in read_csv(DATA / "acid_boiling_water.csv", BOILING_WATER_COLUMNS):
        yield _process_row(row, is_pressure=False)
    for row in read_csv(DATA / "acid_pressure.csv", PRESSURE_COLUMNS):
        yield _process_row(row, is_pressure=True)


def _confirmed(row: ProcessRow, read: Verification) -> ProcessRow:
    """The row, no longer from memory: its figures were read on the page that the verification names."""
    kept = [part for part in row.note.split("; ") if part and part != _RECALLED]
    note = "; ".join([*kept, f"confirmed on the page named: {read.read}"])
    return replace(row, evidence=read.evidence, source=read.source, url=read.url, note=note)


@cache
def rows() -> tuple[ProcessRow, ...]:
    """Every printed line of the three tables, confirmations applied."""
    printed = tuple(_printed())
    confirmed = verifications(printed)
    return tuple(_confirmed(row, confirmed[row.key]) if row.key in confirmed else row for row in printed)


@cache
def _by_food() -> dict[str, tuple[ProcessRow, ...]]:
    return grouped((row.food, row) for row in rows())


def rows_for(process_food: str) -> tuple[ProcessRow, ...]:
    """The printed lines of one food of the process tables; () where there is none."""
    return _by_food().get(process_food, ())
