"""Hot jars that were filled and wait for the canner: how warm they still are, and how long they may stand.

What is packed hot must go into the canner hot: the printed process counts on it, and a cooled jar is not made good by
heating it longer. Everything here is a band, and the cold side is the one to act on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError, Refusal
from stillroom.physics.band import Band
from stillroom.physics.jars import WALL_MM
from stillroom.physics.medium import moved_air, still_air
from stillroom.physics.properties import thermal
from stillroom.physics.waiting import FilledJar, filled_c, minutes_until, temp_after_c
from stillroom.quantities.cold_text import hours_words, source_words, temp_words
from stillroom.quantities.food_parts import FoodParts, Mixture
from stillroom.tables.constants import constant
from stillroom.units import MM_PER_IN, celsius

COOLEST_HOT_FILL_C = 70.0  # the heat model counts on no colder hot fill: judgement, no source
FOOD_C, JAR_C, ROOM_C = 90.0, 60.0, 20.0  # off the boil, into a jar from hot water, in a kitchen: common practice
GLASS_KG_M3 = 2500.0  # soda-lime glass, handbooks, from memory
FOOD_BOUNDS_C, JAR_BOUNDS_C, ROOM_BOUNDS_C = (0.0, 105.0), (0.0, 100.0), (5.0, 45.0)


@dataclass(frozen=True, slots=True)
class Jar:
    """Nominal volume [ml], outside width and height [mm], headspace [in]."""

    volume_ml: float
    diameter_mm: float
    height_mm: float
    headspace_in: float = 0.0

    @property
    def food_ml(self) -> float:
        """What is left of the volume under the headspace, the jar counted as straight."""
        return self.volume_ml * (1 - min(0.5, self.headspace_in * MM_PER_IN / self.height_mm))

    @property
    def glass_kg(self) -> float:
        """Side and base of a wall as thick as jars have."""
        side_mm2 = math.pi * self.diameter_mm * self.height_mm
        base_mm2 = math.pi / 4 * self.diameter_mm**2
        return (side_mm2 + base_mm2) * WALL_MM * 1e-9 * GLASS_KG_M3


@dataclass(frozen=True, slots=True)
class Start:
    """Temperatures at filling [°C]: food, empty jar, kitchen; `is_draughty` before a fan or an open window."""

    food_c: float = FOOD_C
    jar_c: float = JAR_C
    room_c: float = ROOM_C
    is_draughty: bool = False

    def __post_init__(self) -> None:
        for what, temp_c, (low_c, high_c) in (
            ("Food", self.food_c, FOOD_BOUNDS_C),
            ("A jar", self.jar_c, JAR_BOUNDS_C),
            ("A kitchen", self.room_c, ROOM_BOUNDS_C),
        ):
            if not low_c <= temp_c <= high_c:
                raise InputError(f"{what} has {low_c:g} to {high_c:g} °C here, not {temp_c:g} °C.")


@dataclass(frozen=True, slots=True)
class Waiting:
    """Mean temperature [°C] once filled and after the wait; minutes until it falls below the mark."""

    filled: Band
    after: Band
    until_mark: Band
    mark_c: float

    @property
    def is_surely_hot(self) -> bool:
        """Whether even the coldest guess is above the mark."""
        return self.after.low >= self.mark_c

    def sentences(self, wait_min: float) -> tuple[str, ...]:
        """What a cook reads, in order."""
        until = hours_words(self.until_mark.in_units(1 / 60, "h"))
        side = "even by the cold side still" if self.is_surely_hot else "by the cold side no longer"
        return (
            f"After {wait_min:.0f} min in the kitchen: {self.after.low:.0f} to {self.after.high:.0f} °C, from "
            f"{self.filled.low:.0f} °C once the jar has taken its share; {side} above {self.mark_c:.0f} °C.",
            f"It falls below {self.mark_c:.0f} °C after {until}; go by the shorter.",
        )


def waiting(
    parts: FoodParts, jar: Jar, wait_min: float, start: Start, *, mark_c: float = COOLEST_HOT_FILL_C
) -> Waiting:
    """One jar that stands alone in the kitchen; in hot water, or close among others, it keeps warmer.

    Valid: 0 to 120 min (two-hour rule), else Refusal; a mark of 0 to 105 °C, jars 3 to 30 cm wide and 3 to 40 cm
    high, else InputError.
    """
    longest_min = 60 * constant("two_hour_rule_h").value
    if not 0 <= wait_min <= longest_min:
        raise Refusal(
            f"Filled jars that stand for {wait_min:g} min are not canned: perishable food is out of the cold or the "
            f"heat for {longest_min:g} min at the most."
        )
    if not FOOD_BOUNDS_C[0] <= mark_c <= FOOD_BOUNDS_C[1]:
        raise InputError(f"A mark lies between 0 and 105 °C, not at {mark_c:g} °C.")
    if not (30 <= jar.diameter_mm <= 300 and 30 <= jar.height_mm <= 400):
        raise InputError(
            f"A jar is 3 to 30 cm wide and 3 to 40 cm high, not {jar.diameter_mm:g} × {jar.height_mm:g} mm."
        )
    air = moved_air(start.room_c) if start.is_draughty else still_air(start.room_c)

    def filled(mixture: Mixture) -> float:
        return filled_c(_filled_jar(mixture, jar, start), start.food_c, start.jar_c)

    return Waiting(
        Band.spanning("°C", *(filled(mixture) for mixture in parts.mixtures)),
        parts.band(lambda mix: temp_after_c(_filled_jar(mix, jar, start), filled(mix), air, wait_min)),
        parts.band(lambda mix: minutes_until(_filled_jar(mix, jar, start), filled(mix), air, mark_c)),
        mark_c,
    )


def waiting_cautions() -> tuple[str, ...]:
    """What holds for every filled jar."""
    low_c, high_c = (celsius(constant(name).value) for name in ("raw_pack_preheat_f", "hot_pack_preheat_f"))
    return (
        "What is packed hot goes into the canner hot. Fill one load at a time and stand each filled jar in the "
        f"canner's hot water ({temp_words(high_c)} for hot pack, {temp_words(low_c)} for raw pack).",
        "A jar that has cooled is not made good by more minutes: empty it, boil the food again and fill it hot (common "
        "practice, no source).",
        "By a model: no process is tested by it, and none is changed by it.",
    )


def waiting_sources() -> str:
    """Where the temperatures of the canner's water are printed."""
    return source_words("R072")


def _filled_jar(mixture: Mixture, jar: Jar, start: Start) -> FilledJar:
    food = thermal(mixture.fractions, start.food_c)
    food_kg = jar.food_ml / 1e6 * food.density_kg_m3
    return FilledJar(jar.diameter_mm / 1000, jar.height_mm / 1000, food_kg, jar.glass_kg, food)
