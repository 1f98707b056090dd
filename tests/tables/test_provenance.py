"""Every row of every table says where it comes from and how it was seen; nothing heavy is loaded for it."""

from __future__ import annotations

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from stillroom.tables.csv_rows import DATA

TABLES = sorted(DATA.glob("*.csv"))
SEEN_HOW = (
    *("two_pages", "page", "memory", "seen", "derived", "computed", "arithmetic", "general", "doubtful"),
    *("figure seen", "common practice"),
)


def lines(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_every_row_has_source_and_evidence(path: Path) -> None:
    rows = lines(path)
    assert rows
    for row in rows:
        assert row["source"].strip(), row
        assert row["evidence"].startswith(SEEN_HOW), row["evidence"]


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_no_row_is_there_twice_and_no_cell_has_loose_ends(path: Path) -> None:
    rows = [tuple(row.values()) for row in lines(path)]
    assert len(set(rows)) == len(rows)
    for row in rows:
        assert all(cell == cell.strip() and "\n" not in cell for cell in row), row


def test_urls_are_web_addresses() -> None:
    for path in TABLES:
        for row in lines(path):
            for url in filter(None, row.get("url", "").split(" ; ")):
                assert url.startswith(("http://", "https://")) or url == "—", (path.name, url)


def test_a_small_command_loads_no_heavy_library() -> None:
    """Process tables and vocabulary come with the standard library alone."""
    code = (
        "import sys; from stillroom.tables import processes, vocabulary;"
        "processes.rows(); vocabulary.hear('courgettes');"
        "print(sorted({'pydantic', 'yaml', 'numpy', 'ortools', 'typer', 'rich', 'difflib'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
