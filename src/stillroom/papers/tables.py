"""Lists for a spreadsheet and from one: comma-separated values (RFC 4180).

What is written can be opened without running anything; what is read may have a byte order mark, semicolons or tabs.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from stillroom.errors import InputError

# A spreadsheet takes a cell that begins so for a formula and runs it.
# Source: OWASP, "CSV Injection": put a single quote before such a cell.
RISKY = ("=", "+", "-", "@", "\t", "\r")
GUARD = "'"
MARK = "\ufeff"  # byte order mark: without it common spreadsheets don't take UTF-8 for UTF-8


MOST_ROWS = 1000
_SEPARATORS = ",;\t"


@dataclass(frozen=True, slots=True)
class Line:
    """A row as a spreadsheet counts it (the header is row 1), by the names of the columns."""

    number: int
    cells: Mapping[str, str]


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A header and rows with CRLF at the end of each (RFC 4180); None is an empty cell, a formula is made plain text.

    Numbers are numbers, also below zero; what somebody typed is text and is guarded.
    """
    file = io.StringIO()
    file.write(MARK)
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_cell(value) for value in row])
    return file.getvalue()


def unguarded(cell: str) -> str:
    """The cell as it was before `csv_text` made it safe."""
    return cell[1:] if cell.startswith(GUARD) and cell[1:].startswith((*RISKY, GUARD)) else cell


def _cell(value: object) -> object:
    if value is None:
        return ""
    if isinstance(value, str) and value.startswith((*RISKY, GUARD)):
        return GUARD + value
    return value


def read_csv_text(data: bytes) -> tuple[tuple[str, ...], tuple[Line, ...]]:
    """Columns (small letters, no underscores) and rows, blank ones left out; InputError when it is no such table."""
    text = _decoded(data)
    separator = max(_SEPARATORS, key=text.partition("\n")[0].count)
    try:
        records = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise InputError(f"This file can't be read as a table ({error}): save it anew as CSV.") from None
    columns = tuple(" ".join(name.replace("_", " ").split()).lower() for name in (records[0] if records else ()))
    if not any(columns):
        raise InputError("This file is empty: its first row names the columns.")
    for place, name in enumerate(columns):
        if name and name in columns[:place]:
            raise InputError(f"Row 1 names the column “{name}” twice: take one of them out.")
    lines = tuple(
        Line(number, _cells(columns, record, number))
        for number, record in enumerate(records[1:], start=2)
        if any(cell.strip() for cell in record)
    )
    if len(lines) > MOST_ROWS:
        raise InputError(f"This file has {len(lines)} rows: read in {MOST_ROWS} at a time.")
    return columns, lines


def _decoded(data: bytes) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        raise InputError("This file is no text in UTF-8: in the spreadsheet choose “CSV UTF-8” when you save it.")
    return text


def _cells(columns: Sequence[str], record: Sequence[str], number: int) -> dict[str, str]:
    if len(record) > len(columns) and any(cell.strip() for cell in record[len(columns) :]):
        raise InputError(
            f"Row {number} has more cells than row 1 has columns: a cell with a comma in it stands in double quotes."
        )
    return {name: unguarded(cell.strip()) for name, cell in zip(columns, record, strict=False) if name}
