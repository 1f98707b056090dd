"""What comes back when food is eaten: freezer room at once, jars the day after, reusable lids."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.allocation.problem import GivesBack
from stillroom.model.household import LarderLot, Place
from stillroom.model.kitchen import JarKind
from stillroom.model.recipe import Product
from stillroom.planning.supply import jars_pool, lids_pool
from stillroom.tables.constants import constant

WASHED_AFTER_DAYS = 1  # a jar that is emptied at a meal is filled on the next day at the earliest


def of_lot(lot: LarderLot, jars: Sequence[JarKind]) -> tuple[GivesBack, ...]:
    """What a lot in store gives back; a jar must be one of the kinds in the kitchen."""
    if lot.place is Place.FREEZER:
        return (GivesBack("freezer", 1 / constant("freezer_packed_kg_per_l").value, 1000.0),)
    jar = next((jar for jar in jars if lot.container == f"{jar.name} jar"), None)
    return _of_jar(jar, lot.mass_g / lot.count) if jar is not None else ()


def of_product(product: Product) -> tuple[GivesBack, ...]:
    """What a product of a recipe gives back when it is eaten within the plan.

    Jars of this plan are not counted on: few are opened before it ends, and whole numbers cost the search dear.
    """
    return (GivesBack("freezer", product.volume_l_per_kg, 1000.0),) if product.place is Place.FREEZER else ()


def _of_jar(jar: JarKind, grams: float) -> tuple[GivesBack, ...]:
    """A lid with a sealing compound seals once (R046); only a reusable one comes back."""
    pools = (jars_pool(jar), lids_pool(jar)) if jar.has_reusable_lids else (jars_pool(jar),)
    return tuple(GivesBack(pool, 1.0, grams, WASHED_AFTER_DAYS, is_whole=True) for pool in pools)
