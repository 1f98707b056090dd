"""Blanching, headspace and what freezes badly. Blanching times are for quality, not for safety.

Where lists differ by a minute the row notes it; rows whose evidence is memory were not found on a page.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, grouped, read_csv

BLANCHING_COLUMNS = ("food", "piece", "method", "min_minutes", "max_minutes", "source", "url", "evidence", "note")
HEADSPACE_COLUMNS = ("pack", "mouth", "container", "headspace_in", "rule", "source", "url", "evidence")
BADLY_COLUMNS = ("foods", "preparation", "effect", "instead", "rule", "source", "url", "evidence")


@dataclass(frozen=True, slots=True)
class Blanching:
    """Minutes for one size of piece; None minutes: cook until soft. `method` “none” with 0: freeze raw."""

    food: str
    piece: str
    method: str
    min_minutes: float | None
    max_minutes: float | None
    source: str
    url: str
    evidence: str
    note: str


@dataclass(frozen=True, slots=True)
class FreezerHeadspace:
    """Space to leave [in] in a freezer container, by pack and width of its mouth."""

    pack: str  # "liquid", "dry" or "juice"
    mouth: str  # "wide" or "narrow"
    container: str  # "pint" or "quart"
    headspace_in: float
    source: str
    url: str
    evidence: str


@dataclass(frozen=True, slots=True)
class FreezesBadly:
    """Foods, in a preparation, that the freezer spoils: what happens and what to do instead."""

    foods: tuple[str, ...]
    preparation: str
    effect: str
    instead: str
    source: str
    url: str
    evidence: str


@cache
def _blanching() -> dict[str, tuple[Blanching, ...]]:
    return grouped(
        (
            row.text("food"),
            Blanching(
                row.text("food"),
                row.text("piece"),
                row.text("method"),
                row.optional_number("min_minutes"),
                row.optional_number("max_minutes"),
                row.text("source"),
                row.cells["url"],
                row.text("evidence"),
                row.cells["note"],
            ),
        )
        for row in read_csv(DATA / "blanching.csv", BLANCHING_COLUMNS)
    )


def blanching(food_key: str) -> tuple[Blanching, ...]:
    """The blanching times of one food by piece; () where none is published."""
    return _blanching().get(food_key, ())


@cache
def headspaces() -> tuple[FreezerHeadspace, ...]:
    """Headspace in freezer containers."""
    return tuple(
        FreezerHeadspace(
            row.text("pack"),
            row.text("mouth"),
            row.text("container"),
            row.number("headspace_in"),
            row.text("source"),
            row.text("url"),
            row.text("evidence"),
        )
        for row in read_csv(DATA / "freezer_headspace.csv", HEADSPACE_COLUMNS)
    )


@cache
def freezes_badly() -> tuple[FreezesBadly, ...]:
    """What not to freeze."""
    return tuple(
        FreezesBadly(
            tuple(row.text("foods").split("; ")),
            row.text("preparation"),
            row.text("effect"),
            row.text("instead"),
            row.text("source"),
            row.text("url"),
            row.text("evidence"),
        )
        for row in read_csv(DATA / "freezes_badly.csv", BADLY_COLUMNS)
    )
