"""Errors of files that people write name file, line and field."""

from datetime import date, time
from pathlib import Path

import pytest

from stillroom.errors import FileError
from stillroom.yaml_files import Written, parse_yaml, read_yaml

HERE = Path("kitchen.yaml")


class Pot(Written):
    name: str
    litres: float
    day: date | None = None
    at: time | None = None
    is_big: bool = False


class Shelf(Written):
    pots: tuple[Pot, ...]


def test_it_works() -> None:
    text = "pots:\n- {name: no, litres: 5, at: '18:30', day: 2026-04-11, is_big: true}\n"
    assert parse_yaml(text, Shelf, HERE).pots == (
        Pot(name="no", litres=5.0, at=time(18, 30), day=date(2026, 4, 11), is_big=True),
    )


@pytest.mark.parametrize(
    ("text", "line", "field"),
    [
        ("pots:\n- name: a\n  litres: 5\n- name: b\n  litres: five\n", 5, "pots.2.litres"),
        ("pots:\n- name: a\n", 2, "pots.1.litres"),
        ("pots:\n- name: a\n  litres: 5\n  colour: red\n", 4, "pots.1.colour"),
        ("pots: [\n", 2, ""),
        ("pots: []\npots: []\n", 2, "pots"),
        ("? [a]\n: 1\n", 1, ""),
        ("", 1, ""),
        ("pots: []\n# \x1f\n", 2, ""),
        ("pots: &a\n- *a\n", 1, ""),
        ("pots:\n- {name: a, litres: inf}\n", 2, "pots.1.litres"),
    ],
)
def test_an_error_names_line_and_field(text: str, line: int, field: str) -> None:
    with pytest.raises(FileError) as caught:
        parse_yaml(text, Shelf, HERE)
    assert (caught.value.line, caught.value.field) == (line, field)
    assert str(caught.value).startswith("kitchen.yaml, line")


def test_a_missing_file_a_folder_and_other_bytes_are_told(tmp_path: Path) -> None:
    (tmp_path / "latin.yaml").write_bytes(b"name: caf\xe9")
    places = [
        ("none.yaml", "no such file"),
        (".", "folder"),
        ("latin.yaml", "UTF-8"),
        ("latin.yaml/a", "can't be read"),
    ]
    for name, words in places:
        with pytest.raises(FileError, match=words):
            read_yaml(tmp_path / name, Shelf)


def test_a_bottomless_file_is_told() -> None:
    with pytest.raises(FileError, match="nest"):
        parse_yaml("[" * 10_000, Shelf, HERE)
