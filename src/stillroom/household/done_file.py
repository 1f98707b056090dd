"""done.yaml: how long steps of recipes have really taken."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

from pydantic import Field

from stillroom.model.household import TimeTaken
from stillroom.yaml_files import Written, read_yaml


class TimeLines(Written):
    """One time as it is written; `planned` are the minutes that the recipe gives for that batch."""

    recipe: Annotated[str, Field(min_length=1)]
    step: Annotated[str, Field(min_length=1)]
    planned: Annotated[float, Field(gt=0, le=10_000)]
    taken: float
    day: date


class DoneFile(Written):
    """The file as it is written."""

    times: tuple[TimeLines, ...]


def read_done(path: Path) -> tuple[TimeTaken, ...]:
    """The times in the file; FileError with line and field when it is wrong.

    That a time makes no sense (none at all, a timer forgotten overnight) is no error: whoever learns from it sees.
    """
    return tuple(
        TimeTaken(line.recipe, line.step, line.planned, line.taken, line.day)
        for line in read_yaml(path, DoneFile).times
    )
