"""How many jars an amount of raw food fills, from the published averages per canner load."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom import units
from stillroom.model.process import JarSize
from stillroom.tables.yields import LoadAmount, produce_per_load

QUARTS_PER_LOAD, PINTS_PER_LOAD = 7, 9


@dataclass(frozen=True, slots=True)
class JarsNeeded:
    """Jars that an amount fills, by the printed averages: have `most` ready, expect `fewest`."""

    fewest: int
    most: int
    note: str
    source: str


def jars_needed(process_food: str, form: str, amount_g: float, jar: JarSize) -> JarsNeeded | None:
    """Jars of one size for raw food as bought [g]; None where no average is published for this food and form.

    Quarts and pints are printed for a load and per jar, and the figures differ a little: the range is given. Other
    sizes go by volume. Averages are no promise: trim, size and ripeness change them.
    """
    if not (math.isfinite(amount_g) and amount_g > 0):
        raise ValueError(f"{amount_g} g is no amount of food")
    rows = [row for row in produce_per_load().get(process_food, ()) if row.form in ("", form)]
    per_jar_lb = [lb for row in rows for lb in _lb_per_jar(row, jar)]
    if not per_jar_lb:
        return None
    amount_lb = units.pounds(amount_g)
    return JarsNeeded(
        max(1, math.floor(amount_lb / max(per_jar_lb))),
        math.ceil(amount_lb / min(per_jar_lb)),
        rows[0].note,
        rows[0].source,
    )


def _lb_per_jar(row: LoadAmount, jar: JarSize) -> list[float]:
    """Raw food [lb] in one jar of this size, by each figure the row prints."""
    by_figure = (
        (row.lb_per_7_quarts, QUARTS_PER_LOAD, JarSize.QUART),
        (row.lb_per_9_pints, PINTS_PER_LOAD, JarSize.PINT),
        (row.lb_per_quart, 1, JarSize.QUART),
    )
    return [lb / jars * jar.volume_ml / size.volume_ml for lb, jars, size in by_figure if lb is not None]
