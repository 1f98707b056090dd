"""A table from a spreadsheet into arrivals, larder or jars: all of it or nothing.

A row whose key is here already corrects that row, any other is added; nothing is taken out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import models, transaction

from stillroom.errors import InputError
from stillroom.household.bundles import Bundle, read_bundle
from stillroom.household.clock import State, clock
from stillroom.household.jars_on_shelf import jar_size
from stillroom.household.larder_file import LotLines, lot_of
from stillroom.household.measure_text import keep_days
from stillroom.model.household import Place
from stillroom.papers.tables import read_csv_text
from stillroom.process.jar_text import read_jar
from stillroom.tables.vocabulary import Heard, hear
from stillroom.web.arrivals.models import PLACES, Arrival, Taken
from stillroom.web.exchange.cells import Cells, Complained, count_to, number_in, one_of, read_day, read_yes_no
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household, JarStock
from stillroom.web.larder.models import Lot

MOST_BYTES = 1_000_000
_TOLD = 10  # of what is wrong
_MOST_WORTH, _MOST_JARS, _MOST_MM = 100_000.0, 10_000, 1000.0
_ROUNDING_G = 0.5


class _Reading:
    """One table on its way: the rows to be kept, and what was seen so far."""

    def __init__(self, household: Household) -> None:
        self.household = household
        self.rows: list[models.Model] = []
        self.seen: set[str] = set()
        self.new = 0

    def free_key(self, wanted: str, taken: models.QuerySet[models.Model]) -> str:
        """A key that is neither here nor in the table."""
        key, number = wanted, 1
        while key in self.seen or taken.filter(key=key).exists():
            number += 1
            key = f"{wanted} {number}"
        self.seen.add(key)
        return key

    def is_twice(self, cells: Cells, column: str, key: str) -> bool:
        """Whether an earlier row of the table is about the same; then it is told."""
        if key and key in self.seen:
            cells.complain(column, f"“{key}” stands in the table twice: keep one of the rows.")
            return True
        self.seen.add(key)
        return False

    def add(self, *rows: models.Model) -> None:
        """Rows to be kept."""
        self.new += rows[0].pk is None
        self.rows += rows


@transaction.atomic
def read_in(household: Household, data: bytes, *, at: datetime) -> Change:
    """The table is read in; InputError with a line for each thing that is wrong, and then nothing is kept."""
    columns, lines = read_csv_text(data)
    what, read = _which(columns)
    if not lines:
        raise InputError("There is nothing below row 1 of this file.")
    household = Household.objects.select_for_update().get(pk=household.pk)
    reading, wrong = _Reading(household), []
    for line in lines:
        cells = Cells(line)
        read(cells, reading, at)
        wrong += cells.wrong
    if wrong:
        more = [f"and {len(wrong) - _TOLD} more."] if len(wrong) > _TOLD else []
        raise InputError("\n".join(["Nothing was read in.", *wrong[:_TOLD], *more]))
    corrected = len(lines) - reading.new
    return keep(f"Read in {what}: {reading.new} new, {corrected} corrected", *reading.rows, at=at)


_Read = Callable[[Cells, _Reading, datetime], None]


def _which(columns: Sequence[str]) -> tuple[str, _Read]:
    """Which list it is, by the columns that it can't be without."""
    for what, needed, read in _KINDS:
        if needed <= set(columns):
            return what, read
    wanted = "; ".join(f"{what}: {', '.join(sorted(needed))}" for what, needed, _ in _KINDS)
    raise InputError(f"Row 1 names the columns of none of these lists. {wanted.capitalize()}.")


@dataclass(frozen=True, slots=True)
class _ReadArrival:
    """The cells that every arrival has, read."""

    heard: Heard
    bundle: Bundle
    day: date
    place: Place
    state: State
    given_days: int | None


def _read_arrival(cells: Cells) -> _ReadArrival | None:
    """None after a complaint."""
    heard = cells.needed("food", hear)
    bundle = cells.needed("amount", lambda text: read_bundle(text, heard.food.key)) if heard else None
    day = cells.needed("day", read_day)
    place = cells.needed("place", one_of(PLACES))
    state = cells.maybe("state", one_of(tuple(State))) or State.RAW
    given_days = cells.maybe("clock", keep_days)
    if heard is None or bundle is None or day is None or place is None or cells.wrong:
        return None
    with cells.about("clock" if given_days is not None else "place"):
        clock(heard.food, heard.form, state, place, given_days)
    return _ReadArrival(heard, bundle, day, place, state, given_days)


def _arrival(cells: Cells, reading: _Reading, at: datetime) -> None:
    """What is used already of a new one is a line of its own, as it was at home."""
    household, key, read = reading.household, cells.text("key"), _read_arrival(cells)
    if reading.is_twice(cells, "key", key) or read is None:
        return
    row = household.arrivals.filter(key=key).first() if key else None
    is_new = row is None
    if row is None:
        wanted = f"{read.heard.food.key} {read.day}"
        row = Arrival(household=household, key=key or reading.free_key(wanted, household.arrivals))
        row.is_here = read.day <= household.today
    _put(row, read, cells)
    used_g = sum(taken.mass_g for taken in row.taken.all()) if not is_new else 0.0
    if is_new:
        used_g = cells.maybe("used", lambda text: read_bundle(text, row.food).mass_g) or 0.0
    if used_g > row.mass_g + _ROUNDING_G:
        cells.complain("amount", "more of it is used already than came: write all that came.")
    cells.check(row)
    reading.add(row, *([Taken(arrival=row, mass_g=used_g, why="used before", at=at)] if is_new and used_g else []))


def _put(row: Arrival, read: _ReadArrival, cells: Cells) -> None:
    """What was read, into the row; a column that the table has not leaves what is there."""
    row.name, row.food, row.day = cells.text("food"), read.heard.food.key, read.day
    row.place, row.state = read.place.value, read.state.value
    row.mass_g, row.count, row.piece = read.bundle.mass_g, read.bundle.count, read.bundle.piece
    came, worth = cells.maybe("came", read_yes_no), cells.maybe("worth per kg", number_in(0.01, _MOST_WORTH))
    row.is_here = row.is_here if came is None else came
    row.given_days = read.given_days if cells.has("clock") else row.given_days
    row.worth_per_kg = worth if cells.has("worth per kg") else row.worth_per_kg
    row.note = cells.text("note") if cells.has("note") else row.note


def _lot(cells: Cells, reading: _Reading, at: datetime) -> None:
    household = reading.household
    place = cells.needed("place", one_of(tuple(Place)))
    made_on, best_by = cells.needed("made on", read_day), cells.needed("best by", read_day)
    product = cells.needed("product", str)
    amount = cells.needed("amount", str)
    key = cells.text("key")
    if reading.is_twice(cells, "key", key) or not (place and made_on and best_by and product and amount):
        return
    food = cells.text("food") or product
    lines = LotLines(product=product, food=food, place=place, amount=amount, made_on=made_on, best_by=best_by)
    try:
        found = lot_of(lines, household.today, lambda field: cells.strictly(field.replace("_", " ")))
    except Complained:
        return
    row = household.lots.filter(key=key).first() if key else None
    row = row or Lot(household=household, key=key or reading.free_key(found.key, household.lots))
    row.product, row.food, row.place = found.product, found.food, found.place.value
    row.mass_g, row.container, row.count = found.mass_g, found.container, found.count
    row.made_on, row.best_by = found.made_on, found.best_by
    cells.check(row)
    reading.add(row)


def _jar(cells: Cells, reading: _Reading, at: datetime) -> None:
    size = cells.needed("kind", read_jar)
    count, lids = cells.needed("count", count_to(_MOST_JARS)), cells.needed("lids", count_to(_MOST_JARS))
    reusable = cells.maybe("reusable lids", read_yes_no)
    diameter_mm = cells.maybe("diameter mm", number_in(1, _MOST_MM))
    height_mm = cells.maybe("height mm", number_in(1, _MOST_MM))
    if size is None or count is None or lids is None or cells.wrong:
        return
    if reading.is_twice(cells, "kind", f"{size.volume_ml:.0f} ml"):
        return
    with cells.about("kind"):
        jar_size(cells.text("kind"), diameter_mm, height_mm)
    alike = (jar for jar in reading.household.jars.all() if abs(read_jar(jar.kind).volume_ml - size.volume_ml) < 1)
    row = next(alike, None) or JarStock(household=reading.household, kind=cells.text("kind"))
    row.count, row.lids = count, lids
    row.has_reusable_lids = row.has_reusable_lids if reusable is None else reusable
    row.diameter_mm = diameter_mm if cells.has("diameter mm") else row.diameter_mm
    row.height_mm = height_mm if cells.has("height mm") else row.height_mm
    cells.check(row)
    reading.add(row)


_KINDS: tuple[tuple[str, frozenset[str], _Read], ...] = (
    ("arrivals", frozenset({"food", "amount", "day", "place"}), _arrival),
    ("larder", frozenset({"product", "amount", "place", "made on", "best by"}), _lot),
    ("jars", frozenset({"kind", "count", "lids"}), _jar),
)
