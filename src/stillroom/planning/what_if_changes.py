"""A household folder with one thing changed: room, people, canners, jars, arrivals, meals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import replace
from datetime import date, time, timedelta
from functools import reduce

from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.household.hours_text import Hours, without
from stillroom.household.measure_text import volume_l
from stillroom.model.household import Arrival
from stillroom.model.kitchen import Canner, Kitchen, Person, Presence
from stillroom.model.process import CannerKind
from stillroom.quantities.amounts import mass_g
from stillroom.tables.vocabulary import hear

PRESSURE = (CannerKind.DIAL, CannerKind.WEIGHTED)
MOST = {"burner": 20, "oven tray": 20, "dryer tray": 60}  # as many as a kitchen file may have
MOST_JARS = 10_000
WHOLE_PIECES = 0.02  # of a piece


def room_added(folder: Folder, where: str, sign: str, amount: str) -> tuple[Folder, str]:
    """More or fewer litres of freezer or fridge."""
    litres = volume_l(amount) * (1 if sign == "+" else -1)
    kitchen = folder.kitchen
    if where == "fridge":
        free_l = kitchen.fridge_free_l + litres
        if free_l < 0:
            raise InputError(f"The fridge has only {kitchen.fridge_free_l:g} L free: take away less.")
        return _with(folder, replace(kitchen, fridge_free_l=free_l)), f"the fridge has {free_l:g} L free"
    freezer = replace(kitchen.freezer, capacity_l=kitchen.freezer.capacity_l + litres)
    if freezer.capacity_l < freezer.used_l:
        raise InputError(f"The freezer has {freezer.used_l:g} L in it: take away less.")
    return _with(folder, replace(kitchen, freezer=freezer)), f"the freezer holds {freezer.capacity_l:g} L"


def canner_added(folder: Folder, what: str) -> tuple[Folder, str]:
    """A second canner like one that is there; "canner" means a pressure canner where there is one."""
    canners = folder.kitchen.canners
    if not canners:
        raise InputError("There is no canner in kitchen.yaml that another could be like: write it there.")
    alike = next((canner for canner in canners if canner.name.casefold() == what), None)
    if alike is None and what in ("canner", "pressure canner"):
        alike = next(
            (canner for canner in canners if canner.kind in PRESSURE), canners[0] if what == "canner" else None
        )
    if alike is None:
        names = ", ".join(f"“another {canner.name}”" for canner in canners)
        raise InputError(
            f"There is no {what} here that another could be like; you can ask {names} or “another person”."
        )
    added = replace(alike, name=_new_name(alike.name, [canner.name for canner in canners]))
    words = f"there is another {alike.name} of the same size{_gauge_words(alike)}"
    return _with(folder, replace(folder.kitchen, canners=(*canners, added))), words


def counted_added(folder: Folder, count: int, what: str) -> tuple[Folder, str]:
    """More or fewer burners, trays, jars or lids."""
    name = what.removesuffix("s")
    if name in MOST:
        return _places_added(folder, count, name)
    kind = next((jar for jar in folder.kitchen.jars if name in (f"{jar.name} jar", f"{jar.name} lid")), None)
    if kind is None:
        jars = ", ".join(f"{jar.name} jars, {jar.name} lids" for jar in folder.kitchen.jars)
        raise InputError(
            f"“{what}” is nothing that is counted here; there are {', '.join(f'{n}s' for n in MOST)}, {jars}."
        )
    if name.endswith("jar"):
        changed = replace(kind, count=_in_range(kind.count + count, MOST_JARS, f"{kind.name} jars", kind.count))
        words = f"there are {changed.count} {kind.name} jars"
    else:
        changed = replace(kind, lids=_in_range(kind.lids + count, MOST_JARS, f"{kind.name} lids", kind.lids))
        words = f"there are {changed.lids} lids for {kind.name} jars"
    jars_now = tuple(changed if jar is kind else jar for jar in folder.kitchen.jars)
    return _with(folder, replace(folder.kitchen, jars=jars_now)), words


def person_added(folder: Folder, hours: Hours, weekdays: Set[int]) -> tuple[Folder, str]:
    """Somebody who lends two hands at those hours."""
    people = folder.kitchen.people
    name = _new_name("another person", [person.name for person in people])
    presence = tuple(Presence(day, start, end) for day in _days(folder, weekdays) for start, end in hours)
    left = _left_words(folder, presence)
    return (
        _with(folder, replace(folder.kitchen, people=(*people, Person(name, presence)))),
        f"{name} is in the kitchen {_when(folder, hours, weekdays)}{left}",
    )


def hours_added(folder: Folder, who: str, hours: Hours, weekdays: Set[int]) -> tuple[Folder, str]:
    """A person of the kitchen at more hours, but for appointments."""
    person = _adult(folder.kitchen, who)
    added = [
        Presence(day, start, end)
        for day in _days(folder, weekdays)
        for start, end in reduce(
            lambda left, away: without(left, away.start, away.end),
            (appointment for appointment in person.appointments if appointment.day == day),
            hours,
        )
    ]
    words = f"{person.name} is also there {_when(folder, hours, weekdays)}{_left_words(folder, added)}"
    return _with_person(folder, person, replace(person, presence=_joined([*person.presence, *added]))), words


def hours_taken(folder: Folder, who: str, weekdays: Set[int]) -> tuple[Folder, str]:
    """A person of the kitchen away on some days."""
    person, days = _adult(folder.kitchen, who), _days(folder, weekdays)
    kept = tuple(span for span in person.presence if span.day not in days)
    if folder.begins > time.min and days == [folder.start] and len(kept) == len(person.presence):
        raise InputError(
            f"{person.name} is not in the kitchen any more {_begins_words(folder)}: ask about a later day."
        )
    return _with_person(
        folder, person, replace(person, presence=kept)
    ), f"{person.name} is away {_on(folder, weekdays)}"


def arrival_moved(folder: Folder, food: str, days: int) -> tuple[Folder, str]:
    """All arrivals of a food so many days later; their clock begins when they come.

    What has come before the plan starts can't come later: it would be given a longer clock than it has.
    """
    moved = []
    for arrival in _arrivals_of(folder, food):
        day = arrival.day + timedelta(days=days)
        if arrival.day < folder.start:
            raise InputError(f"{arrival.food} came on {arrival.day}, before the plan starts: its clock is running.")
        if not folder.start <= day < folder.start + timedelta(days=folder.days):
            raise InputError(f"{arrival.food} would come on {day}, outside the plan of {folder.days} days.")
        moved.append(replace(arrival, day=day))
    when = " and ".join(f"{arrival.day:%A} {arrival.day.day} {arrival.day:%B}" for arrival in moved)
    words = f"{moved[0].food} comes on {when} (only if it is not in the house yet: its clock begins when it comes)"
    return _with_arrivals(folder, moved), words


def food_added(folder: Folder, food: str, sign: str, amount: str) -> tuple[Folder, str]:
    """More or less of a food that comes in, in its first arrival; all of it gone where no amount is said."""
    found = _arrivals_of(folder, food)
    if not amount:
        gone = {arrival.key for arrival in found}
        kept = tuple(arrival for arrival in folder.arrivals if arrival.key not in gone)
        return replace(folder, arrivals=kept), f"there is no {found[0].food}"
    arrival = found[0]
    mass = arrival.mass_g + mass_g(amount, arrival.food) * (1 if sign == "+" else -1)
    pieces = mass / arrival.piece_g if arrival.piece_g else 0.0
    if mass <= 0:
        raise InputError(f"Only {arrival.mass_g / 1000:.3g} kg of {arrival.food} comes in: take away less.")
    if abs(pieces - round(pieces)) > WHOLE_PIECES:
        raise InputError(f"{arrival.food} comes in pieces of {arrival.piece_g / 1000:.3g} kg: add or take whole ones.")
    words = f"{mass / 1000:.3g} kg of {arrival.food} comes on {arrival.day:%A}"
    return _with_arrivals(folder, [replace(arrival, mass_g=mass)]), words


def meal_moved(folder: Folder, name: str, at: str, weekdays: Set[int]) -> tuple[Folder, str]:
    """A meal at another hour."""
    try:
        hour = time.fromisoformat(at.zfill(5))
    except ValueError:
        raise InputError(f"“{at}” is no time of day: hours run from 0:00 to 23:59.") from None
    home = folder.household
    moved = [meal for meal in home.meals if meal.name.casefold() == name and meal.day.weekday() in weekdays]
    if not moved:
        names = ", ".join(dict.fromkeys(meal.name for meal in home.meals))
        meals_words = f"the meals are {names}" if names else "there are no meals any more"
        raise InputError(f"No meal “{name}” is planned then; {meals_words}.")
    over = [meal for meal in moved if (meal.day, hour) <= (folder.start, folder.begins)]
    if len(over) == len(moved):
        raise InputError(f"{hour:%H:%M} is over {_begins_words(folder)}: ask for {moved[0].name} at a later hour.")
    meals = tuple(replace(meal, at=hour) if meal in moved else meal for meal in home.meals)
    words = f"{moved[0].name} is at {hour:%H:%M} {_on(folder, {meal.day.weekday() for meal in moved})}"
    if over:
        words += f"; that of {folder.start:%A} falls away: {hour:%H:%M} is over {_begins_words(folder)}"
    return replace(folder, household=replace(home, meals=meals)), words


def _places_added(folder: Folder, count: int, name: str) -> tuple[Folder, str]:
    kitchen = folder.kitchen
    before = {"burner": kitchen.burners, "oven tray": kitchen.oven_trays, "dryer tray": kitchen.dryer_trays}[name]
    after = _in_range(before + count, MOST[name], f"{name}s", before)
    changed = {
        "burner": replace(kitchen, burners=after),
        "oven tray": replace(kitchen, oven_trays=after),
        "dryer tray": replace(kitchen, dryer_trays=after),
    }[name]
    return _with(folder, changed), f"there are {after} {name}s"


def _in_range(value: int, most: int, what: str, before: int) -> int:
    if not 0 <= value <= most:
        raise InputError(f"There are {before} {what} now: ask for between 0 and {most} in all.")
    return value


def _arrivals_of(folder: Folder, words: str) -> Sequence[Arrival]:
    """By key, by the name of the food, or by a part of that name which only one food has."""
    by_key = [arrival for arrival in folder.arrivals if arrival.key.casefold() == words]
    if by_key:
        return by_key
    try:
        heard = hear(words).food.key
    except InputError:
        heard = words
    found = [arrival for arrival in folder.arrivals if arrival.food == heard]
    if not found:
        said = set(heard.replace(",", " ").split())
        found = [arrival for arrival in folder.arrivals if said <= set(arrival.food.replace(",", " ").split())]
    foods = dict.fromkeys(arrival.food for arrival in found)
    if len(foods) != 1:
        coming = ", ".join(dict.fromkeys(arrival.food for arrival in folder.arrivals)) or "nothing"
        why = f"could be {' or '.join(foods)}" if foods else f"does not come in; what comes is {coming}"
        raise InputError(f"“{words}” {why}.")
    return found


def _adult(kitchen: Kitchen, who: str) -> Person:
    adults = [person for person in kitchen.people if not person.is_child]
    found = next((person for person in adults if person.name.casefold() == who), None)
    if found is None:
        names = ", ".join(person.name for person in adults)
        raise InputError(f"“{who}” is nobody whose hands are counted; there are {names}.")
    return found


def _joined(spans: Iterable[Presence]) -> tuple[Presence, ...]:
    """Spans in order; those that meet or overlap are one, so that no minute counts twice."""
    found: list[Presence] = []
    for span in sorted(spans, key=lambda span: (span.day, span.start)):
        if found and found[-1].day == span.day and span.start <= found[-1].end:
            found[-1] = replace(found[-1], end=max(found[-1].end, span.end))
        else:
            found.append(span)
    return tuple(found)


def _new_name(name: str, taken: Sequence[str]) -> str:
    """The name itself, or with the first number that is free."""
    if name not in taken:
        return name
    return next(f"{name} {number}" for number in range(2, len(taken) + 3) if f"{name} {number}" not in taken)


def _gauge_words(canner: Canner) -> str:
    return ", with a gauge like it, tested as lately" if canner.kind is CannerKind.DIAL else ""


def _days(folder: Folder, weekdays: Set[int]) -> list[date]:
    dates = (folder.start + timedelta(days=number) for number in range(folder.days))
    found = [day for day in dates if day.weekday() in weekdays]
    if not found:
        raise InputError(f"No day of the plan is such a day: it runs over {folder.days} days from {folder.start:%A}.")
    return found


def _when(folder: Folder, hours: Hours, weekdays: Set[int]) -> str:
    spans = " and ".join(f"{start:%H:%M}–{end:%H:%M}" for start, end in hours)
    return f"{spans} {_on(folder, weekdays)}"


def _on(folder: Folder, weekdays: Set[int]) -> str:
    days = _days(folder, weekdays)
    if len(days) == folder.days:
        return "every day"
    return "on " + " and ".join(f"{day:%A} {day.day} {day:%B}" for day in days)


def _left_words(folder: Folder, added: Sequence[Presence]) -> str:
    """What of hours that are added is over; InputError where all of it is."""
    over = [span for span in added if span.day == folder.start and span.start < folder.begins]
    if over and all(span in over and span.end <= folder.begins for span in added):
        raise InputError(f"These hours are over {_begins_words(folder)}: ask for later ones.")
    return f", but for what is over {_begins_words(folder)}" if over else ""


def _begins_words(folder: Folder) -> str:
    """at 18:15 on Friday 9 April, when the plan begins."""
    return f"at {folder.begins:%H:%M} on {folder.start:%A} {folder.start.day} {folder.start:%B}, when the plan begins"


def _with(folder: Folder, kitchen: Kitchen) -> Folder:
    return replace(folder, kitchen=kitchen)


def _with_person(folder: Folder, person: Person, changed: Person) -> Folder:
    people = tuple(changed if other is person else other for other in folder.kitchen.people)
    return _with(folder, replace(folder.kitchen, people=people))


def _with_arrivals(folder: Folder, changed: Sequence[Arrival]) -> Folder:
    """Arrivals with those changed in place of the old ones of the same key, in order of their day."""
    new = {arrival.key: arrival for arrival in changed}
    arrivals = [new.get(arrival.key, arrival) for arrival in folder.arrivals]
    return replace(folder, arrivals=tuple(sorted(arrivals, key=lambda arrival: (arrival.day, arrival.key))))
