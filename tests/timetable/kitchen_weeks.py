"""Made-up kitchen weeks of a given size, from a seed: invented, and meant to be about as tight as a real one."""

from __future__ import annotations

import random

from stillroom.model.work import Attention
from stillroom.timetable.problem import Demand, Lag, Mode, Problem, Resource, Span, Task, Worker

DAY_MIN = 1440
OVEN_SETTINGS = ("150 °C", "180 °C", "220 °C")
HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE


def kitchen_week(seed: int, tasks: int, days: int = 7) -> Problem:
    """About `tasks` tasks over `days` days: canner loads, dinners, loaves and drying."""
    week = _Week(random.Random(seed), days)
    while len(week.tasks) < tasks:
        week.add_run()
    people = (
        Worker("Ann", tuple(Span(day * DAY_MIN + 420, day * DAY_MIN + 1260) for day in range(days))),
        Worker("Ben", tuple(Span(day * DAY_MIN + 960, day * DAY_MIN + 1260) for day in range(days))),
    )
    resources = (
        Resource("burner", 4),
        Resource("oven", 2),
        Resource("canner", 1),
        Resource("dryer", 6),
        Resource("mixer", 1),
    )
    return Problem(tuple(week.tasks), tuple(week.lags), people, resources)


class _Week:
    def __init__(self, chance: random.Random, days: int) -> None:
        self._chance, self._days = chance, days
        self.tasks: list[Task] = []
        self.lags: list[Lag] = []
        self._runs = 0
        self._dinners: dict[int, int] = {}

    def add_run(self) -> None:
        day = self._runs % self._days
        group = f"run {self._runs}"
        self._runs += 1
        if self._dinners.get(day, 0) < 2:
            self._dinners[day] = self._dinners.get(day, 0) + 1
            self._dinner(group, day)
        else:
            self._chance.choice((self._jars, self._loaf, self._dry, self._freeze))(group, day)

    def _dinner(self, group: str, day: int) -> None:
        meal = day * DAY_MIN + self._chance.choice((780, 1110))
        prepare = self._task(group, "prepare", day, HANDS, self._minutes(10, 30), latest=meal)
        if self._chance.random() < 0.5:
            oven = (Demand("oven", 1, self._chance.choice(OVEN_SETTINGS)),)
            cook = self._task(group, "roast", day, NEAR, self._minutes(30, 90), oven, latest=meal, due=meal)
        else:
            burner = (Demand("burner", 1),)
            cook = self._task(group, "simmer", day, NEAR, self._minutes(20, 60), burner, latest=meal, due=meal)
        self._then(prepare, cook, 0, 60)

    def _jars(self, group: str, day: int) -> None:
        peel = self._task(group, "peel", day, HANDS, self._minutes(20, 60))
        boil = self._task(group, "boil", day, NEAR, self._minutes(10, 30), (Demand("burner", 1),))
        fill = self._task(group, "fill", day, HANDS, self._minutes(10, 25))
        heat = self._task(
            group, "process", day, NEAR, self._minutes(60, 120), (Demand("burner", 1), Demand("canner", 1))
        )
        cool = self._task(group, "cool", day, FREE, self._minutes(30, 50), (Demand("canner", 1),), nights=True)
        self._then(peel, boil, 0, 120)
        self._then(boil, fill, 0, 15)
        self._then(fill, heat, 0, 10)
        self._then(heat, cool, 0, 0)

    def _loaf(self, group: str, day: int) -> None:
        mix = self._task(group, "mix", day, HANDS, self._minutes(10, 20), (Demand("mixer", 1),))
        prove = self._task(group, "prove", day, FREE, self._minutes(60, 180), nights=True)
        shape = self._task(group, "shape", day, HANDS, self._minutes(5, 15))
        bake = self._task(group, "bake", day, NEAR, self._minutes(30, 50), (Demand("oven", 1, "220 °C"),))
        self._then(mix, prove, 0, 0)
        self._then(prove, shape, 0, 30)
        self._then(shape, bake, 40, 80)

    def _dry(self, group: str, day: int) -> None:
        slice_it = self._task(group, "slice", day, HANDS, self._minutes(15, 40))
        trays = (Demand("dryer", self._chance.randint(1, 3)),)
        dry = self._task(group, "dry", day, FREE, self._minutes(360, 720), trays, nights=True)
        self._then(slice_it, dry, 0, 60)

    def _freeze(self, group: str, day: int) -> None:
        trim = self._task(group, "trim", day, HANDS, self._minutes(10, 30))
        blanch = self._task(group, "blanch", day, HANDS, self._minutes(10, 20), (Demand("burner", 1),))
        pack = self._task(group, "pack", day, HANDS, self._minutes(5, 15))
        self._then(trim, blanch, 0, 60)
        self._then(blanch, pack, 5, 30)

    def _task(
        self,
        group: str,
        word: str,
        day: int,
        attention: Attention,
        minutes: int,
        demands: tuple[Demand, ...] = (),
        *,
        nights: bool = False,
        latest: int | None = None,
        due: int | None = None,
    ) -> str:
        key = f"{group}:{word}"
        end = (self._days + 2) * DAY_MIN if nights else day * DAY_MIN + 1260
        latest_end = latest if latest is not None else end
        earliest = day * DAY_MIN + 420
        self.tasks.append(
            Task(key, f"{word} of {group}", group, (Mode(minutes, demands),), attention, earliest, latest_end, due)
        )
        return key

    def _then(self, before: str, after: str, least: int, most: int) -> None:
        self.lags.append(Lag(before, after, least, most))

    def _minutes(self, low: int, high: int) -> int:
        return self._chance.randrange(low, high + 1, 5)
