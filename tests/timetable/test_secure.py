"""The choice of a timetable by its chances."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kitchen_days import kitchen_day
from scipy.stats import lognorm

from stillroom.model.work import Attention
from stillroom.timetable.check import check
from stillroom.timetable.problem import Lag, Mode, Outcome, Problem, Span, Task, Timetable, Worker
from stillroom.timetable.secure import MEALS_SHARE, Secured, secure
from stillroom.timetable.simulate import simulate
from stillroom.timetable.slack import MOST_EARLY_MIN, Padding, Slack, usual_slack, with_earlier_dishes
from stillroom.timetable.solve import solve
from stillroom.timetable.spread import EXACT, Spread, usual

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
ANN = Worker("Ann", (Span(900, 1200),))
DINNER = 1110


def dinner(minutes: int, *, due: int = DINNER) -> Problem:
    """Something to prepare and to cook for dinner, and work that could be done before or after."""
    return Problem(
        (
            Task("peel", "Peel", "dish", (Mode(20),), HANDS, 900, 1200),
            Task("cook", "Cook", "dish", (Mode(minutes),), NEAR, due - 15 - minutes, due, due),
            Task("sort", "Sort", "jars", (Mode(60),), HANDS, 900, 1200),
        ),
        (Lag("peel", "cook", 0, 120),),
        (ANN,),
        (),
    )


def spreads_of(problem: Problem) -> dict[str, Spread]:
    return {task.key: usual(task) for task in problem.tasks}


def test_the_cheapest_timetable_that_is_sure_is_chosen() -> None:
    chosen = secure(dinner(60), seconds=3, workers=1)
    assert isinstance(chosen, Secured)
    assert chosen.is_sure
    assert chosen.slack > 0  # without slack it is sure on too few days:
    plain = solve(dinner(60), seconds=1, workers=1)
    assert simulate(dinner(60), plain).chances().of_all_meals < MEALS_SHARE
    assert check(chosen.problem, chosen.timetable) == ()
    # What is chosen is told on fresh days.
    again = simulate(chosen.problem, chosen.timetable, seed=2).chances()
    assert chosen.chances == again


def test_no_slack_is_bought_where_none_is_needed() -> None:
    chosen = secure(dinner(60), seconds=3, workers=1, spreads=dict.fromkeys(("peel", "cook", "sort"), EXACT))
    assert isinstance(chosen, Secured)
    assert (chosen.slack, chosen.prices, chosen.chances.of_all_meals) == (0.0, (), 1.0)


def test_the_price_is_the_change_of_the_day() -> None:
    chosen = secure(dinner(60), seconds=3, workers=1)
    assert isinstance(chosen, Secured)
    plain = {item.task: item for item in solve(dinner(60), seconds=1, workers=1).placed}
    now = {item.task: item for item in chosen.timetable.placed}
    later = max(p.end for p in now.values()) - max(p.end for p in plain.values())
    assert [price.later_min for price in chosen.prices] == ([later] if later else [])


def test_what_can_not_be_sure_is_chosen_and_says_so() -> None:
    """The kitchen opens 60 min before a dish of 58 min, and its time is known to a quarter only."""
    late = replace(dinner(58, due=960), lags=())
    chosen = secure(late, seconds=3, workers=1)
    assert isinstance(chosen, Secured)
    assert not chosen.is_sure
    assert 0.3 < chosen.chances.of_all_meals < MEALS_SHARE


def test_no_timetable_is_told_as_the_solver_tells_it() -> None:
    hopeless = replace(dinner(60), workers=(Worker("Ann", (Span(900, 905),)),))
    answer = secure(hopeless, seconds=1, workers=1)
    assert isinstance(answer, Timetable)
    assert answer.outcome is Outcome.INFEASIBLE


def test_the_end_of_a_dish_has_slack_for_all_steps_that_can_not_wait() -> None:
    """Reference: the 98 % quantile by scipy, less the ten minutes that are on time; two steps add up as squares."""
    problem = dinner(60)
    over = lognorm.ppf(0.98, 0.25, scale=60) - 60
    assert usual_slack(problem, spreads_of(problem)).after["cook"] == round(over) - 10
    carved = Task("carve", "Carve", "dish", (Mode(10),), HANDS, 900, DINNER, DINNER)
    tight = Problem(
        (replace(problem.tasks[1], due=None), carved), (Lag("cook", "carve", 0, 15, "hot", is_safety=True),), (ANN,), ()
    )
    both = ((over) ** 2 + (lognorm.ppf(0.98, 0.25, scale=10) - 10) ** 2) ** 0.5
    assert usual_slack(tight, spreads_of(tight)).after["carve"] == round(both) - 10


@given(st.integers(0, 1000), st.sampled_from([10, 20, 40]), st.floats(0, 1.5))
@settings(max_examples=8, deadline=None)
def test_a_timetable_with_slack_is_right_without_it(seed: int, tasks: int, factor: float) -> None:
    problem = kitchen_day(seed, tasks).problem
    padding = Padding(problem, usual_slack(problem, spreads_of(problem)).times(factor))
    answer = solve(padding.problem, seconds=1.0, workers=1)
    if answer.placed:
        kept = replace(answer, placed=padding.taken_off(answer.placed))
        assert check(with_earlier_dishes(problem), kept) == ()


def test_slack_takes_no_more_than_a_clock_has_room_for() -> None:
    problem = replace(dinner(60), lags=(Lag("peel", "cook", 5, 30, "browns", is_safety=True),))
    padding = Padding(problem, Slack({}, {"peel": 100, "cook": 500}, {problem.lags[0]: 10}))
    minutes = {task.key: task.modes[0].minutes for task in padding.problem.tasks}
    assert minutes["peel"] == 20 + 30 - 5 - 10
    assert minutes["cook"] == 60 + 15 + MOST_EARLY_MIN  # no dish waits for longer
    (lag,) = padding.problem.lags
    assert (lag.min_lag, lag.max_lag) == (5, 5)
    cook = padding.problem.tasks[1]
    assert cook.earliest == problem.tasks[1].earliest - MOST_EARLY_MIN


@pytest.mark.parametrize("workers", [1, 2])
def test_a_whole_day_gets_surer_within_seconds(workers: int) -> None:
    chosen = secure(kitchen_day(4, 30).problem, seconds=6, workers=workers)
    assert isinstance(chosen, Secured)
    assert check(chosen.problem, chosen.timetable) == ()
    assert chosen.chances.of_all_meals >= MEALS_SHARE
    plain = solve(kitchen_day(4, 30).problem, seconds=2, workers=workers)
    assert chosen.chances.of_all_meals > simulate(kitchen_day(4, 30).problem, plain).chances().of_all_meals
