"""Syrups: the printed canning syrups for so many jars, and any strength by weight.

The printed percentages are nominal: the “light, 20 %” syrup of the guide is about 17 % sugar by weight. A syrup keeps
shape and colour, it does not preserve: water or juice may take its place in the same process.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.model.process import Evidence
from stillroom.quantities.measure_rows import weighed
from stillroom.tables.syrups import Syrup, syrups
from stillroom.units import ML_PER_CUP

MOST_SUGAR = 0.67  # saturated sucrose at 20 °C: 203.9 g in 100 g water, Mohos 2010, table A2.2
SUGAR = "sugar, white"


@dataclass(frozen=True, slots=True)
class SyrupAmounts:
    """Water (1 ml is 1 g) and sugar; `real_fraction` is sugar by weight [-]; `row` a printed line or None."""

    water_ml: float
    sugar_g: float
    real_fraction: float
    row: Syrup | None = None

    @property
    def water_cups(self) -> float:
        """Water in US cups."""
        return self.water_ml / ML_PER_CUP


def names() -> tuple[str, ...]:
    """The printed syrups, thin to thick."""
    return tuple(dict.fromkeys(row.name for row in syrups()))


def for_jars(name: str, *, quarts: int = 0, pints: int = 0) -> SyrupAmounts:
    """The printed syrup `name` for so many jars, in proportion to its 7-quart and 9-pint loads.

    A load that nobody could check (evidence memory) is not used: two pints then count as one quart.
    """
    if name not in names():
        raise InputError(f"No syrup is called “{name}”; printed are: {', '.join(names())}. Or write a strength: “35%”.")
    if quarts < 0 or pints < 0 or quarts + pints == 0:
        raise InputError("Say how many quart or pint jars the syrup is for.")
    rows = {row.load: row for row in syrups() if row.name == name and row.evidence != Evidence.MEMORY}
    shares = {rows["7 quarts"]: quarts / 7.0}
    if "9 pints" in rows:
        shares[rows["9 pints"]] = pints / 9.0
    else:
        shares[rows["7 quarts"]] += pints / 14.0
    water_ml = sum(row.water_cups * ML_PER_CUP * share for row, share in shares.items())
    sugar_ml = sum(row.sugar_cups * ML_PER_CUP * share for row, share in shares.items())
    sugar_g = weighed("volume", sugar_ml, "cup", (), SUGAR).mass_g
    used = next(row for row, share in shares.items() if share > 0)
    return SyrupAmounts(water_ml, sugar_g, sugar_g / (sugar_g + water_ml), used)


def by_weight(fraction: float, *, water_g: float = 0.0, total_g: float = 0.0) -> SyrupAmounts:
    """A syrup of `fraction` sugar by weight (°Brix / 100) [-], from its water or from its total mass [g].

    sugar = water·p/(1 − p). Valid up to a saturated syrup, 67 % at 20 °C.
    """
    if not 0 < fraction <= MOST_SUGAR:
        raise InputError(f"A syrup holds more than 0% and at most {MOST_SUGAR:.0%} sugar by weight.")
    if (water_g > 0) == (total_g > 0) or not math.isfinite(water_g + total_g):
        raise InputError("Give the water or the whole syrup, one of them, more than nothing.")
    water_g = water_g or total_g * (1 - fraction)
    return SyrupAmounts(water_g, water_g * fraction / (1 - fraction), fraction)
