"""Portions by eater: what share of an adult portion a child eats, and how much food a table of eaters needs."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.tables.portions import Portion, portions

ADULT_AGE = 19  # the table of child factors ends at 18


@dataclass(frozen=True, slots=True)
class TableNeed:
    """Food for a table of eaters [g or ml, as `row.unit` says]; `row.basis` says raw, cooked or as served."""

    low: float
    high: float
    adult_portions: float
    row: Portion


def eater_share(age_years: float | None) -> float:
    """The share of an adult portion that an eater of this age takes [-]; None is an adult.

    Valid from 2 years. Source: energy needs by age, Dietary Guidelines for Americans 2015-2020, table A2-1.
    """
    if age_years is None or age_years >= ADULT_AGE:
        return 1.0
    if not age_years >= 2:
        raise InputError("No share of a portion is published under 2 years; write the portion yourself, as 0.25.")
    wanted = f"age {math.floor(age_years)}"
    return next(float(row.low) for row in portions() if row.kind == "child_factor" and row.eater == wanted)


def adult_portions(ages_years: tuple[float | None, ...]) -> float:
    """The eaters together, in adult portions [-]."""
    return sum(eater_share(age) for age in ages_years)


def for_table(food_group: str, shares: tuple[float, ...], basis: str = "") -> TableNeed:
    """How much of a food group eaters of these shares need, from the adult standard serve.

    `basis` picks among several rows (“raw”, “cooked”); InputError lists the groups, or the bases to choose from.
    """
    rows = [row for row in portions() if row.kind == "serve" and row.eater == "adult standard serve"]
    alike = [row for row in rows if row.food_group == food_group]
    if not alike:
        raise InputError(
            f"No portion is published for “{food_group}”; known are: {', '.join(sorted({r.food_group for r in rows}))}."
        )
    fitting = [row for row in alike if re.search(rf"\b{re.escape(basis)}", row.basis)] if basis else alike
    if len(fitting) != 1:
        raise InputError(f"Say which weight of {food_group} is meant: {'; '.join(row.basis for row in alike)}.")
    total = sum(shares)
    if not (math.isfinite(total) and total > 0 and all(share > 0 for share in shares)):
        raise InputError("Every eater takes more than nothing.")
    row = fitting[0]
    return TableNeed(float(row.low) * total, float(row.high) * total, total, row)
