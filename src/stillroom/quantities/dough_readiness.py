"""When a dough is ready where it stands: from a rise that the baker knows, through kitchen, cellar and fridge.

Yeast and flour are in the known rise; the model only carries it to other temperatures. Watch the dough, not the clock.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.physics.band import Band
from stillroom.physics.dough import LONGEST_H, Lump, Stay, ready_h
from stillroom.physics.medium import Medium, fridge, still_air
from stillroom.physics.properties import Fractions, thermal
from stillroom.physics.yeast import RULE_C
from stillroom.tables.constants import constant

# Two thirds water to flour, and flour as it is tabled with 12 % water.
DOUGH = thermal(Fractions(0.46, 0.08, 0.01, 0.42, 0.02, 0.01), 22.0)
FRIDGE_C = 4.0
COLDEST_C, HOTTEST_C = 1.0, 38.0  # where a dough can stand and rise
COLD_C = 10.0  # colder is a fridge: air that touches the bowl all round
SHORTEST_KNOWN_H, LONGEST_KNOWN_H = 0.25, 48.0
LIGHTEST_G, HEAVIEST_G = 20.0, 50_000.0
CLOSE_ENOUGH = 1e-3


@dataclass(frozen=True, slots=True)
class KnownRise:
    """A rise that the baker knows of this dough: so many hours at this dough temperature [°C]."""

    hours: float
    temp_c: float

    def __post_init__(self) -> None:
        if not SHORTEST_KNOWN_H <= self.hours <= LONGEST_KNOWN_H:
            raise InputError("The rise you know must last a quarter of an hour to two days.")
        if not RULE_C[0] <= self.temp_c <= RULE_C[1]:
            raise InputError(f"The rise you know must be one at {RULE_C[0]:g} to {RULE_C[1]:g} °C (50 to 95 °F).")


@dataclass(frozen=True, slots=True)
class Stand:
    """Where the dough stands [°C] and how long [h]; the last one goes on until it is ready."""

    temp_c: float
    hours: float = math.inf

    def __post_init__(self) -> None:
        if not COLDEST_C <= self.temp_c <= HOTTEST_C:
            raise InputError(
                f"A dough stands at {COLDEST_C:g} to {HOTTEST_C:g} °C, not {self.temp_c:.0f} °C: colder it freezes, "
                "warmer the yeast is hurt."
            )
        if not self.hours > 0:
            raise InputError("A dough stands somewhere for more than no time.")


def ready(mass_g: float, start_c: float, stands: Sequence[Stand], known: KnownRise) -> Band:
    """Hours from mixing until the dough has risen as in the known rise; infinite where it does not in 96 h.

    `start_c` is the dough when it is mixed, 0 to 40 °C. InputError for a dough of less than 20 g or more than 50 kg.
    """
    if not LIGHTEST_G <= mass_g <= HEAVIEST_G:
        raise InputError("The dough must weigh 20 g to 50 kg.")
    if not 0 <= start_c <= 40:
        raise InputError(f"A dough is mixed at 0 to 40 °C, not {start_c:.0f} °C.")
    stays = [Stay(_medium(stand.temp_c), stand.hours) for stand in stands]
    doubling_k = constant("dough_doubling_f").value / 1.8
    return ready_h(
        Lump(mass_g / 1000, DOUGH), start_c, stays, known_h=known.hours, known_c=known.temp_c, doubling_k=doubling_k
    )


def place_c(mass_g: float, start_c: float, wanted_h: float, known: KnownRise) -> float | None:
    """How warm a place has the dough ready after `wanted_h` [°C]; None outside 10 to 35 °C."""

    def late_h(temp_c: float) -> float:
        return ready(mass_g, start_c, [Stand(temp_c)], known).middle - wanted_h

    low_c, high_c = RULE_C
    return _halved(late_h, low_c, high_c, CLOSE_ENOUGH * 100) if late_h(high_c) <= 0 <= late_h(low_c) else None


def fridge_first_h(
    mass_g: float, start_c: float, wanted_h: float, known: KnownRise, *, room_c: float, fridge_c: float = FRIDGE_C
) -> float | None:
    """Hours in the fridge before the room, so that the dough is ready after `wanted_h`.

    0 where the room alone is only just quick enough; None where it is too slow, or where even all of the time in the
    fridge is too long.
    """

    def early_h(cold_h: float) -> float:
        stands = [Stand(fridge_c, cold_h), Stand(room_c)] if cold_h > 0 else [Stand(room_c)]
        return wanted_h - ready(mass_g, start_c, stands, known).middle

    if early_h(0.0) < 0 or wanted_h > LONGEST_H:
        return None
    if early_h(wanted_h) > 0:
        return None
    return _halved(early_h, 0.0, wanted_h, CLOSE_ENOUGH * 10)


def _halved(falling: Callable[[float], float], low: float, high: float, close: float) -> float:
    """Where a falling function crosses zero; infinities are only large numbers to it."""
    while high - low > close:
        middle = (low + high) / 2
        low, high = (middle, high) if falling(middle) > 0 else (low, middle)
    return (low + high) / 2


def _medium(temp_c: float) -> Medium:
    return fridge(temp_c) if temp_c < COLD_C else still_air(temp_c)
