"""Water temperature for a dough, ice when the tap is too warm, and how long a dough takes at another temperature."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.errors import InputError, OutsideTable
from stillroom.tables.constants import constant
from stillroom.units import celsius, fahrenheit

MELTING_K = 333.55 / 4.186  # heat to melt ice over heat to warm water by 1 K: 79.7 K
HOTTEST_WATER_C = 50.0  # common practice, no source: hotter water hurts yeast where it is poured
RATE_VALID_F = (50.0, 95.0)  # rule R227


@dataclass(frozen=True, slots=True)
class DoughWater:
    """The water to use: its temperature [°C], and of `water_g` how much is ice [g] and how much from the tap [g]."""

    temp_c: float
    ice_g: float
    tap_water_g: float
    note: str


def water_temp_c(
    dough_c: float, flour_c: float, room_c: float, friction_k: float, preferment_c: float | None = None
) -> float:
    """Water temperature [°C] for a dough of `dough_c`.

    T_water = n·T_dough − (T_flour + T_room [+ T_preferment] + friction); n = 3, or 4 with a preferment.
    The friction is a difference in kelvin (°F × 5/9); measure your own: friction = n·(dough reached) − the sum.
    Source: rules R220, R221, with the worked examples R223 to R225.
    """
    others = [flour_c, room_c] + ([preferment_c] if preferment_c is not None else [])
    if not 0 <= friction_k <= 30:
        raise InputError("The friction of kneading must be 0 to 30 °C (0 to 54 °F).")
    if not 4 <= dough_c <= 40 or any(not -20 <= temp <= 45 for temp in others):
        raise InputError("Dough must be 4 to 40 °C, flour, room and preferment −20 to 45 °C.")
    return (len(others) + 1) * dough_c - sum(others) - friction_k


def friction_k(dough_reached_c: float, temps_c: tuple[float, ...]) -> float:
    """The friction of your own kneading [K] from a measured dough: n·(dough reached) − sum of temperatures (R222)."""
    return len(temps_c) * dough_reached_c - sum(temps_c)


def dough_water(target_c: float, water_g: float, tap_c: float) -> DoughWater:
    """How to make `water_g` of water of `target_c` from tap water and ice.

    Heat balance of ice at 0 °C: ice = water × (tap − target)/(tap + 79.7 K). Valid: tap 0 to 40 °C, target up to
    50 °C; a target that more than a third of ice would be needed for is refused, the flour is chilled instead.
    """
    if not 0 <= tap_c <= 40:
        raise InputError("Tap water must be 0 to 40 °C.")
    if target_c > HOTTEST_WATER_C:
        raise InputError(f"Water of {target_c:.0f} °C would hurt the yeast; warm the flour or accept a cooler dough.")
    if target_c >= tap_c:
        return DoughWater(target_c, 0.0, water_g, "warm the tap water" if target_c > tap_c else "as it comes")
    share = (tap_c - target_c) / (tap_c + MELTING_K)
    if share > 1 / 3:
        raise InputError(f"Water of {target_c:.0f} °C would need too much ice; chill the flour and ask again.")
    return DoughWater(target_c, water_g * share, water_g * (1 - share), "weigh the ice as part of the water")


def time_at(time_min: float, known_c: float, wanted_c: float) -> float:
    """Time for the same rise [min] at another dough temperature; doubles for each 17 °F colder.

    t = t_known · 2^((T_known − T_wanted)/17 °F); both within 50 to 95 °F (10 to 35 °C), else OutsideTable.
    Source: rules R226 and R227, a baker's rule of thumb; watch the dough, not the clock.
    """
    low_f, high_f = RATE_VALID_F
    if not (
        low_f - 1e-9 <= fahrenheit(known_c) <= high_f + 1e-9 and low_f - 1e-9 <= fahrenheit(wanted_c) <= high_f + 1e-9
    ):
        raise OutsideTable(
            f"The rule for rising times holds from {celsius(low_f):.0f} to {celsius(high_f):.0f} °C (50 to 95 °F) only."
        )
    if not time_min > 0:
        raise InputError("The known rising time must be more than 0 minutes.")
    return float(time_min * 2 ** ((fahrenheit(known_c) - fahrenheit(wanted_c)) / constant("dough_doubling_f").value))
