"""A household folder into the database, as a household of its own; nothing that is there already is touched."""

from __future__ import annotations

import stat
import zipfile
import zlib
from datetime import datetime, time, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import BinaryIO
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError
from django.db import models, transaction

from stillroom.errors import FolderError, InputError
from stillroom.household.arrivals_file import ArrivalLines, ArrivalsFile
from stillroom.household.bundles import read_bundle
from stillroom.household.folder import MOST_DAYS, Folder, read_folder
from stillroom.household.hours_text import week_of_hours
from stillroom.household.household_file import HouseholdFile
from stillroom.household.kitchen_file import KitchenFile
from stillroom.household.measure_text import gauge_error_psi, keep_days, length_mm
from stillroom.tables.vocabulary import hear
from stillroom.web.arrivals.models import Arrival
from stillroom.web.kitchen.actions import free_name
from stillroom.web.kitchen.models import (
    DAY_NAMES,
    Canner,
    Household,
    JarStock,
    MealDay,
    MealTime,
    OwnRecipe,
    PantryItem,
    Person,
    Target,
)
from stillroom.web.larder.models import Lot
from stillroom.yaml_files import read_yaml

MORNING = time(6)
MOST_BYTES = 5_000_000
MOST_FILES = 2_000
_ENCRYPTED = 0x1  # general purpose bit 0 of an entry (APPNOTE.TXT 4.4.4)


@transaction.atomic
def import_folder(path: Path) -> Household:
    """The folder as a new household, opened; FolderError names every file that is wrong, and then nothing is kept.

    Its name is another one where a household here has it: `name_wanted` is the name in the folder.

    In an invented household it is the first morning of its folder: its week is made for those days.
    """
    folder = read_folder(path, days=MOST_DAYS)
    household = _kitchen(path, folder)
    _people_and_meals(path, household)
    files = [path / "arrivals.yaml", *sorted((path / "arrivals").glob("*.yaml"))]
    for file in filter(Path.exists, files):
        for lines in read_yaml(file, ArrivalsFile).arrivals:
            _arrival(household, lines)
    _lots(household, folder)
    for file in sorted((path / "recipes").glob("*.yaml")):
        _keep(OwnRecipe(household=household, key=file.stem, text=file.read_text(encoding="utf-8")))
    if household.is_invented:
        morning = datetime.combine(folder.start, MORNING, ZoneInfo(household.time_zone))
        household.minutes_ahead = round((morning - household.now()) / timedelta(minutes=1))
        household.save()
    household.arrivals.filter(day__gt=household.today).update(is_here=False)
    return household


def import_zip(file: BinaryIO) -> Household:
    """A household folder in a zip file; the files may lie in one folder inside it."""
    with TemporaryDirectory() as place:
        _unpack(file, Path(place))
        found = next(iter(sorted(Path(place).rglob("kitchen.yaml"), key=lambda path: len(path.parts))), None)
        if found is None:
            raise InputError("There is no kitchen.yaml in this zip file: choose the zip file of a household folder.")
        try:
            return import_folder(found.parent)
        except FolderError as error:
            raise InputError(str(error).replace(f"{found.parent}/", "")) from None


def _unpack(file: BinaryIO, place: Path) -> None:
    """The text files of the archive; nothing outside `place`, nothing that swells."""
    try:
        archive = zipfile.ZipFile(file)
    except zipfile.BadZipFile:
        raise InputError("This is no zip file: choose the zip file of a household folder.") from None
    with archive:
        files = [info for info in archive.infolist() if info.filename.endswith(".yaml")]
        if len(files) > MOST_FILES or sum(info.file_size for info in files) > MOST_BYTES:
            raise InputError("This zip file is too large for a household folder: is it the right one?")
        for info in files:
            if info.flag_bits & _ENCRYPTED:
                raise InputError("This zip file has a password: pack the household folder without one.")
            target = (place / info.filename).resolve()
            if stat.S_ISLNK(info.external_attr >> 16) or not target.is_relative_to(place.resolve()):
                raise InputError("This zip file points outside itself and is not read.")
            target.parent.mkdir(parents=True, exist_ok=True)
            try:
                target.write_bytes(archive.read(info))
            except (zipfile.BadZipFile, zlib.error, NotImplementedError, EOFError):
                raise InputError(f"{info.filename} in this zip file is damaged: pack the folder again.") from None


def _keep(row: models.Model) -> None:
    """Saves a row that fits its table; InputError names what does not, a name of a thousand letters say."""
    try:
        row.full_clean()
    except ValidationError as error:
        field, complaints = next(iter(error.message_dict.items()))
        value = str(getattr(row, field, ""))[:40]
        raise InputError(f"{row._meta.verbose_name}, {field} “{value}”: {complaints[0]}") from None
    row.save()


def _kitchen(path: Path, folder: Folder) -> Household:
    kitchen = folder.kitchen
    lines = read_yaml(path / "kitchen.yaml", KitchenFile)
    household = Household(
        name=free_name(folder.household.name),
        is_invented=folder.household.invented,
        altitude_m=kitchen.altitude_m,
        room_c=kitchen.room_c,
        burners=kitchen.burners,
        small_burners=kitchen.small_burners,
        oven_trays=kitchen.oven_trays,
        freezer_capacity_l=kitchen.freezer.capacity_l,
        freezer_used_l=kitchen.freezer.used_l,
        fridge_free_l=kitchen.fridge_free_l,
        dryer_trays=kitchen.dryer_trays,
        has_mixer=kitchen.has_mixer,
        dislikes=list(folder.household.dislikes),
    )
    household.name_wanted = folder.household.name
    _keep(household)
    for canner in lines.canners:
        _keep(
            Canner(
                household=household,
                name=canner.name,
                kind=next(known.kind.value for known in kitchen.canners if known.name == canner.name),
                inside_diameter_mm=length_mm(canner.inside_diameter),
                inside_height_mm=length_mm(canner.inside_height),
                gauge_error_psi=None if canner.gauge_error is None else gauge_error_psi(canner.gauge_error),
                gauge_tested_on=canner.gauge_tested,
            )
        )
    for jar in lines.jars:
        _keep(
            JarStock(
                household=household,
                kind=jar.kind,
                count=jar.count,
                lids=jar.lids,
                has_reusable_lids=jar.reusable_lids,
                diameter_mm=None if jar.diameter is None else length_mm(jar.diameter),
                height_mm=None if jar.height is None else length_mm(jar.height),
            )
        )
    for food, mass_g in kitchen.pantry_g:
        _keep(PantryItem(household=household, food=food, mass_g=mass_g))
    for target in folder.household.targets:
        _keep(Target(household=household, food=target.food, mass_g=target.amount_g))
    return household


def _people_and_meals(path: Path, household: Household) -> None:
    """Who eats and who helps may be the same person, by the name."""
    kitchen, home = read_yaml(path / "kitchen.yaml", KitchenFile), read_yaml(path / "household.yaml", HouseholdFile)
    people: dict[str, Person] = {}
    for eater in home.eaters:
        age = None if eater.age is None or eater.age.lower() == "adult" else int(eater.age)
        people[eater.name] = Person(
            household=household,
            name=eater.name,
            age_years=age,
            appetite=eater.appetite,
            portion=eater.portion,
            helps=False,
            hours={},
        )
    for lines in kitchen.people:
        person = people.setdefault(lines.name, Person(household=household, name=lines.name, eats=False))
        week = week_of_hours(lines.hours)
        person.helps, person.is_child = True, lines.child
        person.hours = {
            name: ", ".join(f"{start:%H:%M}-{end:%H:%M}" for start, end in week.get(weekday, ()))
            for weekday, name in enumerate(DAY_NAMES)
        }
        person.exceptions = {day.isoformat(): hours for day, hours in lines.exceptions.items()}
        person.appointments, person.leaves = list(lines.appointments), [use.value for use in lines.leaves]
    for person in people.values():
        _keep(person)
    for meal in home.meals:
        _keep(
            MealTime(
                household=household,
                name=meal.name,
                days=meal.days,
                at=meal.at,
                roles=list(meal.roles),
                eaters=[people[name].pk for name in meal.eaters or ()],
            )
        )

    for one in home.meal_days:
        _keep(
            MealDay(
                household=household,
                day=one.day,
                name=one.meal,
                at=one.at,
                eaters=[people[name].pk for name in one.eaters or ()],
                guests=one.guests,
                child_guests=one.child_guests,
                is_left_out=one.left_out,
            )
        )


def _arrival(household: Household, lines: ArrivalLines) -> None:
    heard = hear(lines.food)
    bundle = read_bundle(lines.amount, heard.food.key)
    _keep(
        Arrival(
            household=household,
            key=lines.key or f"{heard.food.key} {lines.day}",
            name=lines.food,
            food=heard.food.key,
            mass_g=bundle.mass_g,
            count=bundle.count,
            piece=bundle.piece,
            day=lines.day,
            place=lines.place.value,
            state=lines.state.value,
            given_days=None if lines.clock is None else keep_days(lines.clock),
            worth_per_kg=lines.worth,
            note=lines.note,
        )
    )


def _lots(household: Household, folder: Folder) -> None:
    for lot in folder.larder:
        _keep(
            Lot(
                household=household,
                key=lot.key,
                product=lot.product,
                food=lot.food,
                place=lot.place.value,
                mass_g=lot.mass_g,
                container=lot.container,
                count=lot.count,
                made_on=lot.made_on,
                best_by=lot.best_by,
            )
        )
