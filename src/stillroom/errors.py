"""Everything that can go wrong, and who is told.

StillroomError
   ├── InputError           what a person wrote can't be read: what, where, what to do (exit 2)
   │   ├── UnknownFood      no such food; carries the nearest known names
   │   ├── UnreadableAmount an amount the strict parser refuses
   │   ├── FileError        a file of theirs: names file, line and field
   │   └── FolderError      several of their files are wrong: the first FileError of each
   ├── Refusal              we will not answer for safety; one sentence for the cook (exit 3)
   │   └── OutsideTable     beyond the printed rows; we never extrapolate
   └── SourceError          one of our own tables or recipes is broken: fail at start-up

That no tested process exists is an answer, not an accident: see `model.process.ProcessRefusal`.
"""

from __future__ import annotations

from pathlib import Path


class StillroomError(Exception):
    """The root: everything here is shown to a person as one sentence."""


class InputError(StillroomError):
    """What a person wrote can't be read; the message says what, where and what to do."""


class UnknownFood(InputError):  # noqa: N818 - named as the cook would say it
    """No food of that name in the vocabulary."""

    def __init__(self, heard: str, nearest: tuple[str, ...]) -> None:
        self.heard = heard
        self.nearest = nearest
        hint = f" The nearest known names are: {', '.join(nearest)}." if nearest else ""
        super().__init__(f"No food called “{heard}” is known here.{hint}")


class UnreadableAmount(InputError):  # noqa: N818 - named as the cook would say it
    """An amount that the strict parser refuses, with what it would accept."""


class FileError(InputError):
    """A file that a person wrote is wrong at one place."""

    def __init__(self, path: Path, line: int | None, field: str, problem: str) -> None:
        self.path = path
        self.line = line
        self.field = field
        self.problem = problem
        place = f"{path}" + (f", line {line}" if line is not None else "")
        super().__init__(f"{place}: {field + ': ' if field else ''}{problem}")


class FolderError(InputError):
    """Files of one folder that are wrong: the first FileError of each, a line for each."""

    def __init__(self, errors: tuple[FileError, ...]) -> None:
        self.errors = errors
        super().__init__("\n".join(str(error) for error in errors))


class Refusal(StillroomError):  # noqa: N818 - a refusal is not an error of ours
    """We will not answer for safety; the message is one sentence for the cook."""


class OutsideTable(Refusal):
    """Beyond the printed rows: we never extrapolate."""


class SourceError(StillroomError):
    """One of our own tables or recipes is broken."""
