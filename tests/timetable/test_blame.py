"""Where lateness comes from."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import lognorm

from stillroom.model.work import Attention
from stillroom.timetable.blame import slack_for
from stillroom.timetable.problem import Lag, Mode, Outcome, Placed, Problem, Span, Task, Timetable, Worker
from stillroom.timetable.simulate import simulate
from stillroom.timetable.spread import EXACT, Spread

HANDS, FREE = Attention.HANDS, Attention.FREE
ANN, BEN = Worker("Ann", (Span(0, 1400),)), Worker("Ben", (Span(0, 1400),))
HOT = Lag("cool", "lift", 0, 20, "out of the canner", is_safety=True)


def task(key: str, minutes: int, attention: Attention = HANDS, due: int | None = None) -> Task:
    return Task(key, key, key, (Mode(minutes),), attention, 0, 1400, due)


def test_the_long_task_before_a_dish_is_blamed_and_not_what_others_do() -> None:
    """Ann sorts for two hours and then cooks; Ben sweeps.

    Reference: by scipy: only what sorting takes beyond its planned end delays the cooking, with the slope
    cov(max(T - 120, 0), T) / var(T); of the cooking every minute counts.
    """
    problem = Problem((task("sort", 120), task("cook", 60, due=780), task("sweep", 90)), (), (ANN, BEN), ())
    placed = (
        Placed("sort", 600, 720, 0, "Ann"),
        Placed("cook", 720, 780, 0, "Ann"),
        Placed("sweep", 600, 690, 0, "Ben"),
    )
    seen = simulate(problem, Timetable(Outcome.FEASIBLE, placed), days=4000)
    found = slack_for(seen, 0.95, 0.99)
    assert set(found.after) == {"sort", "cook"}
    sort, cook = lognorm(0.25, scale=120), lognorm(0.25, scale=60)
    shift = sort.expect(lambda t: np.maximum(t - 120, 0) * (t - sort.mean()))
    ratio = (shift / sort.var()) ** 2 * sort.var() / cook.var()
    assert found.after["sort"] / found.after["cook"] == pytest.approx(ratio, rel=0.15)
    assert found.clocks == {}


def test_what_is_sure_needs_no_slack() -> None:
    problem = Problem((task("sort", 120), task("cook", 60, due=780)), (), (ANN,), ())
    placed = (Placed("sort", 300, 420, 0, "Ann"), Placed("cook", 600, 660, 0, "Ann"))
    seen = simulate(problem, Timetable(Outcome.FEASIBLE, placed))
    assert slack_for(seen, 0.95, 0.99).total_min == 0


def test_a_clock_that_starts_early_is_to_be_planned_shorter() -> None:
    """Ann is busy until 700 for sure; the load that she lifts out at 700 may be done well before."""
    problem = Problem((task("cool", 120, FREE), task("sort", 100), task("lift", 5)), (HOT,), (ANN,), ())
    placed = (Placed("cool", 570, 690, 0), Placed("sort", 600, 700, 0, "Ann"), Placed("lift", 700, 705, 0, "Ann"))
    seen = simulate(problem, Timetable(Outcome.FEASIBLE, placed), {"cool": Spread(0.2), "sort": EXACT})
    found = slack_for(seen, 0.95, 0.99)
    assert found.after == {}
    assert set(found.clocks) == {HOT}
    assert found.clocks[HOT] > 10
