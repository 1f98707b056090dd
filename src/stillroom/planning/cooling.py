"""How a pot of stock is cooled in time: how deep, in how many pans in ice water, and with how much ice."""

from __future__ import annotations

from functools import cache

from stillroom.model.recipe import Recipe, Use
from stillroom.physics.medium import ice_bath
from stillroom.physics.pots import Pan
from stillroom.physics.properties import Fractions, thermal
from stillroom.physics.two_stages import TwoStages, ice_kg, shallow_pans
from stillroom.tables.constants import constant
from stillroom.units import celsius

# Common practice, no source: the tray of a small oven, stock as it leaves the pot, cold water from the tap.
PAN = Pan(0.40, 0.30, 0.05)
FILLED_C, TAP_C = 95.0, 15.0
STOCK = Fractions(0.96, 0.03, 0.005, 0.0, 0.0, 0.005)  # water, protein, fat, ..., ash


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


def cooling_advice(recipe: Recipe, units: float) -> tuple[str, ...]:
    """Depth, pans and ice for a batch of a stock that its recipe cools in an ice bath; empty for all else.

    The depth is the deepest that keeps the rule in ice water to the end with nobody stirring, by the slow side of the
    band and all as warm as where the rule starts; stirring only helps. It is a model: the advice says to measure.
    """
    if recipe.use is not Use.STOCK or not any(n.equipment == "ice bath" for step in recipe.steps for n in step.needs):
        return ()
    rule, food = cooling_rule(), thermal(STOCK, 40.0)
    kg = units * sum(product.mass_g_per_unit for product in recipe.products) / 1000
    pans = shallow_pans(kg / food.density_kg_m3, PAN, food, ice_bath(), rule, filled_c=rule.start_c)
    if pans is None:
        return ()
    ice = ice_kg(kg, food.specific_heat_j_kg_k, from_c=FILLED_C, to_c=rule.last_c, water_kg=kg, water_c=TAP_C)
    many = "pans" if pans.pans > 1 else "pan"
    return (
        f"To cool {kg:.1f} kg in time: {pans.pans} {many} of 30 × 40 cm, no deeper than {100 * pans.depth_m:.1f} cm, "
        f"in ice water to the end ({ice.low:.0f} to {ice.high:.0f} kg of ice; change warm water for cold first to need "
        f"less). By a model: measure, {rule.first_c:.0f} °C within {rule.first_h:.0f} h of "
        f"{rule.start_c:.0f} °C and {rule.last_c:.1f} °C within {rule.total_h:.0f} h.",
    )
