"""Acid for the jars of a run: an odd jar takes the full amount of the tested size that it counts as."""

from __future__ import annotations

from stillroom.errors import InputError
from stillroom.model.process import ProcessCard
from stillroom.quantities.acid import AcidNeed, for_jars
from stillroom.quantities.amounts import mass_g

LEMON_JUICE = "lemon juice, bottled"


def acid_per_jar(card: ProcessCard) -> tuple[str, ...]:
    """Every printed way to acidify one jar ("1 tbsp bottled lemon juice"); none where no acid is added jar by jar."""
    return tuple(
        f"{need.per_jar[0][1].amount:g} {need.per_jar[0][1].unit} {need.agent}" for need in _needs(card, jars=1)
    )


def lemon_juice_g(card: ProcessCard, jars: int) -> float:
    """Bottled lemon juice [g] for `jars` jars; 0 where none is called for."""
    lemon = next((need for need in _needs(card, jars) if "lemon" in need.agent), None)
    return mass_g(f"{lemon.total_ml:.1f} ml", LEMON_JUICE) if lemon else 0.0


def _needs(card: ProcessCard, jars: int) -> tuple[AcidNeed, ...]:
    try:
        return for_jars(card.row.food, {card.jar_counted_as: jars})
    except InputError:  # no acid is printed for this food: it is acid by itself, or the recipe holds it
        return ()
