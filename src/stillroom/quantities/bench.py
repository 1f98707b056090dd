"""Rounds a computed mass to what can be weighed on a kitchen bench, never to the dangerous side."""

from __future__ import annotations

import math
from enum import StrEnum

# Up to this mass [g], weigh to this step [g]: from 0.5 g up the nearest step is within 5 %.
STEPS_G: tuple[tuple[float, float], ...] = (
    (1, 0.01),
    (10, 0.1),
    (100, 0.5),
    (250, 1),
    (1000, 5),
    (10_000, 10),
    (math.inf, 50),
)


class Rounding(StrEnum):
    """To which side a mass may be rounded."""

    NEAREST = "nearest"
    UP = "up"  # acid: less would be less safe
    DOWN = "down"  # curing mix: more would be less safe


def rounding_of(food_key: str) -> Rounding:
    """To which side an ingredient may be rounded: acids up, what holds nitrite down, the rest to the nearest step."""
    if food_key.startswith(("vinegar", "lemon juice", "lime juice", "citric acid")):
        return Rounding.UP
    if any(word in food_key for word in ("curing", "cure mix", "nitrite", "nitrate")):
        return Rounding.DOWN
    return Rounding.NEAREST


def bench_g(mass_g: float, rounding: Rounding = Rounding.NEAREST) -> float:
    """`mass_g` on the step of its size [g]; a mass above zero stays above zero unless it must go down."""
    if not (math.isfinite(mass_g) and mass_g >= 0):
        raise ValueError("a mass is finite and not negative")
    step = next(step for most, step in STEPS_G if mass_g <= most)
    steps = mass_g / step
    whole = {
        Rounding.NEAREST: round(steps),
        Rounding.UP: math.ceil(steps - 1e-9),
        Rounding.DOWN: math.floor(steps + 1e-9),
    }[rounding]
    if whole == 0 and mass_g > 0 and rounding is Rounding.NEAREST:
        return mass_g
    return round(whole * step, 2)


def mass_text(mass_g: float) -> str:
    """A mass in words: “7.6 g”, “950 g”, “12.35 kg”."""
    if mass_g < 1000:
        return f"{mass_g:.4g} g"
    return f"{mass_g / 1000:.6g} kg"
