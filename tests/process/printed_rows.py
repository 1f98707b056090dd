"""The printed tables read once more with csv only: the oracle shares no code with the look-up that it checks."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import stillroom.tables

DATA = Path(stillroom.tables.__file__).parent / "data"
JAR_ML = {"half_pint": 236.588, "pint": 473.176, "quart": 946.353, "half_gallon": 1892.706}
BOILING_WATER_BANDS_FT = ((0, 1000), (1001, 3000), (3001, 6000), (6001, 8000))
DIAL_BANDS_FT = ((0, 2000), (2001, 4000), (4001, 6000), (6001, 8000))
WEIGHTED_BANDS_FT = ((0, 1000), (1001, 8000))
_MINUTES = ("min_0_1000ft", "min_1001_3000ft", "min_3001_6000ft", "min_above_6000ft")
_DIAL = ("dial_psi_0_2000ft", "dial_psi_2001_4000ft", "dial_psi_4001_6000ft", "dial_psi_6001_8000ft")
_WEIGHTED = ("weighted_psi_0_1000ft", "weighted_psi_above_1000ft")


@dataclass(frozen=True)
class Printed:
    """One line as printed; `figures` maps canner kind -> list of (lowest ft, highest ft, minutes, psi or None)."""

    key: str
    food: str
    form: str
    pack: str
    jar: str
    is_tested: bool
    headspace_in: float
    figures: dict[str, list[tuple[int, int, int, int | None]]]

    @property
    def is_pressure(self) -> bool:
        return "boiling water" not in self.figures

    @property
    def place(self) -> tuple[str, str, str, bool]:
        return self.food, self.form, self.pack, self.is_pressure


def lines(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _psi(text: str) -> int | None:
    return int(text) if text.isdigit() else None


def _read(table: str, confirmed: set[tuple[str, ...]]) -> list[Printed]:
    found = []
    for line in lines(f"{table}.csv"):
        is_tested = line["evidence"] != "memory" or (
            (table, line["food"], line["form"], line["pack"], line["jar"]) in confirmed
        )
        figures: dict[str, list[tuple[int, int, int, int | None]]] = {}
        if "minutes" in line:
            minutes = int(line["minutes"])
            dial = zip(DIAL_BANDS_FT, _DIAL, strict=True)
            weighted = zip(WEIGHTED_BANDS_FT, _WEIGHTED, strict=True)
            figures["dial gauge"] = [(low, high, minutes, _psi(line[column])) for (low, high), column in dial]
            figures["weighted gauge"] = [(low, high, minutes, _psi(line[column])) for (low, high), column in weighted]
        else:
            figures["boiling water"] = [
                (low, high, int(line[column]), None)
                for (low, high), column in zip(BOILING_WATER_BANDS_FT, _MINUTES, strict=True)
            ]
        found.append(
            Printed(
                line["key"],
                line["food"],
                line["form"],
                line["pack"],
                line["jar"],
                is_tested,
                float(line["headspace_in"]),
                figures,
            )
        )
    return found


CONFIRMED = {
    tuple(line[column] for column in ("table", "food", "form", "pack", "jar")) for line in lines("verifications.csv")
}
PRINTED = [row for table in ("low_acid", "acid_boiling_water", "acid_pressure") for row in _read(table, CONFIRMED)]
TESTED = [row for row in PRINTED if row.is_tested]
PROCESS_FOOD_OF = {line["key"]: line["process_food"] for line in lines("vocabulary.csv")}


def figure(row: Printed, canner: str, altitude_ft: float) -> tuple[int, int | None] | None:
    """Minutes and psi that the line prints for a canner at a place; None where it prints none."""
    for low_ft, high_ft, minutes, psi in row.figures.get(canner, []):
        is_in_band = (altitude_ft <= high_ft) and (altitude_ft > low_ft - 1 or low_ft == 0)
        if is_in_band:
            return None if canner != "boiling water" and psi is None else (minutes, psi)
    return None


def supported(food_key: str, form: str, pack: str, jar_ml: float, canner: str, altitude_ft: float) -> list[Printed]:
    """The tested lines that support an answer: the smallest tested size that is not smaller than the jar."""
    printed_for = "boiling water" if canner == "steam" else canner
    same = [
        row
        for row in TESTED
        if (row.food, row.form, row.pack) == (PROCESS_FOOD_OF[food_key], form, pack) and printed_for in row.figures
    ]
    sizes = sorted({JAR_ML[row.jar] for row in same if JAR_ML[row.jar] + 0.5 >= jar_ml})
    if not sizes or altitude_ft > 8000:
        return []
    at = [row for row in same if JAR_ML[row.jar] == sizes[0] and figure(row, printed_for, altitude_ft) is not None]
    if canner == "steam":
        at = [row for row in at if (figure(row, printed_for, altitude_ft) or (99, None))[0] <= 45]
    return at
