"""`stillroom check FOLDER`: reads everything, says what it understood and what looks wrong."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from stillroom.household.folder import Folder

Json = dict[str, object]


def check_command(
    folder: Annotated[Path, typer.Argument(help="The household folder.")],
    days: Annotated[int, typer.Option(help="Days of the plan, 1 to 14.")] = 7,
    as_json: Annotated[bool, typer.Option("--json", help="For machines.")] = False,
) -> None:
    """Read a household folder and say what was understood, and what looks wrong."""
    from stillroom.household.folder import read_folder, warnings

    found = read_folder(folder, days=days)
    cautions = warnings(found)
    if as_json:
        print(json.dumps(_as_json(found, cautions), ensure_ascii=False, indent=2))
        return
    for line in _lines(found, cautions):
        print(line)


def _lines(folder: Folder, cautions: tuple[str, ...]) -> Iterator[str]:
    home = folder.household
    last = folder.start + timedelta(days=folder.days - 1)
    yield home.name + (" (invented)" if home.invented else "")
    yield f"Plan from {folder.start:%A %d %B %Y} to {last:%A %d %B %Y}, for {_counted(len(home.eaters), 'eater')}."
    yield ""
    yield "Arrivals"
    for arrival in folder.arrivals:
        until = arrival.day + timedelta(days=arrival.keep_days)
        what = f"{arrival.mass_g / 1000:6.1f} kg  {arrival.food}, {arrival.place}"
        yield f"  {arrival.day:%a %d %b}  {what}, until {until:%a %d %b}"
        yield f"              {arrival.keep_reason}"
    yield ""
    yield "Kitchen"
    yield from (f"  {line}" for line in _kitchen_lines(folder))
    yield ""
    yield "Meals"
    yield from (f"  {line}" for line in _meal_lines(folder))
    yield ""
    yield f"In store: {_counted(len(folder.larder), 'lot')}, {sum(lot.mass_g for lot in folder.larder) / 1000:.1f} kg."
    if folder.recipes:
        yield f"Own recipes: {', '.join(recipe.name for recipe in folder.recipes)}."
    yield ""
    yield f"Warnings: {len(cautions) or 'none'}"
    yield from (f"  ! {caution}" for caution in cautions)


def _kitchen_lines(folder: Folder) -> Iterator[str]:
    kitchen = folder.kitchen
    yield f"{kitchen.altitude_m:.0f} m above the sea, {kitchen.room_c:.0f} °C"
    for person in kitchen.people:
        hours = sum(_hour(span.end) - _hour(span.start) for span in person.presence)
        yield f"{person.name}{' (child)' if person.is_child else ''}: {hours:.1f} h in {folder.days} days"
    for canner in kitchen.canners:
        error = f", gauge {canner.gauge_error_psi:+g} psi" if canner.gauge_error_psi else ""
        tested = f", tested {canner.gauge_tested_on}" if canner.gauge_tested_on else ""
        yield f"{canner.name}: {canner.kind}{error}{tested}"
    yield f"{kitchen.burners} burners, {kitchen.oven_trays} oven trays, {kitchen.dryer_trays} dryer trays"
    free_l = kitchen.freezer.capacity_l - kitchen.freezer.used_l
    yield f"freezer {kitchen.freezer.capacity_l:.0f} L, {free_l:.0f} L free; fridge {kitchen.fridge_free_l:.0f} L free"
    for jar in kitchen.jars:
        yield f"jars “{jar.name}”: {jar.count}, lids {jar.lids}"


def _meal_lines(folder: Folder) -> Iterator[str]:
    by_day: dict[date, list[str]] = defaultdict(list)
    for meal in folder.household.meals:
        by_day[meal.day].append(f"{meal.at:%H:%M} {meal.name} ({' + '.join(meal.roles)}, {meal.portions:.1f} portions)")
    for day, meals in by_day.items():
        yield f"{day:%a %d %b}  {'; '.join(meals)}"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def _hour(at: time) -> float:
    return at.hour + at.minute / 60


def _as_json(folder: Folder, cautions: tuple[str, ...]) -> Json:
    kitchen = folder.kitchen
    return {
        "household": folder.household.name,
        "invented": folder.household.invented,
        "start": folder.start.isoformat(),
        "days": folder.days,
        "altitude_m": kitchen.altitude_m,
        "freezer_free_l": kitchen.freezer.capacity_l - kitchen.freezer.used_l,
        "arrivals": [
            {
                "key": arrival.key,
                "food": arrival.food,
                "mass_g": arrival.mass_g,
                "day": arrival.day.isoformat(),
                "until": (arrival.day + timedelta(days=arrival.keep_days)).isoformat(),
                "place": arrival.place.value,
                "reason": arrival.keep_reason,
            }
            for arrival in folder.arrivals
        ],
        "jars": [{"kind": jar.name, "count": jar.count, "lids": jar.lids} for jar in kitchen.jars],
        "meals": [
            {"key": meal.key, "at": f"{meal.at:%H:%M}", "roles": list(meal.roles), "portions": round(meal.portions, 2)}
            for meal in folder.household.meals
        ],
        "larder": [
            {"key": lot.key, "food": lot.food, "place": lot.place.value, "mass_g": lot.mass_g, "count": lot.count}
            for lot in folder.larder
        ],
        "recipes": [recipe.key for recipe in folder.recipes],
        "warnings": list(cautions),
    }
