"""Cooling of a pot: will it make the two-stage rule as it is, how many shallow pans or how much ice does it take.

All of it is by a model and told as a band; what is told to make it keeps the rule with the whole band, started all as
warm as where the rule starts. The numbers of the rule come from the tables (rules R095 to R098).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from stillroom.errors import InputError
from stillroom.physics.band import Band
from stillroom.physics.medium import Medium, fridge, ice_bath, moved_air, still_air, water_bath
from stillroom.physics.pots import Pan, Pot, newton_rate_per_s, newton_time_s
from stillroom.physics.properties import Thermal, thermal
from stillroom.physics.two_stages import (
    Cooling,
    TwoStages,
    Verdict,
    cooling,
    ice_kg,
    shallow_pans,
    temp_with_ice_c,
    verdict,
)
from stillroom.quantities.food_parts import WARM_C, FoodParts, Mixture
from stillroom.tables.constants import constant
from stillroom.units import celsius

# Common practice, no source: the tray of a small oven, food as it leaves the pot, cold water from the tap, a kitchen.
PAN = Pan(0.40, 0.30, 0.05)
FILLED_C, TAP_C, ROOM_C, FRIDGE_C = 95.0, 15.0, 20.0, 4.0
GLASS_M2_K_W = 0.005  # 5 mm of glass or earthenware at 1 W/(m K): from memory; metal has none worth telling
WATER_FIRST_K = 15.0  # so near to the tap's temperature does changed water bring a pot before ice is worth it
DEEPEST_POT_M, SHALLOWEST_POT_M = 0.6, 0.005
THERMOMETER_K = 1.0  # what a kitchen thermometer may be off by: judgement
LEAST_FALL_K = 3.0  # so that the error is the smaller part of it


@dataclass(frozen=True, slots=True)
class Around:
    """The kitchen [°C]: room, cold tap water, fridge."""

    room_c: float = ROOM_C
    tap_c: float = TAP_C
    fridge_c: float = FRIDGE_C

    def __post_init__(self) -> None:
        if not (5 <= self.room_c <= 45 and 1 <= self.tap_c <= 35 and 0 <= self.fridge_c <= 10):
            raise InputError("A kitchen has 5 to 45 °C, its tap water 1 to 35 °C and its fridge 0 to 10 °C.")


@dataclass(frozen=True, slots=True)
class Way:
    """One way to cool the pot as it is, with the hours of both stages and the verdict."""

    how: str
    cooling: Cooling


@dataclass(frozen=True, slots=True)
class Pans:
    """The deepest layer that surely makes it, in how many pans; None where no layer of a centimetre or more does."""

    how: str
    depth_m: float | None
    count: int


@dataclass(frozen=True, slots=True)
class Ice:
    """Ice for the bath [kg]: from the start, and after tap water has taken the first heat."""

    at_once: Band
    after_water: Band


@cache
def cooling_rule() -> TwoStages:
    """The two-stage rule of the tables (R095 to R098)."""
    return TwoStages(
        celsius(constant("cooling_start_f").value),
        celsius(constant("cooling_first_end_f").value),
        constant("cooling_first_h").value,
        celsius(constant("cooling_second_end_f").value),
        constant("cooling_total_h").value,
    )


def pot_of(parts: FoodParts, mass_kg: float, diameter_m: float, wall_m2_k_w: float = 0.0) -> Pot:
    """The food in a round pot of that inside width; its depth follows from the amount.

    Raises InputError where it would stand deeper than 60 cm or shallower than 5 mm, or the pot is no pot.
    """
    if not 0.05 <= diameter_m <= 1:
        raise InputError(f"A pot is 5 cm to 1 m wide inside, not {100 * diameter_m:g} cm.")
    depth_m = litres(parts, mass_kg) / 1000 / (math.pi / 4 * diameter_m**2)
    if not SHALLOWEST_POT_M <= depth_m <= DEEPEST_POT_M:
        raise InputError(
            f"{mass_kg:.3g} kg would stand {100 * depth_m:.3g} cm deep in a pot {100 * diameter_m:g} cm wide; "
            "check the amount and the width."
        )
    return Pot(diameter_m, depth_m, wall_m2_k_w)


def litres(parts: FoodParts, mass_kg: float) -> float:
    """Litres that a mass of the warm food takes, of its compositions the most."""
    return max(1000 * mass_kg / _warm(mixture).density_kg_m3 for mixture in parts.mixtures)


def ways_for(parts: FoodParts, pot: Pot, around: Around, from_c: float = FILLED_C) -> tuple[Way, ...]:
    """The pot as it is, lid off, in all the places that a kitchen has, poorest first."""
    cold = fridge(around.fridge_c)
    asked: tuple[tuple[str, Medium, bool, Medium | None], ...] = (
        ("on the counter, then in the fridge", still_air(around.room_c), False, cold),
        ("before a fan, then in the fridge", moved_air(around.room_c), False, cold),
        ("in the fridge", cold, False, None),
        ("in ice water, nobody stirring", ice_bath(), False, None),
        ("in tap water that is changed, then in ice water, stirred", water_bath(around.tap_c), True, ice_bath()),
        ("in ice water, stirred", ice_bath(), True, None),
    )
    return tuple(
        Way(how, _cooling(parts, pot, place, is_stirred, then, from_c)) for how, place, is_stirred, then in asked
    )


def pans_for(parts: FoodParts, mass_kg: float, around: Around, pan: Pan = PAN) -> tuple[Pans, ...]:
    """Shallow pans in ice water up to the level of the food, and on the wire shelf of a fridge, nobody stirring."""
    places = (("in ice water to the end", ice_bath()), ("uncovered in the fridge", fridge(around.fridge_c)))
    return tuple(_pans(how, parts, mass_kg, pan, place) for how, place in places)


def ice_for(parts: FoodParts, mass_kg: float, around: Around, from_c: float = FILLED_C) -> Ice:
    """Ice for a bath with as much tap water as there is food."""
    rule = cooling_rule()
    warm_c = min(from_c, around.tap_c + WATER_FIRST_K)

    def ice(start_c: float) -> Band:
        return parts.band(
            lambda mixture: ice_kg(
                mass_kg,
                _warm(mixture).specific_heat_j_kg_k,
                from_c=max(start_c, rule.last_c),
                to_c=rule.last_c,
                water_kg=mass_kg,
                water_c=around.tap_c,
            )
        )

    return Ice(ice(from_c), ice(warm_c))


def with_ice_c(parts: FoodParts, mass_kg: float, from_c: float, ice_in_food_kg: float) -> float:
    """Temperature [°C] after ice was stirred into the food (water that the recipe kept back), the warmer answer."""
    return max(
        temp_with_ice_c(mass_kg, _warm(mixture).specific_heat_j_kg_k, from_c, ice_in_food_kg)
        for mixture in parts.mixtures
    )


@dataclass(frozen=True, slots=True)
class Pace:
    """Hours since the clock of the rule started to the end of each stage, and hours left to the first end from now.

    `began_unseen`: the first reading is below the start of the rule, so the clock ran before it, nobody knows how long.
    """

    first: Band
    total: Band
    left: Band
    verdict: Verdict
    began_unseen: bool = False


def pace(was_c: float, now_c: float, minutes: float, around_c: float) -> Pace:
    """How a pot goes on by two readings of its middle, the surroundings staying as they are, either off by 1 °C.

    Newton's law: exact for a stirred pot; the middle of a still one lags at first, so the early pace is too slow and
    the answer late, on the safe side. Where the first reading is below the start of the rule, what went before may have
    been slower, and the verdict is never that it makes it.

    Raises InputError where the readings are less than 3 °C apart, or the later less than 3 °C above the surroundings.
    """
    is_cooling = was_c - now_c >= LEAST_FALL_K and now_c - around_c >= LEAST_FALL_K
    if not (minutes > 0 and was_c <= 120 and around_c >= -40 and is_cooling):
        raise InputError(
            f"From {was_c:g} to {now_c:g} °C in {minutes:g} min with {around_c:g} °C around it tells no pace: give two "
            f"readings {LEAST_FALL_K:g} °C apart or more, both well above what is around the pot."
        )
    rule = cooling_rule()

    def hours(from_c: float, to_c: float) -> Band:
        rates = (
            newton_rate_per_s(was_c + error, now_c - error, around_c, 60 * minutes)
            for error in (THERMOMETER_K, 0.0, -THERMOMETER_K)
        )
        low, middle, high = (newton_time_s(from_c, to_c, around_c, rate) / 3600 for rate in rates)
        return Band(low, middle, high, "h")

    first, total = (hours(rule.start_c, end_c) for end_c in (rule.first_c, rule.last_c))
    found, began_unseen = verdict(first, total, rule), was_c < rule.start_c
    if began_unseen and found is Verdict.MAKES_IT:
        found = Verdict.UNCERTAIN
    return Pace(first, total, hours(now_c, rule.first_c), found, began_unseen)


def _cooling(
    parts: FoodParts, pot: Pot, place: Medium, is_stirred: bool, then: Medium | None, from_c: float
) -> Cooling:
    rule = cooling_rule()
    start_c = max(min(from_c, rule.start_c), rule.first_c + 0.1)
    found = [
        cooling(pot, _warm(mixture), place, rule, filled_c=start_c, stirred=is_stirred, then=then)
        for mixture in parts.mixtures
    ]
    first, total = Band.covering(*(each.first for each in found)), Band.covering(*(each.total for each in found))
    return Cooling(first, total, verdict(first, total, rule))


def _pans(how: str, parts: FoodParts, mass_kg: float, pan: Pan, place: Medium) -> Pans:
    rule = cooling_rule()
    volume_m3 = litres(parts, mass_kg) / 1000
    found = [
        shallow_pans(volume_m3, pan, _warm(mixture), place, rule, filled_c=rule.start_c) for mixture in parts.mixtures
    ]
    sure = [each for each in found if each is not None]
    if len(sure) < len(found):
        return Pans(how, None, 0)
    depth_m = min(each.depth_m for each in sure)
    return Pans(how, depth_m, max(each.pans for each in sure))


def _warm(mixture: Mixture) -> Thermal:
    return thermal(mixture.fractions, WARM_C)
