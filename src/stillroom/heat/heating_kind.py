"""How a pack heats: as a solid, as a stirred liquid, or somewhere between.

A judgement, not a measurement, where the table says so: loose pieces in thin liquid let the liquid turn over, dense
packs heat as a solid does. What is not listed is between, and then the model's band spans both.
"""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from pathlib import Path

from stillroom.tables.csv_rows import read_csv

COLUMNS = ("food", "form", "pack", "heats", "because", "source")
ANY = "*"


class HeatingKind(StrEnum):
    """How heat reaches the cold spot."""

    CONDUCTION = "conduction"
    CONVECTION = "convection"
    BETWEEN = "between"


@cache
def listed() -> dict[tuple[str, str, str], tuple[HeatingKind, str]]:
    """Kind and reason by process food, form and pack; "*" stands for any."""
    return {
        (row.text("food"), row.text("form"), row.text("pack")): (row.chosen("heats", HeatingKind), row.text("because"))
        for row in read_csv(Path(__file__).parent / "data" / "heating.csv", COLUMNS)
    }


def heating_kind(food: str, form: str, pack: str) -> tuple[HeatingKind, str]:
    """Kind and reason; the most exact line counts, and no line means between."""
    for key in ((food, form, pack), (food, form, ANY), (food, ANY, pack), (food, ANY, ANY)):
        if key in listed():
            return listed()[key]
    return HeatingKind.BETWEEN, "which of the two is not known, so the band spans both"
