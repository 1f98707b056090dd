"""What each day and the whole plan have to share: hands, canners, oven, burners, freezer, jars, lids."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from stillroom.allocation.problem import Capacity, Pool
from stillroom.model.kitchen import JarKind, Kitchen, Person
from stillroom.physics.freezer import load_per_day_kg
from stillroom.tables.constants import constant

EQUIPMENT_SHARE = 0.9
LEAST_CANNER_BLOCK_MIN = 45  # nothing is canned in less
DAY_MIN = 24 * 60


@dataclass(frozen=True, slots=True)
class Pace:
    """How much of their time in the kitchen people are counted on; common practice, no source.

    `preparing_min`: before the first canner load of each stretch in the kitchen.
    """

    hands_share: float
    preparing_min: int


# The timetable proves the days: what the split wants too much does not fit there.
BRISK = Pace(hands_share=0.85, preparing_min=45)


def minutes_from(start: date, day: date, at: time) -> int:
    """Minutes from midnight of the plan's first day."""
    return (day - start).days * DAY_MIN + at.hour * 60 + at.minute


def moment(start: date, minute: int) -> datetime:
    """The clock time of a minute of the plan."""
    return datetime.combine(start, time()) + timedelta(minutes=minute)


def working(kitchen: Kitchen) -> tuple[Person, ...]:
    """Those whose hands are counted on: adults."""
    return tuple(person for person in kitchen.people if not person.is_child)


def presence_min(kitchen: Kitchen, start: date, day: int) -> tuple[tuple[int, int], ...]:
    """Spans of each adult's presence on a day, in minutes of the plan."""
    wanted = start + timedelta(days=day)
    return tuple(
        (minutes_from(start, wanted, span.start), minutes_from(start, wanted, span.end))
        for person in working(kitchen)
        for span in person.presence
        if span.day == wanted
    )


def open_min(kitchen: Kitchen, start: date, day: int) -> tuple[int, int] | None:
    """First and last minute on which an adult is in the kitchen that day; None when nobody is."""
    spans = presence_min(kitchen, start, day)
    return (min(s for s, _ in spans), max(e for _, e in spans)) if spans else None


def attended_blocks(kitchen: Kitchen, start: date, day: int) -> tuple[tuple[int, int], ...]:
    """Spans of the day, in minutes of the plan, in which at least one adult is there."""
    blocks: list[tuple[int, int]] = []
    for begin, end in sorted(presence_min(kitchen, start, day)):
        if blocks and begin <= blocks[-1][1]:
            blocks[-1] = (blocks[-1][0], max(end, blocks[-1][1]))
        else:
            blocks.append((begin, end))
    return tuple(blocks)


def attended_min(kitchen: Kitchen, start: date, day: int) -> int:
    """Minutes of the day with an adult there."""
    return sum(end - begin for begin, end in attended_blocks(kitchen, start, day))


def canner_min(kitchen: Kitchen, start: date, day: int, preparing_min: int) -> int:
    """Minutes of the day in which a canner can be at work: each time somebody comes in, food is prepared first."""
    ready = (end - begin - preparing_min for begin, end in attended_blocks(kitchen, start, day))
    return sum(minutes for minutes in ready if minutes >= LEAST_CANNER_BLOCK_MIN)


def capacities(kitchen: Kitchen, start: date, days: int, pace: Pace) -> tuple[Capacity, ...]:
    """Everything that is there anew each day."""
    hands = tuple(pace.hands_share * sum(e - s for s, e in presence_min(kitchen, start, day)) for day in range(days))
    attended = tuple(EQUIPMENT_SHARE * attended_min(kitchen, start, day) for day in range(days))
    freezing_g = daily_freezing_g(kitchen)
    found = [
        Capacity("hands", hands, "hands", "min"),
        Capacity("burner", tuple(kitchen.burners * minutes for minutes in attended), "the burners", "min"),
        Capacity("oven", tuple(kitchen.oven_trays * minutes for minutes in attended), "the oven trays", "min"),
        Capacity("dryer", (kitchen.dryer_trays * DAY_MIN * EQUIPMENT_SHARE,) * days, "the dryer trays", "min"),
        Capacity("freezing", (freezing_g,) * days, "what the freezer freezes in a day", "g"),
    ]
    canning = tuple(float(canner_min(kitchen, start, day, pace.preparing_min)) for day in range(days))
    found.extend(Capacity(canner.name, canning, f"the {canner.name}", "min") for canner in kitchen.canners)
    return tuple(found)


def daily_freezing_g(kitchen: Kitchen) -> float:
    """Grams that the freezer freezes in a day, by the lower figure of the rule (R124); 0 without a freezer."""
    litres = kitchen.freezer.capacity_l
    return 1000 * load_per_day_kg(litres, constant("freezer_load_g_per_l_day").value) if litres > 0 else 0.0


def plannable_freezer_l(kitchen: Kitchen) -> float:
    """Litres that may be full: a freezer packed to the brim is neither found in nor cold (rule R126)."""
    return constant("freezer_fill_share").value * kitchen.freezer.capacity_l


def jars_pool(jar: JarKind) -> str:
    """The pool of the empty jars of a kind."""
    return f"jars {jar.name}"


def lids_pool(jar: JarKind) -> str:
    """The pool of the lids that fit a kind."""
    return f"lids {jar.name}"


def pools(kitchen: Kitchen) -> tuple[Pool, ...]:
    """Everything that is there once."""
    free_l = max(0.0, plannable_freezer_l(kitchen) - kitchen.freezer.used_l)
    found = [Pool("freezer", free_l, "the freezer", "L")]
    for jar in kitchen.jars:
        found.append(Pool(jars_pool(jar), jar.count, f"the {jar.name} jars", ""))
        found.append(Pool(lids_pool(jar), jar.lids, f"the lids for {jar.name} jars", ""))
    return tuple(found)
