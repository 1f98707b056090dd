"""larder.yaml: what is in store when the plan starts."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from datetime import date
from functools import partial
from pathlib import Path

from pydantic import Field

from stillroom.errors import InputError
from stillroom.household.bundles import read_bundle
from stillroom.household.clock import check_stored
from stillroom.household.places import at
from stillroom.model.household import LarderLot, Place
from stillroom.tables.vocabulary import hear
from stillroom.yaml_files import Written, read_yaml


class LotLines(Written):
    """One lot as it is written; `amount` counts the containers too, like "9 quart jars of 900 g"."""

    key: str | None = None
    product: str = Field(min_length=1)
    food: str
    place: Place
    amount: str
    made_on: date
    best_by: date


class LarderFile(Written):
    """The file as it is written."""

    lots: list[LotLines]


def read_larder(path: Path, start: date | None) -> tuple[LarderLot, ...]:
    """The lots in store on `start` (None: not known); FileError with line and field when the file is wrong."""
    written = read_yaml(path, LarderFile).lots
    lots = tuple(lot_of(lines, start, partial(at, path, "lots", place)) for place, lines in enumerate(written))
    for place, lot in enumerate(lots):
        if any(lot.key == earlier.key for earlier in lots[:place]):
            with at(path, "lots", place):
                raise InputError(f"there are two lots “{lot.key}”: give one of them a “key” of its own.")
    return lots


def lot_of(
    lines: LotLines, start: date | None, field: Callable[[str], AbstractContextManager[None]] = lambda _: nullcontext()
) -> LarderLot:
    """The lot of these lines; InputError where they can't be. `field` is entered around what is said of one field."""
    with field("food"):
        food = hear(lines.food).food
    with field("amount"):
        bundle = read_bundle(lines.amount, food.key)
    with field("best_by"):
        if lines.best_by < lines.made_on:
            raise InputError(f"{lines.best_by} is before it was made on {lines.made_on}.")
        check_stored(food, lines.place, bundle.piece, (lines.best_by - lines.made_on).days)
    with field("made_on"):
        if start is not None and lines.made_on > start:
            raise InputError(f"it can't be in store already when the plan starts on {start}: is it an arrival?")
    return LarderLot(
        key=lines.key or f"{lines.product} {lines.made_on}",
        product=lines.product,
        food=food.key,
        place=lines.place,
        mass_g=bundle.mass_g,
        made_on=lines.made_on,
        best_by=lines.best_by,
        container=bundle.piece,
        count=bundle.count,
    )
