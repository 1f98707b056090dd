"""Reads the check values of data/: facts with their source and evidence, from print or computed outside our code."""

from __future__ import annotations

import csv
from collections.abc import Container
from dataclasses import dataclass
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Row:
    """One check value; `inputs` by name, without their units."""

    id: str
    group: str
    description: str
    inputs: dict[str, str]
    series: str
    value: str
    tolerance: str
    evidence: str
    note: str

    def number(self, name: str) -> float:
        """An input as a number; a unit after it is dropped."""
        return float(self.inputs[name].split()[0])

    @property
    def values(self) -> list[float]:
        """The values to meet."""
        return [float(part) for part in self.value.split(";")]

    @property
    def is_numeric(self) -> bool:
        """A value with a numeric tolerance, seen or computed, not marked as wrong."""
        marked = any(mark in self.note for mark in ("MISPRINT", "BAD PUBLISHED"))
        return bool(self.value) and self.tolerance[:1].isdigit() and self.evidence != "memory" and not marked


@cache
def rows(topic: str) -> tuple[Row, ...]:
    """All rows of one topic."""
    with (DATA / f"{topic}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            Row(
                cells["id"],
                cells["group"],
                cells["description"],
                dict(part.strip().split("=", 1) for part in cells["inputs"].split(";") if "=" in part),
                cells["series"],
                cells["value"],
                cells["tolerance"],
                cells["evidence"],
                cells["note"],
            )
            for cells in csv.DictReader(file)
        )


def group(topic: str, *names: str, skip: Container[str] = ()) -> list[Row]:
    """Rows of some groups that are numeric tests, but for those that the caller skips by id with a reason."""
    return [row for row in rows(topic) if row.group in names and row.is_numeric and row.id not in skip]


def row(topic: str, row_id: str) -> Row:
    """One row by its id."""
    return next(row for row in rows(topic) if row.id == row_id)


def untested(topic: str, groups: set[str], ids: set[str]) -> set[str]:
    """Numeric rows that neither a tested group nor a list of ids names."""
    return {row.id for row in rows(topic) if row.is_numeric and row.group not in groups and row.id not in ids}
