"""Runs that a household would like beside those of a plan: what could be made of food that nothing takes."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from stillroom.allocation.answer import unmet_of
from stillroom.allocation.check import check_runs
from stillroom.allocation.check_food import Food, all_food
from stillroom.allocation.check_worth import objective_of
from stillroom.allocation.opening import loads_of
from stillroom.allocation.problem import Activity, Allocation, Outcome, Problem, Run, Taken
from stillroom.allocation.shortages import Ledger
from stillroom.planning.split import Split

OF_THE_CLOCK = ("freezing",)  # capacities that no timetable knows of
MOST_WISHES = 12
LEAST_GAIN = 0.05  # in the currency of worth


class Wishes:
    """What could still be done with the food that the runs of a plan leave over, hours not looked at."""

    def __init__(self, task: Split, runs: Sequence[Run]) -> None:
        self._task = task
        self.runs = tuple(run for run in runs if run.activity in task.variants)
        self._rules = hours_aside(task.problem)
        self._ledger = Ledger(task.problem, Allocation(Outcome.FEASIBLE, self.runs, (), (), ()))
        self._food = all_food(task.problem, self.runs)
        self._worth = worth(task.problem, self.runs)

    def of_lot(self, lot: str, most: int = MOST_WISHES) -> list[Run]:
        """Runs that would take of a lot, in all their sizes, those worth most first."""
        item = self._food[lot].item
        activities = [a for a in self._activities() if any(item in needed.items for needed in a.inputs)]
        return self._best((run for a in activities for run in self._runs(a, lot)), most)

    def of_meal(self, role: str, day: int, most: int = MOST_WISHES) -> list[Run]:
        """Dishes that would serve a role on a day, those worth most first."""
        found: list[Run] = []
        for activity in self._activities():
            for serving in activity.servings:
                if serving.role == role:
                    found.extend(run for run in self._runs(activity, "") if run.day + serving.day_offset == day)
        return self._best(found, most)

    def by_day_of_lot(self, lot: str) -> Iterator[tuple[tuple[str, int], list[Run]]]:
        """For each recipe and day the runs that would take of a lot, fewest loads first; what is worth most first."""
        item = self._food[lot].item
        activities = [a for a in self._activities() if any(item in needed.items for needed in a.inputs)]
        return self._by_day(run for a in activities for run in self._runs(a, lot))

    def by_day_of_meal(self, role: str, day: int) -> Iterator[tuple[tuple[str, int], list[Run]]]:
        """The same of dishes that would serve a role on a day."""
        return self._by_day(
            run
            for activity in self._activities()
            for serving in activity.servings
            if serving.role == role
            for run in self._runs(activity, "")
            if run.day + serving.day_offset == day
        )

    def fresh_left_g(self) -> dict[str, tuple[str, float]]:
        """Item and grams left of each lot that does not come from the larder."""
        fresh = {key: food for key, food in self._food.items() if not food.is_store}
        return {key: (food.item, self._ledger.left_g(key)) for key, food in fresh.items()}

    def is_right(self, run: Run) -> bool:
        """Whether food, jars, lids and places allow it; hours are not looked at."""
        return not check_runs(self._rules, (*self.runs, run))

    def of_activities(self, keys: Collection[str]) -> list[Run]:
        """All runs of some activities that the food allows, in all their sizes, whatever they gain."""
        found = (run for a in self._activities() if a.key in keys for run in self._runs(a, ""))
        return [run for run in found if not check_runs(self._rules, (*self.runs, run))]

    def gain(self, run: Run) -> float:
        """What a run more is worth."""
        return worth(self._task.problem, (*self.runs, run)) - self._worth

    def _activities(self) -> Iterator[Activity]:
        return (activity for activity in self._task.problem.activities if activity.key in self._task.variants)

    def _by_day(self, runs: Iterable[Run]) -> Iterator[tuple[tuple[str, int], list[Run]]]:
        families = {activity.key: activity.family or activity.key for activity in self._task.problem.activities}
        gains: dict[tuple[str, int], float] = {}
        alike: dict[tuple[str, int], list[Run]] = defaultdict(list)
        for run in runs:  # of one activity and day the largest comes first
            if (run.activity, run.day) not in gains:
                gains[run.activity, run.day] = self.gain(run)
            if gains[run.activity, run.day] > LEAST_GAIN:
                alike[families[run.activity], run.day].append(run)
        best = {key: max(gains[run.activity, run.day] for run in sizes) for key, sizes in alike.items()}
        for key in sorted(alike, key=lambda key: (-best[key], key[1], key[0])):
            yield key, sorted(alike[key], key=lambda run: (run.loads, -gains[run.activity, run.day], run.activity))

    def _best(self, runs: Iterable[Run], most: int) -> list[Run]:
        gains = [(self.gain(run), run) for run in runs]
        wanted = sorted((g for g in gains if g[0] > LEAST_GAIN), key=lambda g: (-g[0], g[1].day, g[1].activity))
        right = (run for _, run in wanted if not check_runs(self._rules, (*self.runs, run)))
        return list(islice(right, most))

    def _runs(self, activity: Activity, lot: str) -> Iterator[Run]:
        done = {(run.activity, run.day) for run in self.runs}
        for day in activity.days:
            left = self._left(day)
            if (activity.key, day) not in done and (not lot or lot in left):
                most = self._level(activity, day, left)
                for loads in range(loads_of(activity, most), 0, -1) if most > 0 else ():
                    level = min(most, loads * activity.level_per_load) if activity.level_per_load > 0 else most
                    yield Run(activity.key, day, level, loads, _taken(activity, level, left, self._food, lot))

    def _left(self, day: int) -> dict[str, float]:
        """Grams left of each lot that is usable on a day."""
        left = {
            key: self._ledger.left_g(key) for key, food in self._food.items() if food.first_day <= day <= food.last_day
        }
        return {key: grams for key, grams in left.items() if grams > 1.0}

    def _level(self, activity: Activity, day: int, left: Mapping[str, float]) -> float:
        """The largest level that food, jars, lids, freezer and freezing allow; 0 where that is too little."""
        by_item: dict[str, float] = defaultdict(float)
        for key, grams in left.items():
            by_item[self._food[key].item] += grams
        limits = [activity.largest]
        for needed in activity.inputs:
            alike = [other for other in activity.inputs if set(other.items) & set(needed.items)]
            total = sum(other.grams_per_level for other in alike)
            items = {item for other in alike for item in other.items}
            limits += [sum(by_item[item] for item in items) / total] if total > 0 else []
        limits += [self._ledger.pool_free(p.pool, day) / p.per_level for p in activity.pools if p.per_level > 0]
        limits += [
            self._ledger.free(use.capacity, day + use.day_offset) / use.per_level
            for use in activity.usages
            if use.capacity in OF_THE_CLOCK and use.per_level > 0
        ]
        level = min(limits)
        if activity.level_step > 0:
            level = math.floor(level / activity.level_step + 1e-6) * activity.level_step
        return level if level >= activity.smallest else 0.0


def hours_aside(problem: Problem) -> Problem:
    """The problem without what the timetable knows better: hands, equipment, and days that were ruled out."""
    capacities = tuple(
        capacity
        if capacity.name in OF_THE_CLOCK or capacity.name.startswith("dishes as")
        else replace(capacity, per_day=(math.inf,) * problem.days)
        for capacity in problem.capacities
    )
    return replace(problem, capacities=capacities, cuts=())


def worth(problem: Problem, runs: Sequence[Run]) -> float:
    """What runs are worth, nothing given away."""
    return objective_of(problem, Allocation(Outcome.FEASIBLE, tuple(runs), (), unmet_of(problem, runs), ()))


def _taken(
    activity: Activity, level: float, left: Mapping[str, float], food: Mapping[str, Food], first: str
) -> tuple[Taken, ...]:
    """Grams from lots: the one asked for first, then what goes off first."""
    rest, taken = dict(left), dict[str, float]()
    order = sorted(rest, key=lambda key: (key != first, food[key].is_store, food[key].last_day, key))
    for needed in sorted(activity.inputs, key=lambda needed: len(needed.items)):
        grams = needed.grams_per_level * level
        for key in order:
            part = min(grams, rest[key]) if food[key].item in needed.items else 0.0
            if part > 0:
                taken[key] = taken.get(key, 0.0) + part
                rest[key] -= part
                grams -= part
    return tuple(Taken(key, food[key].item, grams) for key, grams in taken.items())
