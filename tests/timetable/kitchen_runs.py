"""The runs of a made-up kitchen: dishes, jars, loaves, drying, freezing, stock. Invented; minutes are whole fives."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from stillroom.model.work import Attention
from stillroom.timetable.problem import Demand, Mode, Resource

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
STEP_MIN = 5
RESOURCES = (
    Resource("burner", 3),
    Resource("oven", 2),
    Resource("canner", 1),
    Resource("mixer", 1),
    Resource("dryer", 6),
    Resource("sink", 1),
    Resource("bag of ice", 6, is_used_up=True),
)
OVEN_SETTINGS = ("150 °C", "180 °C", "220 °C")
BURNER, CANNER, SINK = (Demand(name, 1) for name in ("burner", "canner", "sink"))


@dataclass(frozen=True)
class Step:
    """One step of a run; `wait` is the least and the most since the step before has ended."""

    word: str
    attention: Attention
    modes: tuple[Mode, ...]
    wait: tuple[int, int] = (0, 0)
    reason: str = ""  # given for a wait that is kept for safety


def between(chance: random.Random, low: int, high: int, *demands: Demand) -> tuple[Mode, ...]:
    """One way of doing it, that takes whole fives of minutes."""
    return (Mode(chance.randrange(low, high + 1, STEP_MIN), demands),)


def dish(chance: random.Random) -> list[Step]:
    """Something for a meal, from the oven or from a burner."""
    steps = [Step("prepare", HANDS, between(chance, 10, 30))]
    if chance.random() < 0.5:
        oven = Demand("oven", chance.choice((1, 1, 2)), chance.choice(OVEN_SETTINGS))
        steps.append(Step("roast", NEAR, between(chance, 30, 90, oven), (0, 60)))
    else:
        steps.append(Step("simmer", NEAR, between(chance, 20, 60, BURNER), (0, 60)))
    if chance.random() < 0.5:
        steps.append(Step("serve", HANDS, (Mode(5),), (0, 10)))
    return steps


def jars(chance: random.Random) -> list[Step]:
    """One canner load, with the turn-round of the canner; jars may wait in it up to half an hour for hands."""
    (cool,) = between(chance, 30, 50, CANNER)
    cooling = tuple(Mode(cool.minutes + wait, cool.demands) for wait in (0, 15, 30))
    return [
        Step("peel", HANDS, between(chance, 20, 45)),
        Step("boil", NEAR, between(chance, 10, 25, BURNER), (0, 120)),
        Step("fill", HANDS, between(chance, 10, 25), (0, 15), "jars are filled hot"),
        Step("process", NEAR, between(chance, 60, 100, BURNER, CANNER), (0, 10), "no jar stands and cools"),
        Step("cool", FREE, cooling, (0, 0), "cooling is part of the process"),
        Step("lift out", HANDS, (Mode(10, (CANNER,)),), (0, 0), "the canner is taken until the jars are out"),
    ]


def loaf(chance: random.Random) -> list[Step]:
    """A dough that proves for some hours."""
    return _bread(chance, between(chance, 60, 150))


def night_loaf(chance: random.Random) -> list[Step]:
    """A dough that stands over night."""
    return _bread(chance, between(chance, 480, 660))


def _bread(chance: random.Random, prove: tuple[Mode, ...]) -> list[Step]:
    return [
        Step("mix", HANDS, between(chance, 10, 20, Demand("mixer", 1))),
        Step("prove", FREE, prove, (0, 0)),
        Step("shape", HANDS, between(chance, 5, 15), (0, 30)),
        Step("bake", NEAR, between(chance, 30, 50, Demand("oven", 1, "220 °C")), (40, 80)),
    ]


def drying(chance: random.Random) -> list[Step]:
    """Slices on some of the trays, into the night if need be."""
    trays = Demand("dryer", chance.randint(1, 3))
    return [
        Step("slice", HANDS, between(chance, 15, 40)),
        Step("dry", FREE, between(chance, 300, 600, trays), (0, 60)),
    ]


def packs(chance: random.Random) -> list[Step]:
    """Blanched, chilled and packed for the freezer."""
    return [
        Step("trim", HANDS, between(chance, 10, 30)),
        Step("blanch", HANDS, between(chance, 10, 20, BURNER), (0, 60)),
        Step("chill", FREE, _chilling(chance, 10, 20, 1), (0, 0)),
        Step("pack", HANDS, between(chance, 5, 15), (0, 30), "cold food does not stand about"),
    ]


def stock(chance: random.Random) -> list[Step]:
    """A pot that must cool in time."""
    return [
        Step("cut up", HANDS, between(chance, 10, 30)),
        Step("simmer", NEAR, between(chance, 90, 180, BURNER), (0, 60)),
        Step("cool", FREE, _chilling(chance, 30, 60, 2), (0, 20), "it cools within two hours"),
        Step("pack", HANDS, between(chance, 5, 15), (0, 60), "it cools within two hours"),
    ]


def _chilling(chance: random.Random, low: int, high: int, bags: int) -> tuple[Mode, ...]:
    """In the sink, with ice or, for half as long again, without."""
    (quick,) = between(chance, low, high, SINK, Demand("bag of ice", bags))
    return (quick, Mode(round(quick.minutes * 1.5 / STEP_MIN) * STEP_MIN, (SINK,)))


BY_DAY: tuple[Callable[[random.Random], list[Step]], ...] = (dish, dish, jars, loaf, drying, packs, stock)
