"""What is left after trimming, boning, cooking or drying, and how many jars the raw food fills.

Where the table has several rows, they all count: the answer is a range, with the rows that made it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.tables.yields import Yield, yields
from stillroom.units import G_PER_LB

PER_QUART = "lb per quart jar"


@dataclass(frozen=True, slots=True)
class Range:
    """A quantity between `low` and `high`, and the table rows it comes from."""

    low: float
    high: float
    rows: tuple[Yield, ...]

    @property
    def middle(self) -> float:
        """The value to plan with."""
        return (self.low + self.high) / 2


def fraction(food_key: str, from_state: str, to_state: str) -> Range:
    """Share of the mass that is left [-] from one state of a food to another, as the table words them.

    InputError lists the states that the table knows for this food.
    """
    rows = tuple(
        row
        for row in yields(food_key)
        if row.fraction is not None and row.from_state == from_state and row.to_state == to_state
    )
    if not rows:
        raise InputError(_not_known(food_key, f"from “{from_state}” to “{to_state}”"))
    shares = [share for row in rows for share in _shares(row)]
    return Range(min(shares), max(shares), rows)


def after(mass_g: float, food_key: str, *states: str) -> Range:
    """Mass left [g] after a chain of states, for example “as purchased”, “edible part”."""
    if len(states) < 2 or not mass_g > 0:
        raise ValueError("a mass above zero and at least two states are needed")
    low = high = mass_g
    rows: tuple[Yield, ...] = ()
    for from_state, to_state in pairwise(states):
        step = fraction(food_key, from_state, to_state)
        low, high, rows = low * step.low, high * step.high, rows + step.rows
    return Range(low, high, rows)


def jars(mass_g: float, food_key: str, jar: JarSize, to_state: str | None = None) -> Range:
    """How many jars the food fills as it arrives [jars, not rounded]; other sizes than quarts by their volume.

    `to_state` ("canned", "juice", ...) is needed where the table has several. Rows whose evidence is doubtful are
    left out. InputError when no row is left.
    """
    rows = tuple(row for row in yields(food_key) if row.kind == PER_QUART and not row.evidence.startswith("doubtful"))
    states = {row.to_state for row in rows}
    if to_state is None and len(states) > 1:
        raise InputError(
            f"{food_key.capitalize()} per jar depends on what is made; say one of: {', '.join(sorted(states))}."
        )
    rows = tuple(row for row in rows if to_state in (None, row.to_state))
    if not rows:
        raise InputError(_not_known(food_key, "per jar"))
    quarts = mass_g / G_PER_LB
    size = JarSize.QUART.volume_ml / jar.volume_ml
    pounds = [bound for row in rows for bound in bounds(row)]
    return Range(quarts / max(pounds) * size, quarts / min(pounds) * size, rows)


def bounds(row: Yield) -> tuple[float, float]:
    """The printed value of a row as a range: “4-5” is (4, 5), “2” is (2, 2)."""
    low, _, high = str(row.value).partition("-")
    return float(low), float(high or low)


def _shares(row: Yield) -> tuple[float, ...]:
    """The share of a row; both ends where a range is printed beside its midpoint."""
    if row.unit == "fraction":
        return bounds(row)
    return (row.fraction,) if row.fraction is not None else ()


def _not_known(food_key: str, what: str) -> str:
    known = sorted({f"“{row.from_state}” to “{row.to_state}”" for row in yields(food_key)})
    return f"No yield {what} is in our tables for {food_key}" + (f"; they know {', '.join(known)}." if known else ".")
