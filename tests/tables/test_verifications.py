"""A row from memory becomes tested only by a line that names it and the page where its figures were read."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from stillroom.errors import SourceError
from stillroom.model.process import Evidence, ProcessRow
from stillroom.tables import processes, verifications

HEADER = ",".join(verifications.COLUMNS)
PINEAPPLE_COPY = "acid_boiling_water,pineapple,slices or cubes,hot,pint"


@pytest.fixture
def written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty folder in place of the data of the confirmations; the tables themselves stay ours."""
    monkeypatch.setattr(verifications, "DATA", tmp_path)
    processes.rows.cache_clear()
    processes._by_food.cache_clear()
    yield tmp_path / "verifications.csv"
    processes.rows.cache_clear()
    processes._by_food.cache_clear()


def recalled() -> ProcessRow:
    return next(row for row in processes.rows() if row.evidence is Evidence.MEMORY and "recalled" in row.note)


def line(row: ProcessRow, evidence: str = "page") -> str:
    start = row.key.partition(":")[0]
    read = "/".join(map(str, row.minutes))
    return f'{start},{row.food},"{row.form}",{row.pack},{row.jar},{evidence},http://x.example/,A page,{read}'


def test_without_the_file_memory_stays_memory(written: Path) -> None:
    """77 + 2 + 10 lines are marked memory in the raw tables, 2 of them without a jar."""
    assert not written.exists()
    assert sum(row.evidence is Evidence.MEMORY for row in processes.rows()) == 87


def test_a_confirmed_row_carries_the_page(written: Path) -> None:
    before = recalled()
    written.write_text(f"{HEADER}\n{line(before)}\n")
    processes.rows.cache_clear()
    after = next(row for row in processes.rows() if row.key == before.key)
    assert (after.evidence, after.source, after.url) == (Evidence.PAGE, "A page", "http://x.example/")
    assert (after.minutes, after.headspace_in) == (before.minutes, before.headspace_in)
    assert "confirm before relying on it" not in after.note
    assert after.note.endswith("confirmed on the page named: " + "/".join(map(str, before.minutes)))


def test_a_row_read_before_keeps_its_source(written: Path) -> None:
    before = next(row for row in processes.rows() if row.evidence is Evidence.TWO_PAGES)
    written.write_text(f"{HEADER}\n{line(before)}\n")
    processes.rows.cache_clear()
    assert next(row for row in processes.rows() if row.key == before.key) == before


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("low_acid,beets,mashed,raw,quart,page,,p,r", "row 2, column food: names no row of the process tables"),
        (f"{PINEAPPLE_COPY},memory,,p,r", "row 2, column evidence: memory confirms nothing"),
        (f"{PINEAPPLE_COPY},seen,,p,r", "column evidence: “seen” is not one of two_pages, page, memory"),
        (f"{PINEAPPLE_COPY},page,,p,", "row 2, column read: is empty"),
    ],
)
def test_a_line_that_confirms_nothing_is_an_error_of_ours(written: Path, text: str, message: str) -> None:
    written.write_text(f"{HEADER}\n{text}\n")
    processes.rows.cache_clear()
    with pytest.raises(SourceError) as told:
        processes.rows()
    assert message in str(told.value)


def test_a_page_with_other_figures_confirms_nothing(written: Path) -> None:
    before = recalled()
    written.write_text(f"{HEADER}\n{line(before).rpartition(',')[0]},5/10/15\n")
    processes.rows.cache_clear()
    with pytest.raises(SourceError, match=r"verifications\.csv, row 2, column read: does not say the minutes of"):
        processes.rows()


def test_our_confirmations_say_the_bands_in_order() -> None:
    """Figures like 15/20/25 (three printed bands) or 15/20/20/25, or each with its altitude."""
    printed = {row.key: row for row in processes._printed()}
    for row in processes.rows():
        if "confirmed on the page named: " in row.note and len(row.minutes) == 4:
            assert printed[row.key].evidence is Evidence.MEMORY
            said = row.note.partition("confirmed on the page named: ")[2]
            sea, low, middle, high = row.minutes
            forms = ["/".join(map(str, row.minutes))]
            forms += [f"{sea}/{low}/{high}", f"{sea} at 0-1,000 ft, {low} at 1,001-6,000 ft, {high} above"] * (
                low == middle
            )
            assert any(form in said for form in forms), row.key


def test_a_broken_pack_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = processes.DATA
    for name in ("acid_boiling_water.csv", "acid_pressure.csv"):
        (tmp_path / name).write_bytes((real / name).read_bytes())
    text = (real / "low_acid.csv").read_text(encoding="utf-8").replace(",raw,pint,", ",cold,pint,", 1)
    (tmp_path / "low_acid.csv").write_text(text, encoding="utf-8")
    monkeypatch.setattr(processes, "DATA", tmp_path)
    with pytest.raises(SourceError, match=r"low_acid\.csv, row 2, column pack: must be raw or hot"):
        processes.rows.__wrapped__()
