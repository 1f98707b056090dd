"""Reads one of our CSV tables; a broken cell is named by file, row and column."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from stillroom.errors import SourceError

Row = TypeVar("Row")
Word = TypeVar("Word", bound=StrEnum)
DATA = Path(__file__).parent / "data"


@dataclass(frozen=True, slots=True)
class CsvRow:
    """One line of a table, with the place it came from."""

    file: str
    line: int
    cells: dict[str, str]

    def text(self, column: str) -> str:
        """The cell, which may not be empty."""
        value = self.cells[column]
        if not value:
            raise self.broken(column, "is empty")
        return value

    def number(self, column: str) -> float:
        """The cell as a number."""
        value = self.text(column)
        try:
            return float(value)
        except ValueError:
            raise self.broken(column, f"“{value}” is not a number") from None

    def optional_number(self, column: str) -> float | None:
        """The cell as a number, None when empty."""
        return self.number(column) if self.cells[column] else None

    def whole(self, column: str) -> int:
        """The cell as a whole number."""
        value = self.text(column)
        if not value.isdecimal():
            raise self.broken(column, f"“{value}” is not a whole number")
        return int(value)

    def chosen(self, column: str, words: type[Word]) -> Word:
        """The cell as one of a set of words."""
        try:
            return words(self.text(column))
        except ValueError:
            allowed = ", ".join(word.value for word in words)
            raise self.broken(column, f"“{self.cells[column]}” is not one of {allowed}") from None

    def broken(self, column: str, problem: str) -> SourceError:
        """The error that names this cell."""
        return SourceError(f"{self.file}, row {self.line}, column {column}: {problem}.")


def read_csv(path: Path, columns: tuple[str, ...]) -> Iterator[CsvRow]:
    """The rows of `path`, whose header must be exactly `columns`."""
    with path.open(encoding="utf-8", newline="") as lines:
        reader = csv.reader(lines)
        header = tuple(next(reader, ()))
        if header != columns:
            wrong = ", ".join(sorted(set(header) ^ set(columns))) or "their order"
            raise SourceError(f"{path.name}, row 1: the columns are not as expected ({wrong}).")
        for cells in reader:
            if len(cells) != len(columns):
                raise SourceError(f"{path.name}, row {reader.line_num}: {len(cells)} cells, {len(columns)} expected.")
            yield CsvRow(path.name, reader.line_num, dict(zip(columns, cells, strict=True)))


def grouped(pairs: Iterable[tuple[str, Row]]) -> dict[str, tuple[Row, ...]]:
    """Rows gathered under their key, in the order of the table."""
    gathered: dict[str, list[Row]] = {}
    for key, row in pairs:
        gathered.setdefault(key, []).append(row)
    return {key: tuple(rows) for key, rows in gathered.items()}
