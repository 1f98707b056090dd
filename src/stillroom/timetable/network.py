"""What a timetable leaves fixed when its minutes change: who does what, in which order, on which places.

Each place of a resource, each person, and each of the few things minded at once is a chain of tasks. A task follows
the one before it on every place it takes. Whatever the minutes, tasks that keep to these links fit the equipment.
Source: N. Policella, S. F. Smith, A. Cesta, A. Oddi, Generating robust schedules through temporal flexibility (ICAPS
2004): chaining; from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from stillroom.model.work import Attention
from stillroom.timetable.problem import Lag, Placed, Problem, Span, Task
from stillroom.timetable.ways import demands_of, presence


@dataclass(frozen=True, slots=True)
class Link:
    """Starts at least `least` minutes after the end of the task at position `before`.

    `by_person` marks what is so only because one person does both: somebody else could step in.
    """

    before: int
    least: int
    by_person: bool = False


@dataclass(frozen=True, slots=True)
class Clock:
    """Task `after` may start at most `most` minutes after the end of task `before` (positions in the network).

    What can be stretched may end so much later: then `most` counts from its shortest time.
    """

    before: int
    after: int
    most: int
    lag: Lag


@dataclass(frozen=True, slots=True)
class Node:
    """One task of the network, its links to tasks before it and the hours in which it can be done."""

    task: Task
    placed: Placed
    minutes: int  # as planned; the fewest of what can be stretched
    stretch: int  # so many minutes longer it may last, if what follows is not ready
    links: tuple[Link, ...]
    clocks: tuple[Clock, ...]  # that end with its start
    opens: tuple[Clock, ...]  # that start with its end
    hours: tuple[Span, ...] | None  # of whoever does or minds it as planned; None: needs nobody
    others: Mapping[str, tuple[Span, ...]]  # who else may do it, and when


@dataclass(frozen=True)
class Network:
    """Tasks in an order in which every link points back."""

    nodes: tuple[Node, ...]

    @cached_property
    def position(self) -> Mapping[str, int]:
        """Where each task stands, by its key."""
        return {node.task.key: number for number, node in enumerate(self.nodes)}


def network(problem: Problem, placed: Sequence[Placed]) -> Network:
    """The network of tasks in the order given: places are taken in that order.

    ValueError when a wait runs against the order: what comes after must stand after.
    """
    return _Writer(problem, placed).network()


def in_order(problem: Problem, placed: Iterable[Placed]) -> tuple[Placed, ...]:
    """By start, and what must follow stands after."""
    befores: dict[str, list[str]] = {}
    for lag in problem.lags:
        befores.setdefault(lag.after, []).append(lag.before)
    items = {item.task: item for item in placed}
    done: dict[str, Placed] = {}

    def put(key: str) -> None:
        if key in items and key not in done:
            for before in befores.get(key, ()):
                put(before)
            done[key] = items[key]

    for item in sorted(items.values(), key=lambda item: (item.start, item.end)):
        put(item.task)
    return tuple(done.values())


class _Writer:
    def __init__(self, problem: Problem, placed: Sequence[Placed]) -> None:
        self._problem, self._placed = problem, placed
        tasks = {task.key: task for task in problem.tasks}
        self._tasks = [tasks[item.task] for item in placed]
        self._position = {item.task: number for number, item in enumerate(placed)}
        self._lags = [lag for lag in problem.lags if lag.before in self._position and lag.after in self._position]
        for lag in self._lags:
            if self._position[lag.before] > self._position[lag.after]:
                raise ValueError(f"{lag.after} stands before {lag.before}, which it must follow.")

    def network(self) -> Network:
        links = self._links()
        stretches = [self._stretch(number) for number in range(len(self._placed))]
        clocks = [
            Clock(before, self._position[lag.after], lag.max_lag + stretches[before], lag)
            for lag in self._lags
            if lag.max_lag is not None
            for before in (self._position[lag.before],)
        ]
        return Network(
            tuple(
                Node(
                    self._tasks[number],
                    item,
                    min(self._like_chosen(number)) if stretches[number] else self._minutes(number),
                    stretches[number],
                    links[number],
                    tuple(clock for clock in clocks if clock.after == number),
                    tuple(clock for clock in clocks if clock.before == number),
                    self._hours(number),
                    self._others(number),
                )
                for number, item in enumerate(self._placed)
            )
        )

    def _links(self) -> list[tuple[Link, ...]]:
        waits: list[dict[int, int]] = [{} for _ in self._placed]
        for lag in self._lags:
            here, before = waits[self._position[lag.after]], self._position[lag.before]
            here[before] = max(lag.min_lag, here.get(before, lag.min_lag))
        chains = _Chains(self._problem, self._placed)
        found = []
        for number, (task, item) in enumerate(zip(self._tasks, self._placed, strict=True)):
            befores = {**dict.fromkeys(chains.places(number, task, item, waits[number]), 0), **waits[number]}
            hands = chains.person(number, item) - befores.keys()
            found.append(
                (
                    *(Link(before, least) for before, least in sorted(befores.items())),
                    *(Link(before, 0, by_person=True) for before in hands),
                )
            )
        return found

    def _stretch(self, number: int) -> int:
        """How much longer than its shortest way something unwatched may last until the next step takes over at once."""
        task = self._tasks[number]
        after = [lag for lag in self._lags if lag.before == task.key]
        takes_over = bool(after) and all(lag.min_lag == 0 and lag.max_lag == 0 for lag in after)
        if task.attention is not Attention.FREE or not takes_over:
            return 0
        return max(self._like_chosen(number)) - min(self._like_chosen(number))

    def _like_chosen(self, number: int) -> list[int]:
        """Minutes of all ways that take the same places as the one chosen."""
        modes = self._tasks[number].modes
        return [mode.minutes for mode in modes if mode.demands == modes[self._placed[number].mode].demands]

    def _minutes(self, number: int) -> int:
        return self._tasks[number].modes[self._placed[number].mode].minutes

    def _names(self, number: int) -> tuple[str, ...]:
        allowed = self._tasks[number].modes[self._placed[number].mode].workers
        return allowed or tuple(worker.name for worker in self._problem.workers)

    def _hours(self, number: int) -> tuple[Span, ...] | None:
        if self._tasks[number].attention is Attention.FREE:
            return None
        worker = self._placed[number].worker
        return presence(self._problem, self._names(number) if worker is None else (worker,))

    def _others(self, number: int) -> Mapping[str, tuple[Span, ...]]:
        worker = self._placed[number].worker
        if worker is None:
            return {}
        return {name: presence(self._problem, (name,)) for name in self._names(number) if name != worker}


class _Chains:
    """The last task on every place of everything that is shared; what is used up has no places."""

    def __init__(self, problem: Problem, placed: Sequence[Placed]) -> None:
        self._placed = placed
        self._places: dict[tuple[str, str], list[int]] = {
            ("place", resource.name): [-1] * resource.capacity
            for resource in problem.resources
            if not resource.is_used_up
        }
        self._places["near", ""] = [-1] * problem.near_limit
        self._persons: dict[str, int] = {}
        self._settings: dict[str, list[tuple[str, set[int]]]] = {}

    def places(self, number: int, task: Task, item: Placed, linked: Mapping[int, int]) -> set[int]:
        """Takes what the task needs and says which tasks it follows there; an instant takes nothing."""
        mode = task.modes[item.mode]
        if mode.minutes == 0:
            return set()
        wanted = {("place", name): amount for name, amount in demands_of(mode).items()}
        if task.attention is Attention.NEAR:
            wanted["near", ""] = 1
        befores: set[int] = set()
        for thing, amount in wanted.items():
            if thing in self._places:
                befores |= self._take(self._places[thing], number, amount, linked)
        for demand in mode.demands:
            if demand.setting:
                befores |= self._take_setting(demand.resource, demand.setting, number)
        return befores - {-1, number}

    def person(self, number: int, item: Placed) -> set[int]:
        """The task that its person did before; an instant takes nobody."""
        if item.worker is None or item.end == item.start:
            return set()
        before = self._persons.get(item.worker)
        self._persons[item.worker] = number
        return set() if before is None else {before}

    def _take(self, places: list[int], number: int, amount: int, linked: Mapping[int, int]) -> set[int]:
        """Free places first, of these those of a task it follows anyway, else those free for longest."""
        start = self._placed[number].start

        def rank(place: int) -> tuple[bool, bool, int]:
            last = places[place]
            end = self._placed[last].end if last >= 0 else -1
            return end > start, last not in linked, end

        chosen = sorted(range(len(places)), key=rank)[:amount]
        befores = {places[place] for place in chosen}
        for place in chosen:
            places[place] = number
        return befores

    def _take_setting(self, resource: str, setting: str, number: int) -> set[int]:
        """All tasks of the last other setting, which follow those of the setting before, and so on."""
        groups = self._settings.setdefault(resource, [])
        if not groups or groups[-1][0] != setting:
            groups.append((setting, set()))
        groups[-1][1].add(number)
        return set(groups[-2][1]) if len(groups) > 1 else set()
