"""A row of a table as it is read: each cell by a parser of the core, and what is wrong with it by row and column."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from enum import StrEnum
from typing import Any, TypeVar

from django.core.exceptions import ValidationError
from django.db import models

from stillroom.errors import InputError, StillroomError
from stillroom.papers.tables import Line

T = TypeVar("T")


class Complained(InputError):  # noqa: N818 - it is heard in one place only, and told by then
    """A cell is wrong, and that is told already."""


class Cells:
    """One row; `wrong` are sentences, each with row, column and what to do."""

    def __init__(self, line: Line) -> None:
        self._line = line
        self.wrong: list[str] = []

    def has(self, column: str) -> bool:
        """Whether the table has that column at all."""
        return column in self._line.cells

    def text(self, column: str) -> str:
        """What stands there; "" for nothing."""
        return self._line.cells.get(column, "")

    def needed(self, column: str, read: Callable[[str], T]) -> T | None:
        """What stands there, read; None after a complaint."""
        if not self.text(column):
            self.complain(column, "it must not be empty.")
            return None
        return self.maybe(column, read)

    def maybe(self, column: str, read: Callable[[str], T]) -> T | None:
        """As `needed`, but it may be empty."""
        if self.text(column):
            with self.about(column):
                return read(self.text(column))
        return None

    @contextmanager
    def strictly(self, column: str) -> Iterator[None]:
        """As `about`, but then it does not go on: Complained."""
        before = len(self.wrong)
        with self.about(column):
            yield
        if len(self.wrong) > before:
            raise Complained(self.wrong[-1])

    @contextmanager
    def about(self, column: str) -> Iterator[None]:
        """What is refused inside is told of that column."""
        try:
            yield
        except StillroomError as error:
            self.complain(column, str(error))

    def complain(self, column: str, sentence: str) -> None:
        """One more thing that is wrong."""
        self.wrong.append(f"Row {self._line.number}, column “{column}”: {sentence}")

    def check(self, row: models.Model) -> None:
        """Whether the row fits its table in the database, a name of a thousand letters say."""
        try:
            row.clean_fields(exclude=["household"])
        except ValidationError as error:
            for field, complaints in error.message_dict.items():
                self.complain(field.replace("_", " "), complaints[0])


def read_day(text: str) -> date:
    """A day like 2027-04-09: other ways of writing it mean another day elsewhere."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(f"“{text}” is no day that can be read: write it like 2027-04-09.") from None


def read_yes_no(text: str) -> bool:
    """yes or no."""
    if text.lower() not in ("yes", "no"):
        raise InputError(f"“{text}” can't be read: write yes or no.")
    return text.lower() == "yes"


def one_of(choices: tuple[Any, ...]) -> Callable[[str], Any]:
    """A reader of one of these words."""

    def read(text: str) -> StrEnum:
        for choice in choices:
            if text.lower() == choice.value:
                found: StrEnum = choice
                return found
        raise InputError(f"“{text}” is none of {', '.join(choice.value for choice in choices)}.")

    return read


def number_in(low: float, high: float) -> Callable[[str], float]:
    """A reader of a number within limits."""

    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if not low <= value <= high:
            raise InputError(f"“{text}” is no number from {low:g} to {high:g}; decimals follow a point.")
        return value

    return read


def count_to(most: int) -> Callable[[str], int]:
    """A reader of a whole number from 0."""

    def read(text: str) -> int:
        if not text.isascii() or not text.isdigit() or int(text[:9]) > most:
            raise InputError(f"“{text}” is no whole number from 0 to {most}.")
        return int(text)

    return read
