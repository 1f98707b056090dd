"""What a food needs before it is packed, from the notes to the published processes, in our words."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from stillroom.model.process import ProcessRow

PREPARATION_CSV = Path(__file__).with_name("data") / "preparation.csv"


@dataclass(frozen=True, slots=True)
class Preparation:
    """One line; empty `form_part` or `pack` fits every form or pack of the food."""

    food: str  # process food
    form_part: str
    pack: str
    text: str
    source: str


@cache
def preparations() -> tuple[Preparation, ...]:
    """The whole table."""
    with PREPARATION_CSV.open(encoding="utf-8", newline="") as file:
        return tuple(
            Preparation(line["food"], line["form_part"], line["pack"], line["text"], line["source"])
            for line in csv.DictReader(file)
        )


def before_packing(row: ProcessRow) -> str:
    """One sentence or two on what happens before the jar is filled."""
    for line in preparations():
        if line.food == row.food and line.form_part in row.form and line.pack in ("", row.pack):
            return f"{line.text} ({line.source})"
    how = "Cook it as its tested recipe says and fill it hot" if row.pack == "hot" else "Pack it raw as its recipe says"
    return f"{how}: {row.form}. Acid, sugar and proportions of that recipe belong to the process."
