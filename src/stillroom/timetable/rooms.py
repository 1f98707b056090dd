"""The ways of doing each task as rooms on a board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stillroom.model.work import Attention
from stillroom.timetable.board import Board, Room
from stillroom.timetable.problem import Mode, Problem, Task
from stillroom.timetable.ways import Way, demands_of

NEAR = ("near", "")


class Rooms:
    """Rooms of all tasks; minutes count from `origin`."""

    def __init__(self, problem: Problem, ways: Mapping[str, Sequence[Way]], origin: int) -> None:
        self._origin = origin
        self._capacity = {("worker", worker.name): 1 for worker in problem.workers}
        self._capacity |= {NEAR: problem.near_limit}
        self._capacity |= {("place", item.name): item.capacity for item in problem.resources if not item.is_used_up}
        self._settings = _settings(problem)
        self._capacity |= {
            ("unless", f"{name} {setting}"): 0 for name in self._settings for setting in self._settings[name]
        }
        self._number = {thing: index for index, thing in enumerate(self._capacity)}
        self._stored = [item for item in problem.resources if item.is_used_up]
        self.width = max(1, *self._capacity.values(), _free_setters(problem)).bit_length() + 1
        self.minutes = (
            max((way.starts[-1][1] + way.minutes for here in ways.values() for way in here), default=0) - origin
        )
        self._ones = ((1 << (self.minutes + 1) * self.width) - 1) // ((1 << self.width) - 1)
        self._slacks: dict[tuple[int, int], int] = {}

    def board(self) -> Board:
        """An empty board."""
        stores = [item.capacity for item in self._stored]
        return Board(len(self._number), stores, self.width, self._ones << (self.width - 1))

    def of(self, task: Task, ways: Sequence[Way]) -> tuple[Room, ...]:
        """The rooms of a task, one for each way."""
        return tuple(self._room(task, way) for way in ways)

    def _room(self, task: Task, way: Way) -> Room:
        mode = task.modes[way.mode]
        demands = demands_of(mode)
        stores = ((index, demands.get(item.name, 0)) for index, item in enumerate(self._stored))
        checks, marks = self._needs(task, mode, way) if way.minutes > 0 else ((), ())
        return Room(
            way.mode,
            way.worker,
            way.minutes,
            way.starts[0][0] - self._origin,
            way.starts[-1][1] - self._origin,
            sum(self._minutes(last - first + 1) << (first - self._origin) * self.width for first, last in way.starts)
            << (self.width - 1),
            checks,
            marks,
            tuple((index, amount) for index, amount in stores if amount),
            tuple(step * self.width for step in _doublings(way.minutes)),
        )

    def _needs(
        self, task: Task, mode: Mode, way: Way
    ) -> tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]]:
        """What is checked and what is taken, by thing."""
        taken = {("place", name): amount for name, amount in demands_of(mode).items() if amount}
        if way.worker is not None:
            taken["worker", way.worker] = 1
        if task.attention is Attention.NEAR:
            taken[NEAR] = 1
        taken = {thing: amount for thing, amount in taken.items() if thing in self._number}
        checked = dict(taken)
        for demand in mode.demands:
            for setting in self._settings.get(demand.resource, ()) if demand.setting else ():
                if setting == demand.setting:
                    checked["unless", f"{demand.resource} {setting}"] = 1
                else:
                    taken["unless", f"{demand.resource} {setting}"] = 1
        checks = tuple((self._number[thing], self._slack(thing, amount)) for thing, amount in checked.items())
        ones = self._minutes(mode.minutes)
        return checks, tuple((self._number[thing], ones * amount) for thing, amount in taken.items())

    def _slack(self, thing: tuple[str, str], amount: int) -> int:
        """In each minute what, added to what is taken, reaches the highest bit when `amount` more is too much."""
        free = self._capacity[thing] - amount + (thing[0] == "unless")
        key = (self._number[thing], free)
        if key not in self._slacks:
            self._slacks[key] = self._ones * ((1 << self.width - 1) - 1 - free)
        return self._slacks[key]

    def _minutes(self, count: int) -> int:
        return self._ones & ((1 << count * self.width) - 1)


def _settings(problem: Problem) -> Mapping[str, Sequence[str]]:
    """Settings in use, for equipment with more than one."""
    found: dict[str, dict[str, None]] = {}
    for task in problem.tasks:
        for mode in task.modes:
            for demand in mode.demands:
                if demand.setting:
                    found.setdefault(demand.resource, {})[demand.setting] = None
    return {name: tuple(settings) for name, settings in found.items() if len(settings) > 1}


def _free_setters(problem: Problem) -> int:
    """Tasks that set equipment without taking a place on it: any number of them may run at once."""
    return sum(
        any(demand.setting and demand.amount == 0 for mode in task.modes for demand in mode.demands)
        for task in problem.tasks
    )


def _doublings(minutes: int) -> list[int]:
    steps, covered = [], 1
    while covered < minutes:
        steps.append(min(covered, minutes - covered))
        covered += steps[-1]
    return steps
