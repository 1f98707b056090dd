"""The cold spot of a jar over one canner cycle, as a band: what charts and machines are given."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Phase:
    """One stretch of the canner cycle [min]: "heating up", "vent", "process", "cooling in air"."""

    name: str
    start_min: float
    end_min: float


@dataclass(frozen=True, slots=True)
class Curve:
    """Canner and cold spot at the same times: every series has as many values as `time_min`.

    `lethal_rate_*` are minutes at the reference temperature worth one minute here [-].
    """

    time_min: tuple[float, ...]
    canner_c: tuple[float, ...]
    low_c: tuple[float, ...]
    middle_c: tuple[float, ...]
    high_c: tuple[float, ...]
    lethal_rate_low: tuple[float, ...]
    lethal_rate_middle: tuple[float, ...]
    lethal_rate_high: tuple[float, ...]
    reference: str  # "F0: 121.1 °C, z 10 °C"
    phases: tuple[Phase, ...]

    def __post_init__(self) -> None:
        """A chart of series of unequal length would show a jar that never was."""
        lengths = {len(series) for series in (*self.temperatures_c, *self.lethal_rates, self.time_min)}
        if len(lengths) != 1 or max(lengths) < 2:
            raise ValueError(f"the series of a curve must have one length of at least two, not {sorted(lengths)}")
        if any(later <= earlier for earlier, later in pairwise(self.time_min)):
            raise ValueError("the times of a curve must grow")

    @property
    def temperatures_c(self) -> tuple[tuple[float, ...], ...]:
        """Canner, then low, middle and high of the cold spot [°C]."""
        return self.canner_c, self.low_c, self.middle_c, self.high_c

    @property
    def lethal_rates(self) -> tuple[tuple[float, ...], ...]:
        """Low, middle and high [-]."""
        return self.lethal_rate_low, self.lethal_rate_middle, self.lethal_rate_high
