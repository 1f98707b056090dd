"""A temperature history: straight lines between kinks. Everything in the heat model is driven by one."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class History:
    """Temperature [°C] against time [min], linear between kinks.

    `time_min`, `temp_c`: shape (kinks,), or (kinks, samples) for one history per sampled jar in columns; either may be
    (kinks, 1) beside the other's (kinks, samples). At least two kinks, times strictly increasing, all finite.
    Raises ValueError otherwise.
    """

    time_min: FloatArray
    temp_c: FloatArray

    def __post_init__(self) -> None:
        time_min = np.asarray(self.time_min, dtype=np.float64)
        temp_c = np.asarray(self.temp_c, dtype=np.float64)
        object.__setattr__(self, "time_min", time_min)
        object.__setattr__(self, "temp_c", temp_c)
        if time_min.ndim not in (1, 2) or temp_c.ndim != time_min.ndim or len(time_min) != len(temp_c):
            raise ValueError("A history needs one temperature for each time.")
        if len(time_min) < 2:
            raise ValueError("A history needs two points at least.")
        if not (np.isfinite(time_min).all() and np.isfinite(temp_c).all()):
            raise ValueError("A history holds only finite numbers.")
        if not (np.diff(time_min, axis=0) > 0).all():
            raise ValueError("The times of a history must rise from point to point.")

    @property
    def columns(self) -> tuple[FloatArray, FloatArray]:
        """Times and temperatures as (kinks, samples or 1)."""
        return self.time_min.reshape(len(self.time_min), -1), self.temp_c.reshape(len(self.temp_c), -1)

    def at(self, time_min: float | FloatArray) -> FloatArray:
        """Temperature [°C] of a single history; before its start and after its end the first and last value."""
        if self.time_min.ndim != 1:
            raise ValueError("Only a single history can be read at a time.")
        return np.asarray(np.interp(time_min, self.time_min, self.temp_c), dtype=np.float64)

    def up_to(self, end_min: float) -> History:
        """The part of a single history before `end_min`."""
        before = self.time_min < end_min
        return History(np.append(self.time_min[before], end_min), np.append(self.temp_c[before], self.at(end_min)))

    def from_time(self, start_min: float) -> History:
        """The part of a single history after `start_min`; times keep their zero."""
        after = self.time_min > start_min
        return History(
            np.append(start_min, self.time_min[after]), np.append(float(self.at(start_min)), self.temp_c[after])
        )
