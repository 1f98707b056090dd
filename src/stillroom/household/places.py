"""Turns a complaint about a value into a complaint about the line that holds it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from stillroom.errors import InputError
from stillroom.yaml_files import error_at


@contextmanager
def at(path: Path, *loc: int | str) -> Iterator[None]:
    """An InputError raised inside names file, line and field `loc` instead."""
    try:
        yield
    except InputError as error:
        raise error_at(path, loc, str(error)) from None
