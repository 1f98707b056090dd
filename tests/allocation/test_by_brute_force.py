"""A thousand small problems with every kind of rule, against every combination of levels tried out."""

from __future__ import annotations

import random

import pytest
from brute_force import best_worth, small_problem

from stillroom.allocation.check import check
from stillroom.allocation.check_worth import objective_of
from stillroom.allocation.problem import Outcome
from stillroom.allocation.solve import GAP, look, solve

BATCHES, BATCH = 4, 250


@pytest.mark.parametrize("batch", range(BATCHES))
def test_the_answer_is_the_best_there_is(batch: int) -> None:
    for seed in range(batch * BATCH, (batch + 1) * BATCH):
        problem = small_problem(random.Random(seed))
        answer, best = solve(problem, seconds=5), best_worth(problem)
        assert answer.outcome is Outcome.OPTIMAL, seed
        assert check(problem, answer) == (), seed
        assert answer.objective == pytest.approx(objective_of(problem, answer), abs=1e-6), seed
        assert best - GAP * max(0.0, answer.stake) - 2e-4 <= answer.objective <= best + 1e-6, seed
        assert answer.bound >= best - 1e-4, seed


def test_the_relaxed_programme_bounds_the_best() -> None:
    for seed in range(300):
        problem = small_problem(random.Random(seed))
        relaxed = look(problem)
        assert relaxed is not None, seed
        assert relaxed.bound >= best_worth(problem) - 1e-6, seed
