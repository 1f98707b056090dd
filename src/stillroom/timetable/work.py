"""A timetable problem by numbers: tasks, their rooms on the board, the waits between them, and units.

A unit is what is laid together: tasks joined by a longest wait, or by any wait within one group.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heapify, heappop, heappush

from stillroom.timetable.board import Board
from stillroom.timetable.problem import Problem
from stillroom.timetable.rooms import Rooms
from stillroom.timetable.ways import Way

LONG = 20  # tasks of a unit that hardly ever finds room as a whole

Wait = tuple[int, int, int | None]  # the other task; least and most minutes from the end of the one to the other


class Work:
    """The tasks 0, 1, …; minutes count from `origin`, the first at which anything can start."""

    def __init__(self, problem: Problem, ways: Mapping[str, Sequence[Way]]) -> None:
        self.problem = problem
        here = {task.key: ways[task.key] for task in problem.tasks}
        self.origin = min((way.starts[0][0] for found in here.values() for way in found), default=0)
        rooms = Rooms(problem, here, self.origin)
        self.rooms = [rooms.of(task, here[task.key]) for task in problem.tasks]
        self.minutes = rooms.minutes
        self._rooms = rooms
        number = {task.key: index for index, task in enumerate(problem.tasks)}
        self.before: list[list[Wait]] = [[] for _ in problem.tasks]
        self.after: list[list[Wait]] = [[] for _ in problem.tasks]
        for lag in problem.lags:
            self.before[number[lag.after]].append((number[lag.before], lag.min_lag, lag.max_lag))
            self.after[number[lag.before]].append((number[lag.after], lag.min_lag, lag.max_lag))
        self.first = [min(room.first for room in found) for found in self.rooms]
        self.last_end = [max(room.last + room.minutes for room in found) for found in self.rooms]
        self.due = [None if task.due is None else task.due - self.origin for task in problem.tasks]
        self.units = self._units(number)
        self.unit_of = {task: unit for unit, tasks in enumerate(self.units) for task in tasks}
        self.leads = self._leads()
        self.plain = self._plain()

    @property
    def is_loose(self) -> bool:
        """Whether units can be moved about: most tasks are not tied to each other by longest waits."""
        longest = max(map(len, self.units), default=0)
        return longest <= LONG or 2 * longest <= len(self.rooms)

    def board(self) -> Board:
        """An empty board."""
        return self._rooms.board()

    def in_order(self, keys: Sequence[float], *, is_forward: bool = True) -> list[int]:
        """All units by key, the smallest first, but none before those that must end before it (start after it)."""
        follow, open_ = self.leads if is_forward else self.leads[::-1]
        waiting = [len(found) for found in open_]
        ready = [(keys[unit], unit) for unit in range(len(self.units)) if not waiting[unit]]
        heapify(ready)
        order = []
        while ready:
            _, unit = heappop(ready)
            order.append(unit)
            for other in follow[unit]:
                waiting[other] -= 1
                if not waiting[other]:
                    heappush(ready, (keys[other], other))
        if len(order) < len(self.units):  # units that wait for each other
            order.extend(sorted(set(range(len(self.units))) - set(order), key=lambda unit: (keys[unit], unit)))
        return order

    def _plain(self) -> list[int | None]:
        """For each unit its task, if that is one by itself without a longest wait, and units wait in no circle."""
        if self._has_circle():
            return [None] * len(self.units)
        return [tasks[0] if len(tasks) == 1 else None for tasks in self.units]

    def _has_circle(self) -> bool:
        place = {unit: number for number, unit in enumerate(self.in_order([0.0] * len(self.units)))}
        return any(place[other] < place[unit] for unit, found in enumerate(self.leads[0]) for other in found)

    def _units(self, number: Mapping[str, int]) -> list[tuple[int, ...]]:
        parent = list(range(len(number)))

        def root(task: int) -> int:
            while parent[task] != task:
                parent[task] = parent[parent[task]]
                task = parent[task]
            return task

        groups = [task.group for task in self.problem.tasks]
        for lag in self.problem.lags:
            before, after = number[lag.before], number[lag.after]
            if lag.max_lag is not None or lag.min_lag < 0 or groups[before] == groups[after]:
                parent[root(after)] = root(before)
        members: dict[int, list[int]] = {}
        for task in range(len(number)):
            members.setdefault(root(task), []).append(task)
        return [self._by_waits(tasks) for tasks in members.values()]

    def _by_waits(self, tasks: list[int]) -> tuple[int, ...]:
        """The tasks of a unit, each after those it waits for; where they wait for each other, by first start."""
        left, order = sorted(tasks, key=lambda task: (self.first[task], task)), []
        while left:
            rest = set(left)
            task = next(
                (
                    task
                    for task in left
                    if not any(other in rest and least >= 0 for other, least, _ in self.before[task])
                ),
                left[0],
            )
            left.remove(task)
            order.append(task)
        return tuple(order)

    def _leads(self) -> tuple[list[set[int]], list[set[int]]]:
        """For each unit those that wait for it, and those it waits for."""
        after: list[set[int]] = [set() for _ in self.units]
        before: list[set[int]] = [set() for _ in self.units]
        for task, waits in enumerate(self.before):
            for other, _, _ in waits:
                one, two = self.unit_of[other], self.unit_of[task]
                if one != two:
                    after[one].add(two)
                    before[two].add(one)
        return after, before
