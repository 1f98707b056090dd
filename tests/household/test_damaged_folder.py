"""Whatever a slip of the hand does to a file, it is read or answered with file and line; it never crashes."""

import shutil
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import FolderError
from stillroom.household.folder import read_folder, warnings

DEMO = Path(__file__).parents[2] / "examples" / "demo"
FILES = sorted(file.name for file in DEMO.glob("*.yaml"))
SLIPS = (
    "",
    "no",
    "[]",
    "{}",
    "0",
    "-1",
    "1e9",
    "2027-13-40",
    "∞ kg",
    "1/0 kg",
    "'",
    "\t",
    "24:00-25:00",
    "~",
    "&a",
    "*a",
)


def damaged(line: str, how: str, slip: str) -> list[str]:
    """The line as it is after a slip of the hand."""
    if how == "lost":
        return []
    if how == "twice":
        return [line, line]
    if how == "moved in":
        return ["  " + line]
    key, colon, _ = line.partition(":")
    return [f"{key}{colon} {slip}"]


@settings(max_examples=60, deadline=None)
@given(
    file=st.sampled_from(FILES),
    at=st.integers(0, 10_000),
    how=st.sampled_from(["lost", "twice", "moved in", "other value"]),
    slip=st.one_of(st.sampled_from(SLIPS), st.text(max_size=8).filter(lambda text: "\n" not in text)),
)
def test_a_damaged_file_is_read_or_named(file: str, at: int, how: str, slip: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "house"
        shutil.copytree(DEMO, path)
        lines = (path / file).read_text(encoding="utf-8").splitlines()
        place = at % len(lines)
        lines[place : place + 1] = damaged(lines[place], how, slip)
        (path / file).write_text("\n".join(lines) + "\n", encoding="utf-8", errors="replace")
        try:
            warnings(read_folder(path))
        except FolderError as error:
            assert error.errors
            assert all(len(str(one)) < 1000 for one in error.errors)
            if file != "household.yaml":  # its start date is what the other files are checked against
                assert {one.path.name for one in error.errors} == {file}
