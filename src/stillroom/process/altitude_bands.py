"""The altitude bands as the tables print them, and what a row says in the band of a place.

Dial gauge: 0-2000, 2001-4000, 4001-6000, 6001-8000 ft. Weighted gauge: 0-1000, above 1000 ft.
Boiling water: 0-1000, 1001-3000, 3001-6000, above 6000 ft. A place between two printed whole feet
(2000.4 ft) belongs to the higher band.
"""

from __future__ import annotations

from stillroom.model.process import CannerKind, ProcessRow

DIAL_TOPS_FT = (2000, 4000, 6000, 8000)
WEIGHTED_TOPS_FT = (1000, 8000)
BOILING_WATER_TOPS_FT = (1000, 3000, 6000, 8000)

LAST_FT = 8000
"""No answer above this, for any canner.

Pressure: the dial column ends here, so the weighted column's "above 1,000 ft" is not read further either.
Boiling water: the federal tables say "above 6,000 ft" without an end, but one state's extension tables add a band
from 8,001 ft with 5 minutes more. Two sources disagree there and the longer one covers only some fruit, so the
cautious answer is none.
"""


def is_above_last_band(altitude_ft: float) -> bool:
    """Whether the place lies above every printed band."""
    return altitude_ft > LAST_FT


def minutes_at(row: ProcessRow, altitude_ft: float) -> int:
    """Process time [min] of a printed row in the band of the place; pressure rows have one time for all."""
    return row.minutes[0] if row.is_pressure else row.minutes[_band(BOILING_WATER_TOPS_FT, altitude_ft)]


def pressure_at_psi(row: ProcessRow, canner: CannerKind, altitude_ft: float) -> int | None:
    """Printed gauge pressure [psi] in the band of the place; None where the line is not for this gauge."""
    if canner is CannerKind.DIAL:
        return row.dial_psi[_band(DIAL_TOPS_FT, altitude_ft)]
    return row.weighted_psi[_band(WEIGHTED_TOPS_FT, altitude_ft)]


def _band(tops_ft: tuple[int, ...], altitude_ft: float) -> int:
    for index, top_ft in enumerate(tops_ft):
        if altitude_ft <= top_ft:
            return index
    raise ValueError(f"{altitude_ft} ft is above every printed band; ask is_above_last_band first")
