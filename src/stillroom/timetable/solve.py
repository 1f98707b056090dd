"""Finds a timetable: the promise (everything placed, nothing late that need not be) first, then comfort."""

from __future__ import annotations

import time

from stillroom.timetable.components import components
from stillroom.timetable.effort import ASK_S_A_TASK, Effort
from stillroom.timetable.overload import seen_at_once
from stillroom.timetable.problem import Outcome, Placed, Problem, Timetable
from stillroom.timetable.search import Search
from stillroom.timetable.ways import ways
from stillroom.work_clock import WorkClock

PROMISE_SHARE = 0.6  # of the time; what the promise leaves goes to comfort


def solve(
    problem: Problem, *, seconds: float, seed: int = 1, workers: int = 2, clock: WorkClock | None = None
) -> Timetable:
    """A timetable found in about `seconds` [s]; with workers = 1 the same answer for the same question and seed.

    OPTIMAL: nothing is later than it must be, and no timetable is more comfortable; both proved. INFEASIBLE is proved:
    `why_not` says why. OUT_OF_TIME: nothing found and nothing proved.
    """
    begun = time.perf_counter()
    effort = Effort(seconds, seed, workers, clock or WorkClock())
    effort.clock.charge(ASK_S_A_TASK * len(problem.tasks))
    found = ways(problem)
    if seen_at_once(problem, found) or not all(found.values()):
        return Timetable(Outcome.INFEASIBLE, (), seconds=time.perf_counter() - begun)
    searches = [Search(part, found) for part in components(problem, found)]
    _keep_promises(searches, effort)
    for failed in (Outcome.INFEASIBLE, Outcome.OUT_OF_TIME):
        if any(search.outcome is failed for search in searches):
            return Timetable(failed, (), seconds=time.perf_counter() - begun)
    _seek_comfort(searches, effort)
    return _timetable(problem, searches, begun)


def _keep_promises(searches: list[Search], effort: Effort) -> None:
    """Each part gets time by its number of tasks; parts without an answer then share what is left."""
    share = PROMISE_SHARE if any(search.has_comfort for search in searches) else 1.0
    reserve = effort.seconds * (1 - share)
    _in_turn(searches, effort, reserve)
    if any(search.outcome is Outcome.INFEASIBLE for search in searches):
        return
    _in_turn([search for search in searches if search.outcome is Outcome.OUT_OF_TIME], effort, 0.0)


def _in_turn(searches: list[Search], effort: Effort, reserve: float) -> None:
    todo = sum(len(search.problem.tasks) for search in searches)
    for search in sorted(searches, key=lambda search: len(search.problem.tasks)):
        size = len(search.problem.tasks)
        search.keep_promise(effort, (effort.seconds - reserve) * size / todo)
        if search.outcome is Outcome.INFEASIBLE:
            return
        todo -= size


def _seek_comfort(searches: list[Search], effort: Effort) -> None:
    """Each part gets time by its number of tasks; parts that are not proved then share what the others left."""
    for _ in range(2):
        open_ = [search for search in searches if not search.is_comfort_proved]
        todo = sum(len(search.problem.tasks) for search in open_)
        for search in sorted(open_, key=lambda search: len(search.problem.tasks)):
            size = len(search.problem.tasks)
            if effort.seconds > 0:
                search.improve(effort, effort.seconds * size / todo)
            todo -= size


def _timetable(problem: Problem, searches: list[Search], begun: float) -> Timetable:
    placed: dict[str, Placed] = {}
    for search in searches:
        placed.update(search.placed)
    is_best = all(search.is_promise_proved and search.is_comfort_proved for search in searches)
    return Timetable(
        Outcome.OPTIMAL if is_best else Outcome.FEASIBLE,
        tuple(placed[task.key] for task in problem.tasks),
        seconds=time.perf_counter() - begun,
        lateness_min=sum(search.lateness_min for search in searches),
        is_promise_proved=all(search.is_promise_proved for search in searches),
    )
