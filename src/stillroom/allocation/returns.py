"""What comes back into the pools when food is used: freezer litres at once, jars when they are empty."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Sequence

from stillroom.allocation.problem import GivesBack, Problem, Run, made_by

NEARLY_EMPTY_G = 1.0  # what a scale does not show is not left in a jar


def came_back(problem: Problem, runs: Sequence[Run]) -> dict[str, list[float]]:
    """What has come back into each pool by the end of each day; nothing in pools that nothing refills."""
    used: dict[tuple[str, GivesBack], list[float]] = defaultdict(lambda: [0.0] * problem.days)
    of = gives_back(problem)
    for run in runs:
        for part in run.taken:
            for back in of(part.lot):
                used[part.item, back][run.day] += part.grams
    found: dict[str, list[float]] = defaultdict(lambda: [0.0] * problem.days)
    for (_, back), grams in used.items():
        for day in range(back.after_days, problem.days):
            pieces = sum(grams[: day - back.after_days + 1]) / back.grams
            if back.is_whole:
                pieces = math.floor(pieces + NEARLY_EMPTY_G / back.grams)
            found[back.pool][day] += back.amount * pieces
    return found


def gives_back(problem: Problem) -> Callable[[str], tuple[GivesBack, ...]]:
    """What a lot, or a product of a run, gives back, by its key."""
    lots = {lot.key: lot.gives_back for lot in problem.lots}
    made = {
        (activity.key, output.item): output.gives_back for activity in problem.activities for output in activity.outputs
    }

    def of(key: str) -> tuple[GivesBack, ...]:
        if key in lots:
            return lots[key]
        activity, _, item = made_by(key)
        return made[activity, item]

    return of
