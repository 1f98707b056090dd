"""Jars and notes made up for tests: first-order curves, no physics of the package behind them."""

from __future__ import annotations

import math
from itertools import pairwise

from stillroom.heat.curve import Curve, Phase
from stillroom.heat.role import HeatNote, Yardstick
from stillroom.physics.band import Band
from stillroom.physics.lethality import F0

YARDSTICK = Yardstick(F0, 3.0, "industry minimum for low-acid canned food")


def canner_c(minute: float) -> float:
    """Heats in 20 min, holds 115.6 °C for 60 min, cools slowly."""
    if minute < 20:
        return 60 + 55.6 * minute / 20
    return 115.6 if minute <= 80 else 25 + 90.6 * math.exp(-(minute - 80) / 40)


def cold_spot_c(times_min: list[float], fh_min: float, start_c: float) -> list[float]:
    """First-order response to `canner_c`, stepped by exact decay over short steps."""
    temps, temp = [], start_c
    rate = math.log(10) / fh_min
    for earlier, later in pairwise(times_min):
        temps.append(temp)
        steps = 50
        for step in range(steps):
            outside = canner_c(earlier + (later - earlier) * (step + 0.5) / steps)
            temp = outside + (temp - outside) * math.exp(-rate * (later - earlier) / steps)
    return [*temps, temp]


def curve(*, fh_min: tuple[float, float, float] = (40.0, 30.0, 20.0)) -> Curve:
    """Low, middle and high cold spots of three lags."""
    times = [float(minute) for minute in range(0, 141)]
    three = [cold_spot_c(times, fh, 60.0) for fh in fh_min]
    low, middle, high = zip(*(sorted(temps) for temps in zip(*three, strict=True)), strict=True)
    rates = [tuple(10 ** ((temp - 121.1) / 10) for temp in temps) for temps in (low, middle, high)]
    phases = (Phase("heating up", 0, 20), Phase("process", 20, 80), Phase("cooling", 80, 140))
    return Curve(tuple(times), tuple(map(canner_c, times)), low, middle, high, *rates, "F0: 121.1 °C, z 10 °C", phases)


def note(low: float = 1.0, middle: float = 2.0, high: float = 4.0) -> HeatNote:
    """A note with this lethality [min]."""
    none = Band(0.0, 0.0, 0.0, "min")
    return HeatNote(
        about="beef, ground or chopped, hot pack, quart, dial gauge, 100 m",
        yardstick=YARDSTICK,
        lethality=Band(low, middle, high, "min"),
        from_heating=Band(low, middle, high, "min"),
        from_cooling=none,
        dominating="diffusivity",
        assumed=("made up",),
        curve=curve(),
    )
