"""What is not wrong in a household folder, and yet will trouble the plan: one sentence each."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time, timedelta

from stillroom.household.clock import is_perishable
from stillroom.model.household import LarderLot, Meal, Place
from stillroom.model.kitchen import Canner, JarKind, Kitchen, Person
from stillroom.model.process import CannerKind
from stillroom.process.altitude_bands import LAST_FT, is_above_last_band
from stillroom.tables.constants import constant
from stillroom.tables.processes import no_process, rows_for
from stillroom.tables.vocabulary import Food, food
from stillroom.units import feet


def kitchen_cautions(kitchen: Kitchen, on: date, begins: time = time.min) -> Iterator[str]:
    """What keeps jars out of the plan, gauges that want testing, lids that run out, a freezer that is nearly full.

    Of the day `on` hours before `begins` have been taken away.
    """
    yield from _no_jar_cautions(kitchen)
    if not any(person.presence for person in kitchen.people if not person.is_child):
        yield _no_hours_words(on, begins)
    for canner in kitchen.canners:
        yield from _gauge_cautions(canner, on)
    for jar in kitchen.jars:
        yield from _lid_cautions(jar)
    free_l = kitchen.freezer.capacity_l - kitchen.freezer.used_l
    if free_l < 0.1 * kitchen.freezer.capacity_l:
        yield f"The freezer has room for {free_l:.0f} L more."


def meal_cautions(meals: tuple[Meal, ...], people: tuple[Person, ...]) -> Iterator[str]:
    """Meals at an hour when no adult is in the kitchen."""
    for meal in meals:
        if not any(_is_there(person, meal) for person in people if not person.is_child):
            yield f"No adult is in the kitchen at {meal.at:%H:%M} on {meal.day:%A %d %B} for {meal.name}."


def larder_cautions(larder: tuple[LarderLot, ...], on: date) -> Iterator[str]:
    """Lots past their best-by date, in the cold a limit of safety; jars of what has no tested process."""
    for lot in larder:
        if "jar" in lot.container and lot.place not in (Place.FRIDGE, Place.FREEZER) and _never_jarred(food(lot.food)):
            yield (
                f"{lot.product} of {lot.made_on} is kept in jars outside the cold, and there is no tested process for "
                f"{lot.food}: if it was put up at home, do not eat it."
            )
        if lot.best_by < on:
            then = "do not use it" if lot.place is Place.FRIDGE else "look at it before using it"
            yield f"{lot.product} of {lot.made_on} is past its best-by date, {lot.best_by}: {then}."


def _no_jar_cautions(kitchen: Kitchen) -> Iterator[str]:
    if not kitchen.canners:
        yield "There is no canner in the kitchen, so nothing is put up in jars."
    elif not any(jar.count for jar in kitchen.jars):
        yield "There are no jars in the kitchen, so nothing is put up in jars."
    elif is_above_last_band(feet(kitchen.altitude_m)):
        yield f"Tested processes end at {LAST_FT:,} ft, and this kitchen is higher: nothing is put up in jars."


def _no_hours_words(on: date, begins: time) -> str:
    if begins == time.min:
        return "No adult has any hours in the kitchen on these days, so nothing can be planned: write their hours."
    return (
        f"No adult is in the kitchen any more after {begins:%H:%M} on {on:%A} {on.day} {on:%B} or on the days planned "
        "after it, so nothing can be planned: begin earlier, or plan over more days."
    )


def _never_jarred(known: Food) -> bool:
    """Meat, dishes, eggs and milk products that the tables name as having no process at all."""
    if not (is_perishable(known) or known.group in ("eggs", "dairy")) or rows_for(known.process_food or known.key):
        return False
    return any(known.key in entry.foods and entry.methods == "all" for entry in no_process())


def _gauge_cautions(canner: Canner, on: date) -> Iterator[str]:
    if canner.kind is not CannerKind.DIAL:
        return
    off_psi = abs(canner.gauge_error_psi)
    if off_psi > constant("gauge_refuse_above_psi").value:
        yield f"The gauge of “{canner.name}” is off by {off_psi:g} psi: no process may be run by it; replace it."
    elif off_psi > constant("gauge_flag_psi").value:
        yield f"The gauge of “{canner.name}” is off by {off_psi:g} psi: replace it before the season."
    if canner.gauge_tested_on is None:
        yield f"The gauge of “{canner.name}” has no test on record: have it tested before using it."
    elif on - canner.gauge_tested_on > timedelta(days=constant("gauge_test_every_days").value):
        yield f"The gauge of “{canner.name}” was last tested on {canner.gauge_tested_on}: it is due every year."


def _lid_cautions(jar: JarKind) -> Iterator[str]:
    if jar.has_reusable_lids:
        yield (
            f"The lids for the jars “{jar.name}” are written down as reusable: use them as their maker says; extension "
            "services recommend flat lids, new each time."
        )
    if jar.lids < jar.count:
        yield f"There are {jar.count} jars “{jar.name}” and only {jar.lids} lids for them."


def _is_there(person: Person, meal: Meal) -> bool:
    return any(span.day == meal.day and span.start <= meal.at <= span.end for span in person.presence)
