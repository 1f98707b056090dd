"""done.yaml: how long steps have really taken."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from stillroom.errors import FileError, FolderError
from stillroom.household.done_file import read_done
from stillroom.household.folder import read_folder
from stillroom.model.household import TimeTaken

DEMO = Path(__file__).parents[2] / "examples" / "demo"
LINE = "{recipe: pears_jarred, step: prepare, planned: 68, taken: 81, day: 2027-03-20}"


def read(text: str, tmp_path: Path) -> tuple[TimeTaken, ...]:
    path = tmp_path / "done.yaml"
    path.write_text(text, encoding="utf-8")
    return read_done(path)


def test_it_works(tmp_path: Path) -> None:
    assert read(f"times:\n  - {LINE}\n", tmp_path) == (TimeTaken("pears_jarred", "prepare", 68, 81, date(2027, 3, 20)),)


def test_times_that_make_no_sense_are_read_and_left_to_whoever_learns(tmp_path: Path) -> None:
    assert [
        time.taken_min for time in read(f"times: [{LINE.replace('81', '0')}, {LINE.replace('81', '-3')}]", tmp_path)
    ] == [
        0,
        -3,
    ]


def test_a_folder_may_have_it(tmp_path: Path) -> None:
    folder = tmp_path / "home"
    shutil.copytree(DEMO, folder)
    (folder / "done.yaml").unlink(missing_ok=True)
    assert read_folder(folder).times == ()
    (folder / "done.yaml").write_text(f"times: [{LINE}]", encoding="utf-8")
    assert len(read_folder(folder).times) == 1
    (folder / "done.yaml").write_text("times: 12", encoding="utf-8")
    with pytest.raises(FolderError, match=r"done\.yaml"):
        read_folder(folder)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("times:\n  - {recipe: a, step: b, planned: 0, taken: 5, day: 2027-03-20}", "times.1.planned"),
        ("times:\n  - {recipe: a, step: b, planned: 10, taken: long, day: 2027-03-20}", "times.1.taken"),
        ("times:\n  - {recipe: a, step: b, planned: 10, taken: .inf, day: 2027-03-20}", "times.1.taken"),
        ("times:\n  - {recipe: a, step: b, planned: 10, taken: 5, day: today}", "times.1.day"),
        ("times:\n  - {recipe: a, planned: 10, taken: 5, day: 2027-03-20}", "times.1.step"),
        ("times:\n  - {recipe: '', step: b, planned: 10, taken: 5, day: 2027-03-20}", "times.1.recipe"),
        ("done: []", "times"),
    ],
)
def test_what_is_wrong_is_said_with_its_line(text: str, place: str, tmp_path: Path) -> None:
    with pytest.raises(FileError) as found:
        read(text, tmp_path)
    assert place in str(found.value)
