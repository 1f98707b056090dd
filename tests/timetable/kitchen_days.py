"""Made-up kitchen days of a given size, from a seed: invented, and built around a witness that keeps every rule.

Each run is laid into the free minutes by trial and stays where it fits. So every day made can be kept with nothing
late; how comfortable it can get is not known.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, replace

from kitchen_runs import BY_DAY, RESOURCES, STEP_MIN, Step, dish, night_loaf

from stillroom.model.work import Attention
from stillroom.timetable.problem import Lag, Mode, Outcome, Placed, Problem, Span, Task, Timetable, Worker

DAY_MIN = 1440
OPEN_MIN, CLOSED_MIN = 7 * 60, 21 * 60
MEALS_MIN = (13 * 60, 18 * 60 + 30)
SITTING_MIN = 30
DISH_READY_MIN = 15  # a dish of the trial is ready at most so long before its meal
MAY_BE_LATE_MIN = 90
NEAR_LIMIT = 3
TRIES = 3000
NIGHT_SHARE = 0.15
WINDOW_MIN = 120  # a window is at most so much longer than the trial, before and after
PLACES = {resource.name: resource.capacity for resource in RESOURCES if not resource.is_used_up}
STORED = {resource.name: resource.capacity for resource in RESOURCES if resource.is_used_up}
HOURS = {  # in which each is in the kitchen, every day
    "Ann": ((7, 13), (13.5, 21)),
    "Ben": ((8, 11), (15, 21)),
    "Cleo": ((9, 17),),
    "Dov": ((7, 10), (12, 20)),
}


@dataclass(frozen=True)
class KitchenDay:
    """A problem, and the timetable that it was built around: all kept, nothing late."""

    problem: Problem
    witness: Timetable


def kitchen_day(seed: int, tasks: int, days: int = 1, windows: float = 0.3) -> KitchenDay:
    """Exactly `tasks` tasks over `days` days; the same seed makes the same day on every machine.

    `windows` is the share, of the runs that feed no meal, whose food comes late or must be done by some hour.
    Two people up to 80 tasks a day, then more; at 80 two thirds of their minutes are taken.
    """
    people = min(len(HOURS), max(2, -(-tasks // (40 * days))))
    builder = _Builder(random.Random(f"{seed}/{tasks}/{days}/{windows}"), list(HOURS)[:people], days, windows)
    builder.sit_down_to_eat(tasks // 4)
    while len(builder.tasks) < tasks:
        builder.add_run(tasks - len(builder.tasks))
    return builder.day()


class _Builder:
    def __init__(self, chance: random.Random, people: Sequence[str], days: int, windows: float) -> None:
        self._chance, self._days, self._windows = chance, days, windows
        self.tasks: list[Task] = []
        self._lags: list[Lag] = []
        self._placed: list[Placed] = []
        self._runs = 0
        self._taken: Counter[Hashable] = Counter()  # places by thing and minute
        self._people = tuple(
            Worker(
                name,
                tuple(
                    Span(day * DAY_MIN + round(start * 60), day * DAY_MIN + round(end * 60))
                    for day in range(days)
                    for start, end in HOURS[name]
                ),
            )
            for name in people
        )

    def day(self) -> KitchenDay:
        """What has been built."""
        problem = Problem(tuple(self.tasks), tuple(self._lags), self._people, RESOURCES, NEAR_LIMIT)
        order = {task.key: number for number, task in enumerate(self.tasks)}
        placed = sorted(self._placed, key=lambda placed: order[placed.task])
        return KitchenDay(problem, Timetable(Outcome.FEASIBLE, tuple(placed)))

    def sit_down_to_eat(self, most: int) -> None:
        """Who is there at a meal eats, at most so many in all."""
        for begin in (day * DAY_MIN + meal for day in range(self._days) for meal in MEALS_MIN):
            end = begin + SITTING_MIN
            for worker in self._people:
                if len(self.tasks) < most and any(span.start <= begin and end <= span.end for span in worker.presence):
                    key, mode = f"meal {begin}:{worker.name}", Mode(SITTING_MIN, workers=(worker.name,))
                    task = Task(key, "sit down to eat", "meal", (mode,), Attention.HANDS, begin, end)
                    self.tasks.append(task)
                    self._take(task, Placed(key, begin, end, 0, worker.name), 1)

    def add_run(self, most: int) -> None:
        """One more run of at most `most` tasks, where the trial finds room for it."""
        for number in range(TRIES):
            kind = self._chance.choice(BY_DAY)
            if not self._runs:
                kind = dish
            elif self._days > 1 and self._chance.random() < NIGHT_SHARE:
                kind = night_loaf
            steps = kind(self._chance)
            if most == 1 or number > TRIES // 2:  # the day is nearly full
                steps = steps[:1]
            day = self._chance.randrange(self._days)
            if len(steps) <= most:
                laid = self._lay(steps, day, is_dish=kind is dish)
                if laid:
                    self._write(steps, laid, day)
                    return
        raise ValueError("The day is too full for another run.")

    def _lay(self, steps: Sequence[Step], day: int, *, is_dish: bool) -> list[tuple[Task, Placed]]:
        """The run in free minutes, or nothing."""
        minute = day * DAY_MIN + self._chance.randrange(OPEN_MIN, CLOSED_MIN, STEP_MIN)
        meal = day * DAY_MIN + self._chance.choice(MEALS_MIN)
        if is_dish:
            minute = meal - sum(step.modes[0].minutes for step in steps) - self._chance.randrange(0, 60, STEP_MIN)
        laid: list[tuple[Task, Placed]] = []
        for step in steps:
            task = self._task(step, day)
            placed = self._first_fit(task, minute, step.wait if laid else (0, 0))
            if placed is None:
                break
            self._take(task, placed, 1)
            laid.append((task, placed))
            minute = placed.end
        is_whole = len(laid) == len(steps) and (not is_dish or meal - DISH_READY_MIN <= minute <= meal)
        if not is_whole:
            for task, placed in laid:
                self._take(task, placed, -1)
            return []
        if is_dish:
            task, placed = laid[-1]
            earliest = meal - DISH_READY_MIN - task.modes[0].minutes
            laid[-1] = replace(task, earliest=earliest, latest_end=meal + MAY_BE_LATE_MIN, due=meal), placed
        elif self._chance.random() < self._windows:
            came = max(day * DAY_MIN, laid[0][1].start - self._chance.randrange(0, WINDOW_MIN, STEP_MIN))
            last = laid[-1][1].end + self._chance.randrange(0, WINDOW_MIN, STEP_MIN)
            laid = [(replace(task, earliest=came, latest_end=last), placed) for task, placed in laid]
        return laid

    def _write(self, steps: Sequence[Step], laid: Sequence[tuple[Task, Placed]], day: int) -> None:
        for number, (task, _) in enumerate(laid):
            self.tasks.append(task)
            if number:
                low, high = steps[number].wait
                reason = steps[number].reason
                self._lags.append(Lag(laid[number - 1][0].key, task.key, low, high, reason, bool(reason)))
        self._runs += 1

    def _task(self, step: Step, day: int) -> Task:
        group = f"run {self._runs}"
        return Task(
            f"{group}:{step.word}", f"{step.word} of {group}", group, step.modes, step.attention,
            day * DAY_MIN, (self._days + 2) * DAY_MIN,
        )  # fmt: skip

    def _first_fit(self, task: Task, minute: int, wait: tuple[int, int]) -> Placed | None:
        """The first free place after a wait that is drawn, so that the trial is no tighter than people are."""
        low, high = wait
        low += self._chance.choice((0, 0, 5, 10)) if low + 10 <= high else 0
        names = [worker.name for worker in self._people]
        self._chance.shuffle(names)
        for start in range(minute + low, minute + high + 1, STEP_MIN):
            for number, mode in enumerate(task.modes):
                for name in names if task.attention is Attention.HANDS else (None,):
                    placed = Placed(task.key, start, start + mode.minutes, number, name)
                    if self._is_free(task, placed):
                        return placed
        return None

    def _is_free(self, task: Task, placed: Placed) -> bool:
        demands = task.modes[placed.mode].demands
        if any(self._taken[demand.resource] + demand.amount > STORED.get(demand.resource, 99) for demand in demands):
            return False
        for minute in range(placed.start, placed.end, STEP_MIN):
            present = {worker.name for worker in self._people if _is_in(worker, minute)}
            if placed.worker is not None and (placed.worker not in present or self._taken[placed.worker, minute]):
                return False
            if task.attention is Attention.NEAR and not (present and self._taken["near", minute] < NEAR_LIMIT):
                return False
            for name, amount, setting in ((item.resource, item.amount, item.setting) for item in demands):
                is_full = name in PLACES and self._taken[name, minute] + amount > PLACES[name]
                if is_full or (setting and self._taken[name, "set", minute] > self._taken[name, setting, minute]):
                    return False
        return True

    def _take(self, task: Task, placed: Placed, sign: int) -> None:
        """Takes what the task needs, or gives it back."""
        self._placed.append(placed) if sign > 0 else self._placed.remove(placed)
        for thing, amount in _needs(task, placed):
            self._taken[thing] += sign * amount


def _is_in(worker: Worker, minute: int) -> bool:
    return any(span.start <= minute < span.end for span in worker.presence)


def _needs(task: Task, placed: Placed) -> Iterator[tuple[Hashable, int]]:
    """What is taken and how much: of things by the minute, of stores for good."""
    demands = task.modes[placed.mode].demands
    yield from ((demand.resource, demand.amount) for demand in demands if demand.resource in STORED)
    for minute in range(placed.start, placed.end, STEP_MIN):
        yield (placed.worker, minute), 1
        yield ("near", minute), int(task.attention is Attention.NEAR)
        for demand in demands:
            yield (demand.resource, minute), demand.amount
            yield (demand.resource, "set", minute), int(bool(demand.setting))
            yield (demand.resource, demand.setting, minute), 1
