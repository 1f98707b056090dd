"""Reckons what is in a pool day by day, from the problem and the runs alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

from stillroom.allocation.problem import GivesBack, Problem, Run

EMPTY_G = 1.0  # a jar with less in it counts as empty


def inside_by_day(problem: Problem, runs: Sequence[Run], pool: str) -> list[float]:
    """What was put into a pool less what came back, at the end of each day."""
    activities = {activity.key: activity for activity in problem.activities}
    by_day = []
    for day in range(problem.days):
        put_in = sum(
            use.per_level * run.level
            for run in runs
            if run.day <= day
            for use in activities[run.activity].pools
            if use.pool == pool
        )
        by_day.append(put_in - _returned(problem, runs, pool, day))
    return by_day


def _returned(problem: Problem, runs: Sequence[Run], pool: str, day: int) -> float:
    """Grams are added up by item and kind of return: half a jar today and half tomorrow are one jar."""
    kinds = _kinds(problem)
    eaten: dict[tuple[str, GivesBack], float] = {}
    for run in runs:
        for taken in run.taken:
            for back in kinds.get(_kind_of(taken.lot), ()):
                if back.pool == pool and run.day + back.after_days <= day:
                    eaten[taken.item, back] = eaten.get((taken.item, back), 0.0) + taken.grams
    total = 0.0
    for (_, back), grams in eaten.items():
        pieces = math.floor((grams + EMPTY_G) / back.grams) if back.is_whole else grams / back.grams
        total += back.amount * pieces
    return total


def _kinds(problem: Problem) -> dict[tuple[str, ...], tuple[GivesBack, ...]]:
    kinds: dict[tuple[str, ...], tuple[GivesBack, ...]] = {(lot.key,): lot.gives_back for lot in problem.lots}
    for activity in problem.activities:
        for output in activity.outputs:
            kinds[activity.key, output.item] = output.gives_back
    return kinds


def _kind_of(lot: str) -> tuple[str, ...]:
    """A lot by its key; what a run makes, "run:activity:day:item", whatever its day."""
    if not lot.startswith("run:"):
        return (lot,)
    activity, _, item = lot.removeprefix("run:").rsplit(":", 2)
    return activity, item
