"""What is left after trimming, boning, cooking or drying, and how much raw food fills jars.

Sources per row: SR28 refuse, SR Legacy portions, extension tables. Rows whose evidence says “derived” are estimates,
rows that say “doubtful” contradict themselves and are not to be used without checking.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.tables.csv_rows import DATA, CsvRow, grouped, read_csv

COLUMNS = ("food", "from_state", "to_state", "yield_fraction", "kind", "value", "unit", "source", "evidence")
LOAD_COLUMNS = (
    *("process_food", "form", "lb_per_7_quarts", "lb_per_9_pints", "lb_per_quart", "unit", "note"),
    *("source", "url", "evidence"),
)


@dataclass(frozen=True, slots=True)
class Yield:
    """Output over input mass (`fraction`), or for jars a printed `value` in `unit`, “14” or “2-2.5”."""

    food: str
    from_state: str
    to_state: str
    fraction: float | None
    kind: str
    value: str
    unit: str
    source: str
    evidence: str


@dataclass(frozen=True, slots=True)
class LoadAmount:
    """Raw food as bought [lb] for one load of 7 quarts or 9 pints, or per quart; None where not printed."""

    process_food: str
    form: str  # "" where one figure serves all forms
    lb_per_7_quarts: float | None
    lb_per_9_pints: float | None
    lb_per_quart: float | None
    note: str
    source: str
    url: str
    evidence: str


def _yield(row: CsvRow) -> Yield:
    """A row has a fraction or a value, or both."""
    if not (row.cells["yield_fraction"] or row.cells["value"]):
        raise row.broken("yield_fraction", "is empty and so is value")
    return Yield(
        food=row.text("food"),
        from_state=row.text("from_state"),
        to_state=row.text("to_state"),
        fraction=row.optional_number("yield_fraction"),
        kind=row.text("kind"),
        value=row.cells["value"],
        unit=row.cells["unit"],
        source=row.text("source"),
        evidence=row.text("evidence"),
    )


@cache
def _by_food() -> dict[str, tuple[Yield, ...]]:
    return grouped((row.text("food"), _yield(row)) for row in read_csv(DATA / "yields.csv", COLUMNS))


def yields(food_key: str) -> tuple[Yield, ...]:
    """The yields of one food; () where none is published."""
    return _by_food().get(food_key, ())


@cache
def produce_per_load() -> dict[str, tuple[LoadAmount, ...]]:
    """Fresh produce per canner load, by food of the process tables."""
    return grouped(
        (
            row.text("process_food"),
            LoadAmount(
                row.text("process_food"),
                row.cells["form"],
                row.optional_number("lb_per_7_quarts"),
                row.optional_number("lb_per_9_pints"),
                row.optional_number("lb_per_quart"),
                row.cells["note"],
                row.text("source"),
                row.cells["url"],
                row.text("evidence"),
            ),
        )
        for row in read_csv(DATA / "produce_per_load.csv", LOAD_COLUMNS)
    )
