"""How a pot of stock, stew or purée is cooled in time: how deep, in how many pans, and with how much ice."""

from __future__ import annotations

from stillroom.model.recipe import Recipe
from stillroom.quantities.cooling import Around, cooling_rule, ice_for, pans_for
from stillroom.quantities.food_parts import POURED, food_parts
from stillroom.tables.vocabulary import food


def cooling_advice(recipe: Recipe, units: float) -> tuple[str, ...]:
    """Depth, pans and ice for a batch of a stock or dish that its recipe cools in an ice bath; empty for all else.

    The depth is the deepest that keeps the rule in ice water to the end with nobody stirring, by the slow side of the
    band and all as warm as where the rule starts; stirring only helps. It is a model: the advice says to measure.
    """
    made = recipe.products[0].food
    is_in_ice = any(need.equipment == "ice bath" for step in recipe.steps for need in step.needs)
    if made is None or food(made).group not in POURED or not is_in_ice:
        return ()
    rule, parts, around = cooling_rule(), food_parts(made), Around()
    kg = units * sum(product.mass_g_per_unit for product in recipe.products) / 1000
    pans = pans_for(parts, kg, around)[0]
    if pans.depth_m is None:
        return ()
    ice = ice_for(parts, kg, around).at_once
    many = "pans" if pans.count > 1 else "pan"
    return (
        f"To cool {kg:.1f} kg in time: {pans.count} {many} of 30 × 40 cm, no deeper than {100 * pans.depth_m:.1f} cm, "
        f"in ice water to the end ({ice.low:.0f} to {ice.high:.0f} kg of ice; change warm water for cold first to need "
        f"less). By a model: measure, {rule.first_c:.0f} °C within {rule.first_h:.0f} h of "
        f"{rule.start_c:.0f} °C and {rule.last_c:.1f} °C within {rule.total_h:.0f} h.",
    )
