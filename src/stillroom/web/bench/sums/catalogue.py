"""The sums in the order of a day at the bench."""

from __future__ import annotations

from stillroom.web.bench.sums import cold, cures, doughs, dry_and_jars, pots, sweet_and_sour
from stillroom.web.bench.sums.shape import Sum

SUMS = (
    Sum("dough", "Dough", "What to weigh, how warm the water, when it is ready in this kitchen.", doughs.DoughForm),
    Sum("loads", "Jars in a canner", "How many stand in it, and how many loads that makes.", dry_and_jars.LoadForm),
    Sum("acid", "Acid for jars", "Lemon juice, citric acid or vinegar for tomatoes and figs.", sweet_and_sour.AcidForm),
    Sum("vinegar", "Vinegar", "Strong vinegar brought to a strength, never below 5 %.", sweet_and_sour.VinegarForm),
    Sum(
        "liquid",
        "A liquid and its acid",
        "What acid it holds; its pH, to be measured.",
        sweet_and_sour.LiquidForm,
    ),
    Sum("syrup", "Syrup", "Sugar and water for jars or by strength; where it boils.", sweet_and_sour.SyrupForm),
    Sum("gel", "Gel point", "At what temperature jelly sets here.", sweet_and_sour.GelForm),
    Sum("brine", "Brine", "Salt by weight, whatever the per cent counts from.", cures.BrineForm),
    Sum("cure", "Cure", "Curing mix within its limit, and the salt beside it.", cures.CureForm),
    Sum("waiting", "Filled jars that wait", "How warm they still are before the canner.", cold.WaitForm),
    Sum("cooling", "A pot that cools", "As it is, in shallow pans, with ice: in time or not.", pots.CoolForm),
    Sum("freezing", "Freezing", "Hours by shape, litres, and over how many days.", cold.FreezeForm),
    Sum("thawing", "Thawing", "How long, where, and when to take it out.", cold.ThawForm),
    Sum("drying", "Drying", "Hours, weight when done, how damp it still is.", dry_and_jars.DryForm),
)
BY_KEY = {one.key: one for one in SUMS}
