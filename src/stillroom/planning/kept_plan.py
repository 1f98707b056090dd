"""A plan as it is kept: text with a version, read back into the very dataclasses it was made of."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from pydantic import BaseModel, ConfigDict, TypeAdapter, ValidationError

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.model.wish import Wish
from stillroom.planning.pipeline import WorkedOut

VERSION = 1  # rises when a plan of before could be misread


class KeptPlan(BaseModel):
    """What was worked out, and the household it was worked out for.

    `numbers` are the tasks in the order of the plan as it was first printed, once it was moved.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", ser_json_inf_nan="strings")

    version: int = VERSION
    folder: Folder
    worked_out: WorkedOut
    wishes: tuple[Wish, ...] = ()
    numbers: tuple[str, ...] = ()

    @property
    def numbered(self) -> tuple[str, ...]:
        """Keys of all tasks in the order of their numbers, which begin with 1."""
        return self.numbers or tuple(task.key for task in self.worked_out.plan.tasks)

    def as_text(self) -> str:
        """JSON, without the place where the folder was read."""
        return self.model_copy(update={"folder": replace(self.folder, path=Path())}).model_dump_json()


def fingerprint(folder: Folder, wishes: Sequence[Wish] = ()) -> str:
    """The same for the same household with the same wishes, 64 characters."""
    text = TypeAdapter(Folder).dump_json(replace(folder, path=Path()))
    return hashlib.sha256(text + TypeAdapter(tuple[Wish, ...]).dump_json(tuple(wishes))).hexdigest()


@lru_cache(maxsize=4)  # every page of the day reads the same text
def read_plan(text: str) -> KeptPlan:
    """The plan; InputError when another version of the program wrote it."""
    try:
        kept = KeptPlan.model_validate_json(text)
    except ValidationError:
        kept = None
    if kept is None or kept.version != VERSION:
        raise InputError("This plan was made by another version of the program: plan again.")
    return kept


def read_plan_file(path: Path) -> KeptPlan:
    """The plan kept in a file; InputError when there is none."""
    try:
        return read_plan(path.read_text(encoding="utf-8"))
    except UnicodeDecodeError:
        raise InputError(f"{path} holds no plan: name a file that “stillroom plan --keep” wrote.") from None
    except OSError as error:
        raise InputError(f"{path} can't be read: {error.strerror}.") from None


def write_plan_file(path: Path, kept: KeptPlan) -> None:
    """The plan into a file, whole or not at all."""
    half = path.with_name(path.name + ".part")
    try:
        half.write_text(kept.as_text(), encoding="utf-8")
        half.replace(path)
    except OSError as error:
        raise InputError(f"{path} can't be written: {error.strerror}.") from None
