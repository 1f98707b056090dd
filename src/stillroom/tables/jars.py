"""Nominal jar sizes with their outside dimensions. Makers differ by half an inch: measure the jar where it matters."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom import units
from stillroom.model.process import JarSize
from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = (
    *("size", "name", "fluid_ounces", "min_height_in", "max_height_in", "min_diameter_in", "max_diameter_in"),
    *("source", "url", "evidence", "note"),
)


@dataclass(frozen=True, slots=True)
class Jar:
    """A jar by its trade name; `size` where processes were tested in it. Dimensions are outside, as printed [in]."""

    name: str
    size: JarSize | None
    fluid_ounces: float
    min_height_in: float
    max_height_in: float
    min_diameter_in: float
    max_diameter_in: float
    source: str
    url: str
    evidence: str
    note: str

    @property
    def volume_ml(self) -> float:
        """Nominal volume [ml]."""
        return self.fluid_ounces * units.ML_PER_FLUID_OUNCE

    @property
    def diameter_mm(self) -> float:
        """Outside diameter to plan with [mm]: the widest printed, so that no more jars are promised than fit."""
        return self.max_diameter_in * units.MM_PER_IN

    @property
    def height_mm(self) -> float:
        """Height to plan with [mm]: the tallest printed."""
        return self.max_height_in * units.MM_PER_IN


@cache
def jars() -> tuple[Jar, ...]:
    """Smallest first."""
    return tuple(
        Jar(
            name=row.text("name"),
            size=row.chosen("size", JarSize) if row.cells["size"] else None,
            fluid_ounces=row.number("fluid_ounces"),
            min_height_in=row.number("min_height_in"),
            max_height_in=row.number("max_height_in"),
            min_diameter_in=row.number("min_diameter_in"),
            max_diameter_in=row.number("max_diameter_in"),
            source=row.text("source"),
            url=row.text("url"),
            evidence=row.text("evidence"),
            note=row.cells["note"],
        )
        for row in read_csv(DATA / "jars.csv", COLUMNS)
    )
