"""What days can't hold alone or together, and a long plan that is split anew a few days at a time."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from day_limits import Limits

from stillroom.allocation.opening import Opening, loads_of, openings
from stillroom.allocation.problem import Run
from stillroom.household.folder import Folder, read_folder
from stillroom.planning.batches import batches_of_run
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.split import Split, split
from stillroom.planning.tasks import timetable_problem
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.proof import Prover

DEMO = Path(__file__).parents[2] / "examples" / "demo"
DAYS = 4
LEVELS = 5  # that are tried between the limit and the largest


@pytest.fixture(scope="module")
def demo() -> tuple[Split, Folder, tuple[Opening, ...]]:
    folder = read_folder(DEMO, days=DAYS)
    task = split(folder, known_recipes(folder), DAYS)
    return task, folder, openings(task.problem)


def holds(task: Split, folder: Folder, opening: Opening, level: float) -> Fit:
    """Every rule of the timetable, the run alone, no slack: asked without any of the limits' own sums."""
    run = Run(*opening.key, level, loads_of(opening.activity, level), ())
    work = batches_of_run(run, task.variants[run.activity], folder)
    problem, _ = timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, DAYS)
    return Prover(1, 2.0).verdict(problem).outcome


def test_it_works(demo: tuple[Split, Folder, tuple[Opening, ...]]) -> None:
    """What is ruled out has no timetable at any level that is tried; some runs are limited, and most are not."""
    task, folder, known = demo
    limits = Limits(task, folder, Prover())
    limited = 0
    for opening in known[:: max(1, len(known) // 40)]:
        if opening.activity.key not in task.variants:
            continue
        limit = limits.too_much(opening)
        if limit == math.inf:
            continue
        limited += 1
        step = opening.activity.level_step
        for part in range(LEVELS + 1):
            level = limit + (opening.largest - limit) * part / LEVELS
            level = math.ceil(level / step - 1e-6) * step if step > 0 else level
            assert holds(task, folder, opening, min(level, opening.largest)) is not Fit.FEASIBLE
    assert 0 < limited < 40
