"""The household folder of a household in the database: what the planner takes, and what one takes away."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from stillroom.errors import FolderError, InputError
from stillroom.household import written_words as words
from stillroom.household.arrivals_file import ArrivalsFile
from stillroom.household.folder import Folder, read_folder
from stillroom.household.household_file import HouseholdFile
from stillroom.household.larder_file import LarderFile
from stillroom.household.write_folder import WrittenFolder, file_texts, write_folder
from stillroom.web.arrivals.models import Arrival
from stillroom.web.kitchen.models import Household

_GRAM = 1.0  # less than this is nothing left


def folder_of(household: Household, *, start: date | None = None, days: int | None = None) -> Folder:
    """What the planner takes: the household over `days` days from `start` (today, and its own number of days).

    What is past its clock, was expected and did not come, or is used up is left out, with a note.
    The rows are written as a folder and read by its reader, so that there is one set of rules; InputError says what
    has to be mended first.
    """
    begins, notes = start or household.today, []
    planned = []
    for arrival in household.arrivals.prefetch_related("taken"):
        note = _why_left_out(arrival, begins)
        if note is None:
            planned.append(arrival)
        elif note:
            notes.append(note)
    with TemporaryDirectory() as place:
        write_folder(Path(place), written(household, planned, begins))
        try:
            found = read_folder(Path(place), days=days or household.plan_days)
        except FolderError as error:
            sentences = "; ".join(f"{wrong.field}: {wrong.problem}" for wrong in error.errors)
            raise InputError(f"The household can't be planned with yet: {sentences}.") from None
    return replace(found, notes=(*notes, *found.notes))


def zip_of(household: Household) -> bytes:
    """The household folder as a zip file, with all that is in the house today."""
    arrivals = [arrival for arrival in household.arrivals.prefetch_related("taken") if arrival.left_g >= _GRAM]
    texts = file_texts(written(household, arrivals, household.today))
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in texts.items():
            archive.writestr(name, text)
    return file.getvalue()


def written(household: Household, arrivals: list[Arrival], start: date) -> WrittenFolder:
    """The files of the folder, with these arrivals."""
    return WrittenFolder(
        kitchen=household.to_written(),
        household=HouseholdFile(
            name=household.name,
            invented=household.is_invented,
            start=start,
            eaters=[person.to_written_eater() for person in household.people.filter(eats=True)],
            meals=tuple(meal.to_written() for meal in household.meal_times.all()),
            dislikes=tuple(household.dislikes),
            targets={target.food: words.mass(target.mass_g) for target in household.targets.all()},
        ),
        arrivals=ArrivalsFile(arrivals=[arrival.to_written() for arrival in arrivals]),
        larder=LarderFile(lots=[lot.to_written() for lot in household.lots.filter(count__gt=0)]),
        recipes={recipe.key: recipe.text for recipe in household.recipes.all()},
    )


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
