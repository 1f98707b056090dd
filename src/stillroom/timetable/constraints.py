"""The rules of the kitchen for one part of a timetable, one method each. Times in minutes."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from stillroom.model.work import Attention
from stillroom.timetable.problem import Problem
from stillroom.timetable.variables import Variables
from stillroom.timetable.ways import demands_of, presence

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


class Constraints:
    """Adds every hard rule to the model."""

    def __init__(self, problem: Problem, variables: Variables) -> None:
        self._problem = problem
        self._variables = variables
        self._model = variables.model

    def add(self) -> None:
        """All rules; that every task is done once, in its hours and by someone present, is in the variables."""
        self._waits_are_kept()
        self._hands_do_one_thing_at_a_time()
        self._no_more_hands_than_people()
        self._few_things_are_minded_at_once()
        self._equipment_has_so_many_places()
        self._no_more_is_used_up_than_there_is()
        self._equipment_has_one_setting_at_a_time()

    def _waits_are_kept(self) -> None:
        for lag in self._problem.lags:
            wait = self._variables.start(lag.after) - self._variables.end(lag.before)
            if lag.min_lag == lag.max_lag:
                self._model.add(wait == lag.min_lag)
                continue
            self._model.add(wait >= lag.min_lag)
            if lag.max_lag is not None:
                self._model.add(wait <= lag.max_lag)

    def _hands_do_one_thing_at_a_time(self) -> None:
        for worker in self._problem.workers:
            work = [
                interval
                for task in self._problem.tasks
                if task.attention is Attention.HANDS
                for interval in self._variables.by_worker(task.key, worker.name)
            ]
            if len(work) > 1:
                self._model.add_no_overlap(work)

    def _no_more_hands_than_people(self) -> None:
        """Follows from the other rules; the solver finds contradictions sooner with it."""
        workers = self._problem.workers
        work = [
            interval
            for task in self._problem.tasks
            if task.attention is Attention.HANDS
            for interval in self._variables.in_modes(task.key).values()
        ]
        if len(workers) < 2 or len(work) <= len(workers):
            return
        first = min(task.earliest for task in self._problem.tasks)
        last = max(task.latest_end for task in self._problem.tasks)
        away = []
        for worker in workers:
            begin = first
            for span in presence(self._problem, (worker.name,)):
                if first <= begin < span.start <= last:
                    away.append(self._model.new_fixed_size_interval_var(begin, span.start - begin, "away"))
                begin = max(begin, span.end)
            if begin < last:
                away.append(self._model.new_fixed_size_interval_var(begin, last - begin, "away"))
        self._model.add_cumulative([*work, *away], [1] * (len(work) + len(away)), len(workers))

    def _few_things_are_minded_at_once(self) -> None:
        minded = [
            interval
            for task in self._problem.tasks
            if task.attention is Attention.NEAR
            for interval in self._variables.in_modes(task.key).values()
        ]
        self._fit(minded, [1] * len(minded), self._problem.near_limit)

    def _equipment_has_so_many_places(self) -> None:
        for resource in self._problem.resources:
            if resource.is_used_up:
                continue
            taken, places = [], []
            for task in self._problem.tasks:
                for mode, interval in self._variables.in_modes(task.key).items():
                    amount = demands_of(task.modes[mode]).get(resource.name, 0)
                    if amount > 0:
                        taken.append(interval)
                        places.append(amount)
            self._fit(taken, places, resource.capacity)

    def _no_more_is_used_up_than_there_is(self) -> None:
        from ortools.sat.python import cp_model

        for resource in self._problem.resources:
            chosen, amounts = [], []
            for task in self._problem.tasks if resource.is_used_up else ():
                for mode, literal in self._variables.chosen_modes(task.key).items():
                    chosen.append(literal)
                    amounts.append(demands_of(task.modes[mode]).get(resource.name, 0))
            if chosen:
                self._model.add(cp_model.LinearExpr.weighted_sum(chosen, amounts) <= resource.capacity)

    def _equipment_has_one_setting_at_a_time(self) -> None:
        uses: dict[str, list[tuple[str, str, cp_model.IntervalVar]]] = {}
        for task in self._problem.tasks:
            for mode, interval in self._variables.in_modes(task.key).items():
                for demand in task.modes[mode].demands:
                    if demand.setting:
                        uses.setdefault(demand.resource, []).append((task.key, demand.setting, interval))
        for found in uses.values():
            for (key, setting, interval), (other, other_setting, other_interval) in combinations(found, 2):
                if key != other and setting != other_setting and self._may_meet(key, other):
                    self._model.add_no_overlap([interval, other_interval])

    def _may_meet(self, key: str, other: str) -> bool:
        ways = self._variables.ways
        first, other_first = (min(way.starts[0][0] for way in ways[name]) for name in (key, other))
        return first < self._variables.last_end(other) and other_first < self._variables.last_end(key)

    def _fit(self, intervals: list[cp_model.IntervalVar], amounts: list[int], capacity: int) -> None:
        if sum(amounts) <= capacity:
            return
        if capacity == 1:
            self._model.add_no_overlap(intervals)
        else:
            self._model.add_cumulative(intervals, amounts, capacity)
