"""What the days hold of a split with slack, and what else."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from stillroom.allocation.problem import Allocation, Outcome, Run, Taken, lot_made, made_by
from stillroom.allocation.solve import solve
from stillroom.household.folder import Folder, read_folder
from stillroom.planning.assuring import Assuring
from stillroom.planning.batches import batches
from stillroom.planning.filling import Filling
from stillroom.planning.fitting import Fitting, _makers_kept, makers_first, slack_of
from stillroom.planning.holding import Holding
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.split import Split, split
from stillroom.planning.tasks import timetable_problem
from stillroom.planning.wished import worth
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.proof import Prover
from stillroom.timetable.slack import Padding
from stillroom.work_clock import WorkClock

DEMO = Path(__file__).parents[2] / "examples" / "demo"
DAYS = 3


def run(key: str, *from_: str) -> Run:
    return Run(key, 0, 1.0, 1, tuple(Taken(lot_made(other, 0, "x"), "x", 1.0) for other in from_))


def test_what_is_made_of_something_comes_after_it() -> None:
    cut, jars, soup = run("cut"), run("jars", "cut"), run("soup", "stock")
    stock = run("stock", "cut")
    assert makers_first([soup, stock, jars, cut], [soup, jars]) == [cut, stock, soup, jars]


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
    allocation = solve(task.problem, seconds=1.5, seed=1, clock=WorkClock())
    runs = [run for run in allocation.runs if run.activity in task.variants]
    serves = {activity.key for activity in task.problem.activities if activity.servings}
    kept: list[Run] = []
    dropped: set[Run] = set()
    for dish in (run for run in runs if run.activity in serves):
        more = [run for run in makers_first(runs, [dish]) if run not in kept]
        if fit(task, folder, (*kept, *more)):
            kept.extend(more)
        else:
            dropped.add(dish)
    left = _makers_kept([run for run in makers_first(runs, runs) if run not in dropped], ())
    return task, folder, replace(allocation, runs=tuple(left))


def fit(task: Split, folder: Folder, runs: tuple[Run, ...]) -> bool:
    """Whether the days can keep these runs, with no slack at all."""
    work = batches(task, Allocation(Outcome.FEASIBLE, runs, (), (), ()), folder)
    problem, _ = timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, DAYS)
    return Prover(1, 2.0).verdict(problem).outcome is Fit.FEASIBLE


@pytest.fixture(scope="module")
def kept(crowded: tuple[Split, Folder, Allocation]) -> tuple[tuple[Run, ...], Fitting]:
    task, folder, allocation = crowded
    fitting = Fitting(task, folder, 1, WorkClock(), 60.0)
    return fitting.keep(allocation), fitting


def has_timetable_with_slack(task: Split, folder: Folder, runs: Sequence[Run], fitting: Fitting) -> bool:
    work = batches(task, Allocation(Outcome.FEASIBLE, tuple(runs), (), (), ()), folder)
    if fitting.needs_shared_loads(runs):
        work = with_shared_loads(work)
    problem, pieces = timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, DAYS)
    slack = slack_of(problem, pieces, fitting.factors)
    assert slack.total_min > 60
    return Prover(1, 2.0).verdict(Padding(problem, slack).problem).outcome is Fit.FEASIBLE


def test_it_works(crowded: tuple[Split, Folder, Allocation], kept: tuple[tuple[Run, ...], Fitting]) -> None:
    """What is kept has a timetable with its slack, and something was left out."""
    task, folder, allocation = crowded
    runs = [run for run in allocation.runs if run.activity in task.variants]
    assert set(kept[0]) < set(runs)
    assert has_timetable_with_slack(task, folder, *kept)


def test_no_dish_is_left_out_and_what_it_is_made_of_stays(
    crowded: tuple[Split, Folder, Allocation], kept: tuple[tuple[Run, ...], Fitting]
) -> None:
    task, _, allocation = crowded
    serves = {activity.key for activity in task.problem.activities if activity.servings}
    dishes = {run for run in allocation.runs if run.activity in serves}
    assert dishes
    assert dishes <= set(kept[0])
    assert _makers_kept(kept[0], ()) == list(kept[0])


def test_without_time_only_dishes_are_tried(crowded: tuple[Split, Folder, Allocation]) -> None:
    task, folder, allocation = crowded
    fitting = Fitting(task, folder, 1, WorkClock(), -1.0)
    runs = fitting.keep(allocation)
    makers = {made_by(taken.lot)[:2] for run in runs for taken in run.taken if taken.lot.startswith("run:")}
    assert any(fitting.is_first(run) for run in runs)
    assert all(fitting.is_first(run) or (run.activity, run.day) in makers for run in runs)


def test_what_fills_the_days_has_slack_too(crowded: tuple[Split, Folder, Allocation]) -> None:
    """And nothing that was there goes."""
    task, folder, allocation = crowded
    serves = {activity.key for activity in task.problem.activities if activity.servings}
    dishes = makers_first(allocation.runs, [run for run in allocation.runs if run.activity in serves])
    fitting = Fitting(task, folder, 1, WorkClock(), 60.0)
    runs = fitting.keep(replace(allocation, runs=tuple(dishes)))
    filled = Filling(task, fitting, WorkClock()).fill(runs)
    assert set(filled) > set(runs)
    assert has_timetable_with_slack(task, folder, filled, fitting)
    assert worth(task.problem, filled) > worth(task.problem, runs)


def test_out_of_time_nothing_is_given_up(
    crowded: tuple[Split, Folder, Allocation], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What there was no time to try is told as such, and no surer timetable is bought with it."""
    task, folder, allocation = crowded
    clock = WorkClock()
    holding = Holding(task, folder, 1, clock)
    whole = holding.held(allocation, 60.0)
    assert not whole.untried
    late = holding.held(allocation, clock.now_s)
    assert late.untried
    work = batches(task, whole.allocation, folder)
    problem, pieces = timetable_problem(work, folder.kitchen, folder.household.meals, folder.start, DAYS)
    a_little = slack_of(problem, pieces, {}).reduced(dict.fromkeys(pieces, 0.1))
    assert a_little.total_min > 0
    surer = itertools.count()  # each round looks surer by a trifle, and never sure enough
    monkeypatch.setattr(
        Assuring, "_secured", lambda *_: ({}, SimpleNamespace(is_sure=False, missing=a_little, number=next(surer)))
    )
    monkeypatch.setattr("stillroom.planning.assuring._shortfall", lambda secured: 1 - secured.number * 1e-6)
    assured = Assuring(task, folder, holding, clock, 1).assure(whole, clock.now_s + 1e-9, lambda _: None)
    assert assured is not None
    assert assured is not None
    assert assured.allocation.objective > whole.allocation.objective - 1
