"""Sampled jars, pooled over the ways in which the pack may heat: bands, the factor that matters most, the curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.heat.curve import Curve, Phase
from stillroom.heat.pack import Pack
from stillroom.physics.band import Band
from stillroom.physics.canner import BoilingSetting, CannerRun, PressureSetting
from stillroom.physics.history import FloatArray
from stillroom.physics.history_response import respond
from stillroom.physics.lethality import Reference, lethal_rate
from stillroom.physics.uncertainty import (
    SHARES,
    ConductionFood,
    ConvectionFood,
    SampledLethality,
    Surroundings,
    band_of,
    sample_lethality,
)

CURVE_JARS, CURVE_POINTS = 150, 181
SHOWN_IN_AIR_MIN = 40.0
WAY_MATTERS = 0.5  # when more of the variance lies between the two ways than within them
HOW_IT_HEATS = "whether the pack heats as a solid or its liquid turns over"
FACTORS = {
    "diffusivity": "how fast heat moves through the food",
    "radius": "the radius of the jar",
    "headspace": "the headspace",
    "fh": "how fast the liquid turns over",
    "jh": "how long the pieces lag behind the liquid",
    "fill temperature": "how hot the jar is filled",
    "gauge error": "the error of the gauge",
    "cooling time": "how slowly the canner cools",
}
PHASES = {
    "heating": "heating up",
    "vent": "vent",
    "come-up": "come-up",
    "hold": "process",
    "cooling in the canner": "cooling in canner",
    "jars in air": "cooling in air",
}
Setting = PressureSetting | BoilingSetting
Food = ConductionFood | ConvectionFood


@dataclass(frozen=True, eq=False)
class Sampled:
    """One run of `sample_lethality` for each way, of equally many jars."""

    ways: tuple[SampledLethality, ...]
    pack: Pack
    surroundings: Surroundings
    setting: Setting
    reference: Reference

    def values(self, part: str = "total") -> FloatArray:
        """Lethality [min] of all jars of all ways; "total", "heating" or "cooling"."""
        return np.concatenate([getattr(way.lethality, f"{part}_min") for way in self.ways])

    def band(self, part: str = "total") -> Band:
        """5, 50 and 95 % of the jars lie below."""
        return band_of(self.values(part), "min")

    def dominating(self) -> str:
        """The uncertain thing that spreads the lethality most."""
        totals = [way.lethality.total_min for way in self.ways]
        within = float(np.mean([np.var(values) for values in totals]))
        between = float(np.var([np.mean(values) for values in totals]))
        if between > WAY_MATTERS * (between + within):
            return HOW_IT_HEATS
        widest = self.ways[int(np.argmax([np.var(values) for values in totals]))]
        return FACTORS[next(iter(widest.influence()))]

    def curve(self) -> Curve:
        """Band of the cold spot at each minute, with the canner as it likely runs."""
        run = self.setting.run(
            gauge_error_psi=self.surroundings.gauge_error_psi.likely,
            cooling_time_constant_min=self.surroundings.cooling_time_constant_min.likely,
        )
        phases = _phases(run)
        minutes = np.linspace(0.0, phases[-1].end_min, CURVE_POINTS)
        each_way = zip(self.ways, self.pack.ways, strict=True)
        temps_c = np.concatenate([self._temps_c(way, food, minutes) for way, food in each_way])
        low_c, middle_c, high_c = np.quantile(temps_c, SHARES, axis=0)
        return Curve(
            time_min=_series(minutes),
            canner_c=_series(run.history.at(minutes)),
            low_c=_series(low_c),
            middle_c=_series(middle_c),
            high_c=_series(high_c),
            lethal_rate_low=_series(lethal_rate(low_c, self.reference)),
            lethal_rate_middle=_series(lethal_rate(middle_c, self.reference)),
            lethal_rate_high=_series(lethal_rate(high_c, self.reference)),
            reference=f"{self.reference.name}: {self.reference.temp_c:.1f} °C, z {self.reference.z_c:.1f} °C",
            phases=phases,
        )

    def _temps_c(self, way: SampledLethality, food: Food, minutes: FloatArray) -> FloatArray:
        """Cold spots of some of the jars of one way at these minutes, shape (jars, minutes)."""
        drawn = {name: values[:CURVE_JARS] for name, values in way.drawn.items()}
        run = self.setting.run(gauge_error_psi=drawn["gauge error"], cooling_time_constant_min=drawn["cooling time"])
        response = respond(food.modes(drawn), run.history, drawn["fill temperature"])
        columns = zip(response.time_min.T, response.temp_c.T, strict=True)
        return np.stack([np.interp(minutes, times, temps) for times, temps in columns])


def sample(
    pack: Pack, surroundings: Surroundings, setting: Setting, reference: Reference, *, samples: int, seed: int
) -> Sampled:
    """`samples` jars for each way in which the pack may heat; the same seed draws alike for another jar or canner."""
    ways = tuple(
        sample_lethality(food, surroundings, setting, samples=samples, seed=seed, reference=reference)
        for food in pack.ways
    )
    return Sampled(ways, pack, surroundings, setting, reference)


def heating_times_min(pack: Pack, *, samples: int, seed: int) -> FloatArray:
    """fh [min] of sampled jars of all ways: minutes in which the gap to the canner shrinks to a tenth."""
    generator = np.random.default_rng(seed)
    slowest = []
    for food in pack.ways:
        drawn = {name: spread.draw(generator, samples) for name, spread in food.spreads.items()}
        slowest.append(food.modes(drawn).rate_per_min[0])
    return np.asarray(np.log(10) / np.concatenate(slowest))


def _series(values: FloatArray) -> tuple[float, ...]:
    return tuple(float(value) for value in values)


def _phases(run: CannerRun) -> tuple[Phase, ...]:
    """The phases by their kinks; of the cooling in air only what is worth looking at."""
    found, start_min = [], 0.0
    for name, kink in run.phase_end_kink.items():
        end_min = float(run.history.time_min[kink])
        if name == "jars in air":
            end_min = min(end_min, start_min + SHOWN_IN_AIR_MIN)
        if end_min > start_min:
            found.append(Phase(PHASES[name], start_min, end_min))
        start_min = end_min
    return tuple(found)
