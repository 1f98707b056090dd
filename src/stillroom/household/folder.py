"""A household folder: kitchen.yaml, household.yaml, arrivals.yaml (or arrivals/*.yaml), larder.yaml, recipes/*.yaml,
done.yaml."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from functools import partial
from pathlib import Path
from typing import TypeVar

from stillroom.errors import FileError, FolderError, InputError
from stillroom.household.arrivals_file import read_arrivals
from stillroom.household.cautions import kitchen_cautions, larder_cautions, meal_cautions
from stillroom.household.done_file import read_done
from stillroom.household.household_file import read_household
from stillroom.household.kitchen_file import read_kitchen
from stillroom.household.larder_file import read_larder
from stillroom.household.own_recipes import why_left_out
from stillroom.model.household import Arrival, Eater, Household, LarderLot, TimeTaken
from stillroom.model.kitchen import Kitchen, Presence, is_too_young
from stillroom.model.recipe import Recipe
from stillroom.recipes.reader import read_recipe

MOST_DAYS = 14
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Folder:
    """Everything in a household folder, over the days of a plan; `notes` are warnings found while reading."""

    path: Path
    start: date
    days: int
    kitchen: Kitchen
    household: Household
    arrivals: tuple[Arrival, ...]
    larder: tuple[LarderLot, ...]
    recipes: tuple[Recipe, ...]  # the folder's own
    notes: tuple[str, ...] = ()
    times: tuple[TimeTaken, ...] = ()  # that steps have really taken
    begins: time = time.min  # hour of the first day before which nothing is planned

    def from_hour(self, begins: time) -> Folder:
        """The same with what is left of its first day: hours before are gone, and so are meals eaten by then."""
        begins = max(begins, self.begins)
        people = tuple(
            replace(person, presence=tuple(_left_of(person.presence, self.start, begins)))
            for person in self.kitchen.people
        )
        meals = tuple(meal for meal in self.household.meals if (meal.day, meal.at) > (self.start, begins))
        return replace(
            self,
            kitchen=replace(self.kitchen, people=people),
            household=replace(self.household, meals=meals),
            begins=begins,
        )


def read_folder(path: Path, *, days: int = 7) -> Folder:
    """The folder over `days` days (1 to 14); FolderError with one FileError for every file that is wrong."""
    if not 1 <= days <= MOST_DAYS:
        raise InputError(f"A plan runs over 1 to {MOST_DAYS} days, not {days}.")
    if not path.is_dir():
        raise InputError(f"{path} is not a folder; name the folder that holds kitchen.yaml and household.yaml.")
    return _Reader(path, days).read()


class _Reader:
    """Reads file after file and keeps the first error of each."""

    def __init__(self, path: Path, days: int) -> None:
        self._path, self._days = path, days
        self._errors: list[FileError] = []

    def read(self) -> Folder:
        path, days = self._path, self._days
        home = self._try(partial(read_household, path / "household.yaml", days))
        start = home.start if home else None
        kitchen = self._try(partial(read_kitchen, path / "kitchen.yaml", start or date.min, days))
        arrivals, notes = self._arrivals(start)
        larder = self._try(partial(read_larder, path / "larder.yaml", start)) if self._has("larder.yaml") else ()
        times = self._try(partial(read_done, path / "done.yaml")) if self._has("done.yaml") else ()
        recipes, refused = self._recipes()
        if self._errors or home is None or kitchen is None or larder is None or times is None:
            raise FolderError(tuple(self._errors))
        kitchen = _with_children(kitchen, home.household.eaters)
        return Folder(
            path, home.start, days, kitchen, home.household, arrivals, larder, recipes, (*notes, *refused), times
        )

    def _arrivals(self, start: date | None) -> tuple[tuple[Arrival, ...], tuple[str, ...]]:
        files = sorted((self._path / "arrivals").glob("*.yaml"))
        if self._has("arrivals.yaml") or not files:
            files.insert(0, self._path / "arrivals.yaml")
        arrivals: dict[str, Arrival] = {}
        notes: list[str] = []
        for file in files:
            found, file_notes = self._try(partial(read_arrivals, file, start, self._days)) or ((), ())
            notes += file_notes
            for arrival in found:
                if arrival.key in arrivals:
                    problem = f"there are two arrivals “{arrival.key}”: give one of them a “key” of its own"
                    self._errors.append(FileError(file, None, "arrivals", problem))
                arrivals[arrival.key] = arrival
        return tuple(sorted(arrivals.values(), key=lambda arrival: (arrival.day, arrival.key))), tuple(notes)

    def _recipes(self) -> tuple[tuple[Recipe, ...], tuple[str, ...]]:
        """Those that may be planned, and a warning for each that is not safe as it is written."""
        files = sorted((self._path / "recipes").glob("*.yaml"))
        found = [recipe for file in files if (recipe := self._try(partial(read_recipe, file))) is not None]
        why = {recipe.key: why_left_out(recipe) for recipe in found}
        return (
            tuple(recipe for recipe in found if not why[recipe.key]),
            tuple(
                f"{recipe.name} (recipes/{recipe.key}.yaml) is left out: {why[recipe.key]}"
                for recipe in found
                if why[recipe.key]
            ),
        )

    def _has(self, name: str) -> bool:
        return (self._path / name).exists()

    def _try(self, read: Callable[[], T]) -> T | None:
        try:
            return read()
        except FileError as error:
            self._errors.append(error)
            return None


def _left_of(presence: Iterable[Presence], day: date, begins: time) -> Iterator[Presence]:
    for span in presence:
        if span.day != day or span.start >= begins:
            yield span
        elif span.end > begins:
            yield replace(span, start=begins)


def warnings(folder: Folder) -> tuple[str, ...]:
    """One sentence for everything that is not wrong and yet will trouble the plan."""
    return (
        *folder.notes,
        *kitchen_cautions(folder.kitchen, folder.start, folder.begins),
        *meal_cautions(folder.household.meals, folder.kitchen.people),
        *larder_cautions(folder.larder, folder.start),
    )


def _with_children(kitchen: Kitchen, eaters: Sequence[Eater]) -> Kitchen:
    """Whoever is too young by their age at table helps as a child, whatever kitchen.yaml says."""
    young = {eater.name for eater in eaters if is_too_young(eater.age_years)}
    people = (replace(person, is_child=person.is_child or person.name in young) for person in kitchen.people)
    return replace(kitchen, people=tuple(people))
