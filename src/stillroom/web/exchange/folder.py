"""The household folder of a household in the database: what the planner takes, and what one takes away."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from stillroom.errors import FolderError, InputError
from stillroom.household import written_words as words
from stillroom.household.arrivals_file import ArrivalsFile
from stillroom.household.folder import Folder, read_folder
from stillroom.household.household_file import HouseholdFile, MealDayLines
from stillroom.household.larder_file import LarderFile, LotLines, lot_of
from stillroom.household.write_folder import WrittenFolder, file_texts, write_folder
from stillroom.model.household import LarderLot
from stillroom.web.arrivals.models import Arrival
from stillroom.web.kitchen.models import DAY_NAMES, Household
from stillroom.web.larder.models import Lot

_GRAM = 1.0  # less than this is nothing left
_LOT_FIELDS = ("key", "product", "food", "place", "mass_g", "container", "count", "made_on", "best_by")


def folder_of(
    household: Household, *, start: date | None = None, days: int | None = None, lots: Collection[str] | None = None
) -> Folder:
    """What the planner takes: the household over `days` days from `start` (today, and its own number of days).

    What is past its clock, was expected and did not come, or is used up is left out, with a note.
    The rows are written as a folder and read by its reader, so that there is one set of rules; InputError says what
    has to be mended first. With `lots` only the lots of these keys stand in it.
    """
    begins, notes = start or household.today, []
    planned = []
    for arrival in household.arrivals.prefetch_related("taken"):
        note = _why_left_out(arrival, begins)
        if note is None:
            planned.append(arrival)
        elif note:
            notes.append(note)
    files = written(household, planned, begins, lots=())
    found = _read(_Files(repr(files), files), days or household.plan_days)
    left = household.lots.filter(count__gt=0)
    rows = (left if lots is None else left.filter(key__in=lots)).values_list(*_LOT_FIELDS)
    return replace(found, larder=tuple(_read_lot(row, begins) for row in rows), notes=(*notes, *found.notes))


@dataclass(frozen=True, slots=True)
class _Files:
    """The files of a folder; the same text makes the same folder."""

    text: str
    files: WrittenFolder = field(compare=False)


# Pages ask for the same folder again and again; tens of recipes and hundreds of lots take half a second to read.
@lru_cache(maxsize=4)
def _read(rows: _Files, days: int) -> Folder:
    """The folder of these files, without its lots."""
    with TemporaryDirectory() as place:
        write_folder(Path(place), rows.files)
        try:
            return read_folder(Path(place), days=days)
        except FolderError as error:
            raise _not_yet(*(f"{wrong.field}: {wrong.problem}" for wrong in error.errors)) from None


@lru_cache(maxsize=50_000)
def _read_lot(row: tuple[Any, ...], start: date) -> LarderLot:
    """The lot of this row, by the rules of larder.yaml."""
    lot = Lot(**dict(zip(_LOT_FIELDS, row, strict=True)))
    try:
        return lot_of(lot.to_written(), start)
    except InputError as error:
        raise _not_yet(f"{lot.product}: {error}") from None


def _not_yet(*sentences: str) -> InputError:
    said = "; ".join(sentence.rstrip(".") for sentence in sentences)
    return InputError(f"The household can't be planned with yet: {said}.")


def zip_of(household: Household) -> bytes:
    """The household folder as a zip file, with all that is in the house today."""
    arrivals = [arrival for arrival in household.arrivals.prefetch_related("taken") if arrival.left_g >= _GRAM]
    lots = [lot.to_written() for lot in household.lots.filter(count__gt=0)]
    texts = file_texts(written(household, arrivals, household.today, lots))
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in texts.items():
            archive.writestr(name, text)
    return file.getvalue()


def written(household: Household, arrivals: list[Arrival], start: date, lots: Sequence[LotLines]) -> WrittenFolder:
    """The files of the folder, with these arrivals and lots."""
    return WrittenFolder(
        kitchen=household.to_written(),
        household=HouseholdFile(
            name=household.name,
            invented=household.is_invented,
            start=start,
            eaters=[person.to_written_eater() for person in household.people.filter(eats=True)],
            meals=tuple(meal.to_written() for meal in household.meal_times.all()),
            meal_days=_meal_days(household, start),
            dislikes=tuple(household.dislikes),
            targets={target.food: words.mass(target.mass_g) for target in household.targets.all()},
        ),
        arrivals=ArrivalsFile(arrivals=[arrival.to_written() for arrival in arrivals]),
        larder=LarderFile(lots=list(lots)),
        recipes={recipe.key: recipe.text for recipe in household.recipes.all()},
    )


def _meal_days(household: Household, start: date) -> tuple[MealDayLines, ...]:
    """What is different from `start` on, of meals that there still are."""
    usual = {(meal.name, day) for meal in household.meal_times.all() for day in meal.day_names}
    rows = household.meal_days.filter(day__gte=start)
    return tuple(row.to_written() for row in rows if (row.name, DAY_NAMES[row.day.weekday()]) in usual)


def _why_left_out(arrival: Arrival, start: date) -> str | None:
    """Why an arrival is not planned with; None when it is, "" when nothing needs to be said."""
    if arrival.left_g < _GRAM:
        return ""
    if not arrival.is_here and arrival.day < start:
        return f"{arrival.name} was expected on {arrival.day} and is not planned with: say whether it came."
    try:
        last_day = arrival.last_day
    except InputError as error:
        return f"{arrival.name} is not planned with: {error}"
    if last_day < start:
        return f"{arrival.name} ran out of its clock on {last_day} and is not planned with: look at it and decide."
    return None
