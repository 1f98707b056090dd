"""What a timetable is worth on real days: simulated ones, with the repair rule at work."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from stillroom.timetable.network import Network, in_order, network
from stillroom.timetable.problem import Lag, Mode, Outcome, Placed, Problem, Timetable
from stillroom.timetable.propagate import Days, Repair
from stillroom.timetable.spread import Spread, Whole, drawn, usual

DAYS = 1000
ON_TIME_MIN = 10  # a meal so late is still on time


@dataclass(frozen=True, slots=True)
class Chances:
    """Shares of the simulated days (0 to 1)."""

    on_time: Mapping[str, float]  # of each task that is due
    meals: Mapping[int, float]  # all that is due at that minute is on time
    clocks: Mapping[Lag, float]  # each safety clock holds
    days: int

    @property
    def of_all_meals(self) -> float:
        """Share of all meals of all days that are on time; 1 when there is none."""
        return sum(self.meals.values()) / len(self.meals) if self.meals else 1.0

    @property
    def of_all_clocks(self) -> float:
        """Share of all safety clocks of all days that hold; 1 when there is none."""
        return sum(self.clocks.values()) / len(self.clocks) if self.clocks else 1.0


@dataclass(frozen=True, slots=True)
class Simulated:
    """The days worked out, with all that is needed to look into one of them."""

    problem: Problem
    net: Network
    days: Days

    def chances(self) -> Chances:
        """Meals on time and safety clocks held."""
        late: dict[str, Whole] = {}
        by_meal: dict[int, list[Whole]] = {}
        for number, node in enumerate(self.net.nodes):
            if node.task.due is not None:
                late[node.task.key] = self.days.ends[number] - node.task.due
                by_meal.setdefault(node.task.due, []).append(late[node.task.key])
        return Chances(
            {key: float(np.mean(minutes <= ON_TIME_MIN)) for key, minutes in late.items()},
            {due: float(np.mean(np.max(rows, axis=0) <= ON_TIME_MIN)) for due, rows in sorted(by_meal.items())},
            self._clocks(),
            self.days.starts.shape[1],
        )

    def _clocks(self) -> Mapping[Lag, float]:
        found = {}
        for node in self.net.nodes:
            for clock in node.clocks:
                if clock.lag.is_safety and clock.lag.max_lag is not None:
                    wait = self.days.starts[clock.after] - self.days.ends[clock.before]
                    found[clock.lag] = float(np.mean(wait <= clock.lag.max_lag))
        return found

    def day(self, number: int) -> tuple[Problem, Timetable]:
        """One day as a problem with its real minutes and the timetable that it became."""
        starts, ends = self.days.starts[:, number].tolist(), self.days.ends[:, number].tolist()
        names = [self.days.persons[who] if who >= 0 else None for who in self.days.who[:, number].tolist()]
        tasks, placed = [], []
        for node, start, end, name in zip(self.net.nodes, starts, ends, names, strict=True):
            mode = node.task.modes[node.placed.mode]
            tasks.append(replace(node.task, modes=(Mode(end - start, mode.demands, mode.workers),)))
            placed.append(Placed(node.task.key, start, end, 0, name))
        return replace(self.problem, tasks=tuple(tasks)), Timetable(Outcome.FEASIBLE, tuple(placed))


def simulate(
    problem: Problem,
    timetable: Timetable,
    spreads: Mapping[str, Spread] | None = None,
    *,
    days: int = DAYS,
    seed: int = 1,
) -> Simulated:
    """`days` days of a timetable that is right; tasks without a spread [by key] get the usual one.

    The same seed gives each task the same luck in every timetable of the problem, so that two timetables are compared
    on the same days (common random numbers).
    """
    known = {task.key: (spreads or {}).get(task.key) or usual(task) for task in problem.tasks}
    net = network(problem, in_order(problem, timetable.placed))
    luck = np.random.default_rng(seed).standard_normal((len(problem.tasks), days))
    row = {task.key: number for number, task in enumerate(problem.tasks)}
    minutes = np.array(
        [drawn(node.minutes, known[node.task.key], luck[row[node.task.key]]) for node in net.nodes], dtype=np.int64
    ).reshape(len(net.nodes), days)
    return Simulated(problem, net, Repair(net, known).days(minutes))
