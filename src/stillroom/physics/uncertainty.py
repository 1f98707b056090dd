"""A band instead of a number: what is not known is drawn together many times; the factor that matters most is named."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from stillroom.physics.band import Band
from stillroom.physics.canner import BoilingSetting, PressureSetting
from stillroom.physics.conduction import ConductionJar, finite_cylinder_modes
from stillroom.physics.convection import heating_curve_modes
from stillroom.physics.history import FloatArray
from stillroom.physics.history_response import Modes, respond
from stillroom.physics.lethality import F0, Lethality, Reference

CHUNK = 1000  # jars at a time: the modes of a chunk stay in the processor's cache, and memory stays bounded
FASTEST_PER_MIN = 4.0  # lethality to 0.1 % even after a come-up of one minute; a curve to look at keeps faster modes
MIN_HEIGHT_MM = 5.0
SHARES = (0.05, 0.5, 0.95)  # of the jars lie below the low, middle and high end of a band


@dataclass(frozen=True)
class Spread:
    """Lowest, likeliest and highest value of something not known exactly; drawn from a triangle."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError("A spread must rise from lowest over likeliest to highest.")

    def draw(self, generator: np.random.Generator, samples: int) -> FloatArray:
        """`samples` values."""
        if self.low == self.high:
            return np.full(samples, self.likely)
        return generator.triangular(self.low, self.likely, self.high, samples)


@dataclass(frozen=True)
class ConductionFood:
    """Food that does not flow, in a jar: what is known and what spreads. Headspace shortens the food column."""

    diffusivity_m2_s: Spread
    radius_mm: Spread
    headspace_mm: Spread
    inside_height_mm: float
    conductivity_w_mk: float
    side_w_m2k: float
    base_w_m2k: float
    top_w_m2k: float

    @property
    def spreads(self) -> dict[str, Spread]:
        """By the name a cook is told."""
        return {"diffusivity": self.diffusivity_m2_s, "radius": self.radius_mm, "headspace": self.headspace_mm}

    def modes(self, drawn: Mapping[str, FloatArray]) -> Modes:
        """Modes of the cold spot of each drawn jar."""
        height_mm = np.maximum(self.inside_height_mm - drawn["headspace"], MIN_HEIGHT_MM)
        return finite_cylinder_modes(
            ConductionJar(
                radius_mm=drawn["radius"],
                height_mm=height_mm,
                diffusivity_m2_s=drawn["diffusivity"],
                conductivity_w_mk=self.conductivity_w_mk,
                side_w_m2k=self.side_w_m2k,
                base_w_m2k=self.base_w_m2k,
                top_w_m2k=self.top_w_m2k,
            ),
            fastest_per_min=FASTEST_PER_MIN,
        )


@dataclass(frozen=True)
class ConvectionFood:
    """Food known by its heating curve."""

    fh_min: Spread
    jh: Spread

    @property
    def spreads(self) -> dict[str, Spread]:
        """By the name a cook is told."""
        return {"fh": self.fh_min, "jh": self.jh}

    def modes(self, drawn: Mapping[str, FloatArray]) -> Modes:
        """Modes of the cold spot of each drawn jar."""
        return heating_curve_modes(drawn["fh"], drawn["jh"])


@dataclass(frozen=True)
class Surroundings:
    """What spreads outside the food: its temperature at the start, the gauge's error, the canner's cooling."""

    fill_temp_c: Spread
    gauge_error_psi: Spread
    cooling_time_constant_min: Spread

    @property
    def spreads(self) -> dict[str, Spread]:
        """By the name a cook is told."""
        return {
            "fill temperature": self.fill_temp_c,
            "gauge error": self.gauge_error_psi,
            "cooling time": self.cooling_time_constant_min,
        }


@dataclass(frozen=True, eq=False)
class SampledLethality:
    """Lethality of each sampled jar and the draws that made it."""

    lethality: Lethality
    drawn: Mapping[str, FloatArray]

    def influence(self, part: str = "total") -> dict[str, float]:
        """Spearman's rank correlation of each factor that spreads with the lethality, strongest first."""
        ranks = _ranks(getattr(self.lethality, f"{part}_min"))
        found = {
            name: float(np.corrcoef(_ranks(values), ranks)[0, 1])
            for name, values in self.drawn.items()
            if np.ptp(values) > 0
        }
        return dict(sorted(found.items(), key=lambda item: -abs(item[1])))


def band_of(values: FloatArray, unit: str) -> Band:
    """5, 50 and 95 % of the values lie below."""
    low, middle, high = np.quantile(values, SHARES)
    return Band(float(low), float(middle), float(high), unit)


def _ranks(values: FloatArray) -> FloatArray:
    """Place of each value in the order of all; drawn values have no ties."""
    ranks = np.empty(len(values))
    ranks[np.argsort(values)] = np.arange(len(values))
    return ranks


def sample_lethality(
    food: ConductionFood | ConvectionFood,
    surroundings: Surroundings,
    setting: PressureSetting | BoilingSetting,
    *,
    samples: int = 2000,
    seed: int = 1,
    reference: Reference = F0,
) -> SampledLethality:
    """Lethality of `samples` jars drawn with one seed: the same seed gives the same jars whatever the chunk."""
    generator = np.random.default_rng(seed)
    spreads = {**food.spreads, **surroundings.spreads}
    drawn = {name: spread.draw(generator, samples) for name, spread in spreads.items()}
    parts = []
    for start in range(0, samples, CHUNK):
        chunk = {name: values[start : start + CHUNK] for name, values in drawn.items()}
        run = setting.run(gauge_error_psi=chunk["gauge error"], cooling_time_constant_min=chunk["cooling time"])
        curve = respond(food.modes(chunk), run.history, chunk["fill temperature"])
        parts.append(curve.lethality(run.heat_off_kink, reference))
    heating = np.concatenate([part.heating_min for part in parts])
    cooling = np.concatenate([part.cooling_min for part in parts])
    return SampledLethality(Lethality(reference, heating, cooling), drawn)
