"""An estimate as a band: what the models of this package say is never one bare number."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Band:
    """Low, middle and high estimate in `unit`; infinity means “never”, for example below the surroundings."""

    low: float
    middle: float
    high: float
    unit: str

    def __post_init__(self) -> None:
        if not self.low <= self.middle <= self.high:  # NaN fails here too
            raise ValueError(f"A band runs from low to high: {self.low}, {self.middle}, {self.high}.")

    @classmethod
    def spanning(cls, unit: str, *values: float) -> Band:
        """The band from the lowest to the highest of several estimates; the middle is their median."""
        ordered = sorted(values)
        count = len(ordered)
        middle = ordered[count // 2] if count % 2 else (ordered[count // 2 - 1] + ordered[count // 2]) / 2
        return cls(ordered[0], middle, ordered[-1], unit)

    @classmethod
    def covering(cls, *bands: Band) -> Band:
        """The band that spans several of one unit; its middle is the median of theirs."""
        middle = cls.spanning(bands[0].unit, *(band.middle for band in bands)).middle
        return cls(min(band.low for band in bands), middle, max(band.high for band in bands), bands[0].unit)

    def in_units(self, factor: float, unit: str) -> Band:
        """The same band in another unit: every figure times `factor` (> 0)."""
        if not factor > 0:
            raise ValueError("A change of unit is a factor above zero.")
        return Band(self.low * factor, self.middle * factor, self.high * factor, unit)

    def __str__(self) -> str:
        if math.isinf(self.low):
            return "never"
        if math.isinf(self.high):
            middle = "" if math.isinf(self.middle) else f", about {_figure(self.middle)}"
            return f"at least {_figure(self.low)} {self.unit}{middle}, perhaps never"
        return f"{_figure(self.low)} to {_figure(self.high)} {self.unit}, about {_figure(self.middle)}"


def _figure(value: float) -> str:
    """Three digits, more only for whole numbers."""
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"
