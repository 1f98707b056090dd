"""A plan under way: facts are held, the rest makes way, and nothing else changes."""

from dataclasses import replace
from datetime import date

import pytest

from stillroom.model.plan import Effort, FreezerAfter, Plan, PlannedMeal, Sureness
from stillroom.model.work import Attention
from stillroom.planning.pipeline import WorkedOut
from stillroom.planning.supply import moment
from stillroom.planning.tasks import Piece
from stillroom.planning.underway import Fact, broken_clocks, under_way
from stillroom.timetable.check import check
from stillroom.timetable.problem import (
    Demand,
    Lag,
    Mode,
    Outcome,
    Placed,
    Problem,
    Resource,
    Span,
    Task,
    Timetable,
    Worker,
)

START = date(2027, 4, 9)
RUN = ("soup", 0)


def task(key: str, minutes: int, attention: Attention, *demands: Demand, due: int | None = None) -> Task:
    return Task(key, key, "soup", (Mode(minutes, demands),), attention, 480, 1200, due)


@pytest.fixture
def worked_out() -> WorkedOut:
    """Cut from 8:00, boil from 8:30, within 15 min fill from 9:00; beside it somebody else wipes a shelf."""
    burner = Demand("burner", 1)
    tasks = (
        task("cut", 30, Attention.HANDS),
        task("boil", 30, Attention.NEAR, burner),
        task("fill", 20, Attention.HANDS, due=560),
        task("wipe", 60, Attention.HANDS),
    )
    problem = Problem(
        tasks,
        (Lag("cut", "boil", 0, None), Lag("boil", "fill", 0, 15, "it must stay hot", is_safety=True)),
        (Worker("one", (Span(480, 1200),)), Worker("other", (Span(480, 1200),))),
        (Resource("burner", 1),),
    )
    placed = (
        Placed("cut", 480, 510, 0, "one"),
        Placed("boil", 510, 540, 0),
        Placed("fill", 540, 560, 0, "one"),
        Placed("wipe", 480, 540, 0, "other"),
    )
    timetable = Timetable(Outcome.FEASIBLE, placed)
    assert check(problem, timetable) == ()
    pieces = {one.key: Piece(RUN, "soup@0", one.key) for one in tasks}
    meal = PlannedMeal("dinner", moment(START, 560), 4, ("Soup",), (), moment(START, 560), ("soup@0",))
    freezer = FreezerAfter(0, 0, 0, 0, 0)
    effort, sure = Effort(0, 0, 0, 0, "", 0), Sureness(1, 1.0, 1.0, True, (), 0.0, (), ())
    plan = Plan("home", True, START, 1, (), (), (meal,), (), (), (), (), freezer, (), (), (), sure, effort)
    return WorkedOut(plan, (), problem, pieces, timetable)


def span(worked_out: WorkedOut, key: str) -> tuple[int, int]:
    return next((placed.start, placed.end) for placed in worked_out.timetable.placed if placed.task == key)


def test_it_works(worked_out: WorkedOut) -> None:
    later = under_way(worked_out, {"cut": Fact(480, 530)})
    assert [span(later, key) for key in ("cut", "boil", "fill")] == [(480, 530), (530, 560), (560, 580)]
    assert later.plan.meals[0].ready == moment(START, 580)
    assert not later.plan.meals[0].is_on_time


def test_nobody_else_is_disturbed(worked_out: WorkedOut) -> None:
    assert span(under_way(worked_out, {"cut": Fact(480, 530)}), "wipe") == (480, 540)


def test_without_a_fact_it_is_the_plan_itself(worked_out: WorkedOut) -> None:
    assert under_way(worked_out, {}) is worked_out
    assert under_way(worked_out, {"of another plan": Fact(0, 1)}) is worked_out


def test_what_happened_as_planned_moves_nothing(worked_out: WorkedOut) -> None:
    facts = {placed.task: Fact(placed.start, placed.end) for placed in worked_out.timetable.placed}
    assert set(under_way(worked_out, facts).timetable.placed) == set(worked_out.timetable.placed)


def test_a_clock_that_ran_out_is_told(worked_out: WorkedOut) -> None:
    facts = {"boil": Fact(510, 540), "fill": Fact(570, 590)}
    late = under_way(worked_out, facts)
    assert broken_clocks(worked_out) == ()
    assert len(broken_clocks(late)) == 1
    assert "30 min between two steps that allow 15 min (it must stay hot)" in broken_clocks(late)[0].words


def test_a_task_does_not_end_before_it_begins() -> None:
    with pytest.raises(ValueError, match="before it begins"):
        Fact(10, 9)


def test_the_order_of_the_tasks_says_nothing(worked_out: WorkedOut) -> None:
    turned = replace(worked_out.timetable, placed=worked_out.timetable.placed[::-1])
    late = under_way(replace(worked_out, timetable=turned), {"cut": Fact(480, 530)})
    assert span(late, "fill") == (560, 580)
