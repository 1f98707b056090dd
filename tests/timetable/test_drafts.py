"""Timetables by drafting alone: right, in time, and counted as the solver counts them."""

from __future__ import annotations

import random

import pytest
from kitchen_days import kitchen_day
from published import problem_of

from stillroom.timetable.check import check
from stillroom.timetable.drafts import Drafts
from stillroom.timetable.effort import Effort
from stillroom.timetable.goals import comfort, discomfort, promise
from stillroom.timetable.model import Model
from stillroom.timetable.problem import Outcome, Problem, Timetable
from stillroom.timetable.tally import LATE_WEIGHT, Tally
from stillroom.timetable.ways import ways

COUNTED = Effort(60.0, 1, 1)


def drafts_of(problem: Problem, seed: int = 1) -> Drafts:
    found = ways(problem)
    return Drafts(problem, found, comfort(problem, found), seed)


def is_right(problem: Problem, drafts: Drafts) -> bool:
    return check(problem, Timetable(Outcome.FEASIBLE, tuple(drafts.placed().values()))) == ()


@pytest.mark.parametrize(("tasks", "days"), [(40, 1), (80, 1), (150, 2)])
@pytest.mark.parametrize("windows", [0.0, 0.3, 0.8])
def test_a_day_that_can_be_kept_is_kept_at_once(tasks: int, days: int, windows: float) -> None:
    for seed in range(12):
        problem = kitchen_day(seed, tasks, days, windows).problem
        drafts = drafts_of(problem)
        assert drafts.first(COUNTED.allowance(drafts.draft, 1.0))
        assert is_right(problem, drafts)
        assert drafts.is_least_late


@pytest.mark.parametrize("seed", range(4))
def test_shaking_keeps_all_rules_and_brings_comfort(seed: int) -> None:
    problem = kitchen_day(seed, 60, 1, 0.5).problem
    drafts = drafts_of(problem)
    drafts.first(COUNTED.allowance(drafts.draft, 1.0))
    marks = comfort(problem, ways(problem))
    before = discomfort(problem, marks, drafts.placed())
    drafts.shake(COUNTED.allowance(drafts.draft, 0.5), lambda: False)
    assert is_right(problem, drafts)
    assert discomfort(problem, marks, drafts.placed()) < before
    assert drafts.is_least_late


@pytest.mark.parametrize("name", ["j30/j309_5.sm", "multimode/j3045_10.mm"])
def test_reordering_shortens_a_published_instance(name: str) -> None:
    problem = problem_of(name)
    drafts = drafts_of(problem)
    drafts.first(COUNTED.allowance(drafts.draft, 1.0))
    before = drafts.placed()["31"].end
    drafts.reorder(COUNTED.allowance(drafts.draft, 1.0), lambda: False)
    assert is_right(problem, drafts)
    assert drafts.placed()["31"].end < before


@pytest.mark.parametrize("seed", range(4))
def test_a_draft_costs_what_the_solver_says_it_costs(seed: int) -> None:
    """The model, with every start fixed by the whole hint, has the same objective as the tally and the goals."""
    problem = kitchen_day(seed, 25, 1, 0.3).problem
    drafts = drafts_of(problem, seed)
    drafts.first(COUNTED.allowance(drafts.draft, 1.0))
    found = ways(problem)
    marks, placed = comfort(problem, found), drafts.placed()
    model = Model(problem, found)
    model.aim_at_comfort(marks, most_late=1000)
    model.begin_at(placed)
    assert model.solve(Effort(5.0, 1, 1), 5.0) in (Outcome.OPTIMAL, Outcome.FEASIBLE)
    late = sum(mark.over(model.placed) for mark in promise(problem, found))
    assert model.objective == discomfort(problem, marks, model.placed)
    drafts.adopt(model.placed)
    tally = Tally(drafts.draft.work, marks)
    assert tally.cost(drafts.draft) == model.objective + LATE_WEIGHT * late


def test_moving_a_unit_leaves_the_board_as_if_it_had_always_been_there() -> None:
    problem = kitchen_day(1, 60).problem
    drafts = drafts_of(problem)
    drafts.first(COUNTED.allowance(drafts.draft, 1.0))
    draft, chance = drafts.draft, random.Random(1)
    whole = draft.laid()
    for _ in range(50):
        unit = chance.choice(draft.work.units)
        lifted = draft.lift(unit)
        if draft.lay_early(unit, chance.randrange(600)) or draft.lay_late(unit, [draft.work.minutes] * len(unit)):
            assert is_right(problem, drafts)
            draft.lift(unit)
        draft.put_back(lifted)
    assert draft.laid() == whole
