"""The two-stage cooling rule: will this pot make it, which shallow pans do, how much ice does it take."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from stillroom.physics.band import Band
from stillroom.physics.medium import Medium
from stillroom.physics.pots import Pan, Vessel, time_h
from stillroom.physics.properties import LATENT_HEAT_J_KG, Thermal

WATER_HEAT_J_KG_K = 4186.0
DEEPEST_PAN_M, SHALLOWEST_PAN_M, PAN_STEP_M = 0.10, 0.01, 0.005
ICE_LOST = (1.0, 1.25, 1.6)  # heat from the room and from the bowl: common practice, no source


@dataclass(frozen=True, slots=True)
class TwoStages:
    """The rule in numbers: from `start_c` to `first_c` within `first_h`, to `last_c` within `total_h` in all.

    The numbers are those of the tables (rules R095 to R098): 57.2 °C, 21.1 °C, 2 h, 4.4 or 5 °C, 6 h. Time saved in
    the first stage may be used in the second.
    """

    start_c: float
    first_c: float
    first_h: float
    last_c: float
    total_h: float

    def __post_init__(self) -> None:
        if not (self.start_c > self.first_c > self.last_c and 0 < self.first_h < self.total_h):
            raise ValueError("The stages run from warm to cold and from early to late.")


class Verdict(StrEnum):
    """Yes only if the whole band keeps the rule; uncertain if its middle does; otherwise it fails."""

    MAKES_IT = "makes it; measure all the same"
    UNCERTAIN = "may fail: use a quicker way, and measure"
    FAILS = "will most likely fail: use a quicker way"


@dataclass(frozen=True, slots=True)
class Cooling:
    """Hours from `start_c` to the end of each stage, and the verdict on both."""

    first: Band
    total: Band
    verdict: Verdict


def cooling(
    vessel: Vessel,
    food: Thermal,
    around: Medium,
    rule: TwoStages,
    *,
    filled_c: float,
    stirred: bool,
    then: Medium | None = None,
) -> Cooling:
    """Hours of both stages for food filled at `filled_c`, in `around` and after the first stage in `then`.

    The clock starts when the warmest point passes the start of the rule. A change of surroundings starts again from
    one temperature, that of the warmest point: on the safe side for food that nobody stirs.

    Valid: filled_c 21.2 to 120 °C, else ValueError. Source: rules R095 to R098; times from `pots.time_h`.
    """
    if not rule.first_c < filled_c <= 120:
        raise ValueError("Food is filled warmer than the first stage ends, up to 120 °C.")

    def hours(place: Medium, from_c: float, to_c: float) -> Band:
        return time_h(vessel, food, place, from_c=from_c, to_c=to_c, stirred=stirred)

    before = hours(around, filled_c, rule.start_c)
    first = _minus(hours(around, filled_c, rule.first_c), before)
    if then is None:
        total = _minus(hours(around, filled_c, rule.last_c), before)
    else:
        total = _plus(first, hours(then, rule.first_c, rule.last_c))
    return Cooling(first, total, verdict(first, total, rule))


@dataclass(frozen=True, slots=True)
class ShallowPans:
    """The deepest layer that surely keeps the rule, in how many pans."""

    depth_m: float
    pans: int
    cooling: Cooling


def shallow_pans(  # noqa: PLR0913
    volume_m3: float,
    pan: Pan,
    food: Thermal,
    around: Medium,
    rule: TwoStages,
    *,
    filled_c: float,
    stirred: bool = False,
    then: Medium | None = None,
) -> ShallowPans | None:
    """How many pans of the size of `pan` (its depth does not count), and how deep; None where no layer makes it.

    Depths from 10 cm down to 1 cm in steps of 5 mm; the deepest whose whole band keeps the rule is taken.
    """
    if not volume_m3 > 0:
        raise ValueError("The volume must be above zero.")
    steps = round((DEEPEST_PAN_M - SHALLOWEST_PAN_M) / PAN_STEP_M)
    for step in range(steps + 1):
        layer = replace(pan, depth_m=round(DEEPEST_PAN_M - step * PAN_STEP_M, 3))
        found = cooling(layer, food, around, rule, filled_c=filled_c, stirred=stirred, then=then)
        if found.verdict is Verdict.MAKES_IT:
            return ShallowPans(layer.depth_m, math.ceil(volume_m3 / layer.volume_m3 - 1e-9), found)
    return None


def ice_kg(food_kg: float, heat_j_kg_k: float, *, from_c: float, to_c: float, water_kg: float, water_c: float) -> Band:
    """Ice [kg] that an ice bath of `water_kg` tap water needs to bring food to `to_c`.

    m L = M cp (T1 − T2) + m_w c_w T_w; bath and melted ice leave at 0 °C; low as the heat balance says, middle and
    high with 25 and 60 % more for heat from room and bowl (common practice, no source).

    Valid: to_c above 0 and below from_c, water 0 to 40 °C, else ValueError. Source: heat balance.
    """
    if not (food_kg > 0 and heat_j_kg_k > 0 and water_kg >= 0 and 0 <= water_c <= 40 and 0 < to_c <= from_c):
        raise ValueError("An ice bath cools food from above to above 0 °C, with tap water of 0 to 40 °C.")
    heat_j = food_kg * heat_j_kg_k * (from_c - to_c) + water_kg * WATER_HEAT_J_KG_K * water_c
    low, middle, high = (heat_j / LATENT_HEAT_J_KG * more for more in ICE_LOST)
    return Band(low, middle, high, "kg")


def temp_with_ice_c(
    food_kg: float, heat_j_kg_k: float, temp_c: float, ice_in_food_kg: float, *, ice_c: float = -18.0
) -> float:
    """Temperature [°C] of food after ice was stirred into it (part of a recipe's water kept back as ice).

    T = (M cp T − m (L − c_ice t_ice))/(M cp + m c_w), not below 0 while ice is left

    Valid: food 0 to 120 °C, ice −30 to 0 °C, else ValueError. Source: heat balance, no loss.
    """
    if not (food_kg > 0 and heat_j_kg_k > 0 and ice_in_food_kg >= 0 and 0 <= temp_c <= 120 and -30 <= ice_c <= 0):
        raise ValueError("Food is 0 to 120 °C and ice −30 to 0 °C.")
    melting_j = ice_in_food_kg * (LATENT_HEAT_J_KG - 2062.0 * ice_c)
    heat_j_k = food_kg * heat_j_kg_k + ice_in_food_kg * WATER_HEAT_J_KG_K
    return max(0.0, (food_kg * heat_j_kg_k * temp_c - melting_j) / heat_j_k)


def verdict(first: Band, total: Band, rule: TwoStages) -> Verdict:
    """What both bands of hours since the start of the clock say of the rule."""
    if first.high <= rule.first_h and total.high <= rule.total_h:
        return Verdict.MAKES_IT
    if first.middle <= rule.first_h and total.middle <= rule.total_h:
        return Verdict.UNCERTAIN
    return Verdict.FAILS


def _minus(later: Band, earlier: Band) -> Band:
    """Differences limit by limit: each figure of both bands belongs to the same model of the pot."""
    return Band.spanning("h", *(_less(getattr(later, at), getattr(earlier, at)) for at in ("low", "middle", "high")))


def _less(later: float, earlier: float) -> float:
    return math.inf if math.isinf(later) else later - earlier


def _plus(first: Band, second: Band) -> Band:
    return Band(first.low + second.low, first.middle + second.middle, first.high + second.high, "h")
