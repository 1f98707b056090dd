"""What is left of a plan when its days need slack."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from stillroom.allocation.problem import Allocation, Outcome, Run, Taken, lot_made
from stillroom.allocation.solve import solve
from stillroom.household.folder import Folder, read_folder
from stillroom.planning.batches import batches
from stillroom.planning.loosening import Loosened, Loosening, _makers_first, _makers_kept, slack_of
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.split import Split, split
from stillroom.planning.tasks import timetable_problem
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.proof import Prover
from stillroom.timetable.slack import Padding
from stillroom.timetable.solve import can_be_kept
from stillroom.work_clock import WorkClock

DEMO = Path(__file__).parents[2] / "examples" / "demo"
DAYS = 3


def run(key: str, *from_: str) -> Run:
    return Run(key, 0, 1.0, 1, tuple(Taken(lot_made(other, 0, "x"), "x", 1.0) for other in from_))


def test_what_is_made_of_something_comes_after_it() -> None:
    cut, jars, soup = run("cut"), run("jars", "cut"), run("soup", "stock")
    stock = run("stock", "cut")
    assert _makers_first([soup, stock, jars, cut], [soup, jars]) == [cut, stock, soup, jars]


def test_what_nobody_makes_any_more_is_left_out_too() -> None:
    cut, jars, stock, soup = run("cut"), run("jars", "cut"), run("stock", "cut"), run("soup", "stock")
    assert _makers_kept([jars, stock, soup], [cut]) == [jars, stock, soup]
    assert _makers_kept([jars, stock, soup], []) == []
    assert _makers_kept([cut, jars, soup], []) == [cut, jars]


@pytest.fixture(scope="module")
def crowded() -> tuple[Split, Folder, Allocation]:
    """A split whose dishes the days can keep; the rest fills them to the brim: nobody has asked a timetable."""
    folder = read_folder(DEMO, days=DAYS)
    task = split(folder, known_recipes(folder), DAYS)
    allocation = solve(task.problem, seconds=3, seed=1)
    runs = [run for run in allocation.runs if run.activity in task.variants]
    serves = {activity.key for activity in task.problem.activities if activity.servings}
    kept: list[Run] = []
    dropped: set[Run] = set()
    for dish in (run for run in runs if run.activity in serves):
        more = [run for run in _makers_first(runs, [dish]) if run not in kept]
        if fit(task, folder, (*kept, *more)):
            kept.extend(more)
        else:
            dropped.add(dish)
    left = _makers_kept([run for run in _makers_first(runs, runs) if run not in dropped], ())
    return task, folder, replace(allocation, runs=tuple(left))


def fit(task: Split, folder: Folder, runs: tuple[Run, ...]) -> bool:
    """Whether the days can keep these runs, with no slack at all."""
    work = batches(task, Allocation(Outcome.FEASIBLE, runs, (), (), ()), folder)
    problem, _ = timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, DAYS)
    return can_be_kept(problem, seconds=2)


@pytest.fixture(scope="module")
def loose(crowded: tuple[Split, Folder, Allocation]) -> Loosened:
    task, folder, allocation = crowded
    return Loosening(task, folder, 1, WorkClock(), 60.0, share=False).keep(allocation)


def test_it_works(crowded: tuple[Split, Folder, Allocation], loose: Loosened) -> None:
    """What is kept has a timetable with its slack, and something was left out."""
    task, folder, allocation = crowded
    runs = [run for run in allocation.runs if run.activity in task.variants]
    assert set(loose.runs) < set(runs)
    kept = Allocation(Outcome.FEASIBLE, loose.runs, (), (), ())
    problem, pieces = timetable_problem(
        batches(task, kept, folder), folder.kitchen, folder.household.meals, folder.start, DAYS
    )
    slack = slack_of(problem, pieces, loose.factors)
    assert slack.total_min > 60
    padding = Padding(problem, slack)
    assert Prover(1, 2.0).verdict(padding.problem).outcome is Fit.FEASIBLE


def test_no_dish_is_left_out_and_what_it_is_made_of_stays(
    crowded: tuple[Split, Folder, Allocation], loose: Loosened
) -> None:
    task, _, allocation = crowded
    serves = {activity.key for activity in task.problem.activities if activity.servings}
    dishes = {run for run in allocation.runs if run.activity in serves}
    assert dishes
    assert dishes <= set(loose.runs)
    assert _makers_kept(loose.runs, ()) == list(loose.runs)


def test_without_time_everything_stays(crowded: tuple[Split, Folder, Allocation]) -> None:
    task, folder, allocation = crowded
    kept = Loosening(task, folder, 1, WorkClock(), -1.0, share=False).keep(allocation)
    assert set(kept.runs) == {run for run in allocation.runs if run.activity in task.variants}
