"""What lethality of a food is measured by: spores of low-acid food, what spoils acid food otherwise."""

from __future__ import annotations

from stillroom import units
from stillroom.heat.role import Yardstick
from stillroom.physics.lethality import F0, Reference
from stillroom.tables.processes import rows_for

LOW_ACID = Yardstick(
    F0,
    asked_min=3.0,
    source="the least that the canning industry asks for low-acid food; 12 reductions of C. botulinum take 2.5 min",
)
ACID = Yardstick(
    Reference("P", units.celsius(200), 15 / 1.8),
    asked_min=5.0,
    source="FDA draft guidance on acidified foods (2010), table 8, for pH 4.0 to 4.2; sourer food needs less, pH up to "
    "4.4 needs 23 min",
)


def yardstick_for(process_food: str) -> Yardstick:
    """Food with a boiling-water line is acid; everything else, unknown food too, is measured as low-acid."""
    is_acid = any(not row.is_pressure for row in rows_for(process_food))
    return ACID if is_acid else LOW_ACID
