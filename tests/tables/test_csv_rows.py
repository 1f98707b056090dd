"""A broken table is an error of ours and is named by file, row and column."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

import pytest

from stillroom.errors import SourceError
from stillroom.tables.csv_rows import CsvRow, grouped, read_csv


class Colour(StrEnum):
    RED = "red"
    BLUE = "blue"


ROW = CsvRow("fruit.csv", 7, {"name": "apple", "grams": "1.5", "count": "3", "empty": "", "colour": "green"})


def test_cells_are_read_as_what_they_are() -> None:
    assert ROW.text("name") == "apple"
    assert ROW.number("grams") == 1.5
    assert ROW.optional_number("grams") == 1.5
    assert ROW.optional_number("empty") is None
    assert ROW.whole("count") == 3
    assert CsvRow("f", 1, {"colour": "red"}).chosen("colour", Colour) is Colour.RED


@pytest.mark.parametrize(
    ("read", "message"),
    [
        (lambda: ROW.text("empty"), "fruit.csv, row 7, column empty: is empty."),
        (lambda: ROW.number("name"), "fruit.csv, row 7, column name: “apple” is not a number."),
        (lambda: ROW.whole("grams"), "fruit.csv, row 7, column grams: “1.5” is not a whole number."),
        (lambda: ROW.chosen("colour", Colour), "column colour: “green” is not one of red, blue."),
    ],
)
def test_a_broken_cell_is_named(read, message: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(SourceError) as told:
        read()
    assert message in str(told.value)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "fruit.csv, row 1: the columns are not as expected (grams, name)."),
        ("name,mass\n", "fruit.csv, row 1: the columns are not as expected (grams, mass)."),
        ("grams,name\n", "fruit.csv, row 1: the columns are not as expected (their order)."),
        ("name,grams\napple,1\npear\n", "fruit.csv, row 3: 1 cells, 2 expected."),
    ],
)
def test_a_broken_table_is_named(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "fruit.csv"
    path.write_text(text)
    with pytest.raises(SourceError) as told:
        list(read_csv(path, ("name", "grams")))
    assert str(told.value) == message


def test_rows_keep_the_order_of_the_table(tmp_path: Path) -> None:
    path = tmp_path / "fruit.csv"
    path.write_text('name,grams\n"apple, dried",1\npear,2\n')
    rows = list(read_csv(path, ("name", "grams")))
    assert [(row.line, row.cells) for row in rows] == [
        (2, {"name": "apple, dried", "grams": "1"}),
        (3, {"name": "pear", "grams": "2"}),
    ]


def test_rows_are_gathered_under_their_key() -> None:
    assert grouped([("a", 1), ("b", 2), ("a", 3)]) == {"a": (1, 3), "b": (2,)}
