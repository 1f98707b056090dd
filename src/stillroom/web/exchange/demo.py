"""The demo household: a folder that comes with the program, invented and marked as invented."""

from __future__ import annotations

from pathlib import Path

from stillroom.errors import SourceError
from stillroom.web.exchange.import_folder import import_folder
from stillroom.web.kitchen.models import Household


def demo_folder() -> Path:
    """Beside the pages in an installed program, in `examples/` of a working copy."""
    web = Path(__file__).parents[1]
    for folder in (web / "demo", web.parents[2] / "examples" / "demo"):
        if folder.is_dir():
            return folder
    raise SourceError("The demo household is missing from this installation.")


def open_demo() -> Household:
    """The demo household anew, on the first day of its week."""
    return import_folder(demo_folder())
