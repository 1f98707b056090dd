"""What to say beside a cure: how long, how cold, and what can hurt."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.quantities.cure import CureAmounts, CureOrder
from stillroom.quantities.curing_limits import CuredProduct, CureMethod, curing_data
from stillroom.tables.constants import constant
from stillroom.units import MM_PER_IN


@dataclass(frozen=True, slots=True)
class CureDays:
    """How long to leave meat in an equilibrium cure [days], by two rules of thumb; no source has tested them."""

    shorter: int
    longer: int
    note: str


def days(thickness_mm: float) -> CureDays:
    """Days for meat of this thickness at its thickest [mm, up to 150], from common practice.

    Shorter: one day per ¼ in and two more (R198); longer: seven days per inch (R206). Both from memory, neither tested.
    """
    if not 0 < thickness_mm <= 150:
        raise InputError(
            "The thickness must be more than 0 and at most 150 mm; thicker pieces are pumped or boned out."
        )
    quarters = thickness_mm / (MM_PER_IN / 4)
    by_quarter_inch = quarters * constant("cure_days_per_quarter_inch").value + constant("cure_extra_days").value
    by_inch = thickness_mm / MM_PER_IN * float(curing_data()["days"]["per_inch"])
    both = sorted((math.ceil(by_quarter_inch - 1e-9), math.ceil(by_inch - 1e-9)))
    return CureDays(both[0], both[1], "common practice, from memory: no tested source gives times")


def cautions(order: CureOrder, weighed: CureAmounts) -> tuple[str, ...]:
    """What can hurt, in the order in which it can."""
    least = curing_data()["least"]
    said = [
        "Weigh the curing mix on a scale that shows 0.1 g; a mistake of ten poisons. Keep the mix labelled and away "
        "from salt and children.",
        "Keep the meat at 2 to 4 °C (36 to 40 °F) from before salting until the cure is done.",
    ]
    if weighed.mix_g < 2:
        said.append("Under 2 g of mix a 0.1 g scale is too coarse: cure more meat at once, or use a finer scale.")
    if weighed.ppm < float(least["some_effect_ppm"]):
        said.append(f"Under {least['some_effect_ppm']} ppm nitrite has no use: treat this as fresh meat.")
    elif weighed.ppm < float(least["useful_ppm"]):
        said.append(f"Under {least['useful_ppm']} ppm this is not a full cure: refrigerate as for fresh meat.")
    if order.product is CuredProduct.BACON and weighed.ppm > 120:
        said.append("Canada allows at most 120 ppm in bacon whatever the method.")
    if weighed.ascorbate_g > 0:
        said.append("Pumped bacon needs the ascorbate (or erythorbate): it keeps nitrosamines down when frying.")
    if order.product in (CuredProduct.DRY_AGED, CuredProduct.DRY_SAUSAGE):
        said.append("Drying and ageing need their own tested process; this is only the sum of the cure.")
        said.append("Pork or game that stays raw: see to trichinella first; not all kinds die by freezing.")
    if order.method is CureMethod.PUMPED:
        said.append("Weigh the meat before and after pumping; the nitrite is right only at the pump share asked for.")
    said.append("Read the strength of your mix on its pack; packs and countries differ. Your local authority decides.")
    return tuple(said)
