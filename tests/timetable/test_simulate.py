"""Simulated days: against closed forms where there are any, and every day against the check."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kitchen_days import kitchen_day
from scipy.stats import binom, lognorm

from stillroom.model.work import Attention
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
from stillroom.timetable.propagate import STAY_MIN
from stillroom.timetable.simulate import Simulated, simulate
from stillroom.timetable.spread import EXACT, Spread

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
ANN, BEN = Worker("Ann", (Span(400, 1200),)), Worker("Ben", (Span(400, 1200),))
# What a day may do that a plan may not: be late, go on past somebody's hours, and let a clock run out (counted).
MAY_HAPPEN = re.compile(
    r"after it must have ended|leaves the kitchen at|has left the kitchen|before .* is in the kitchen|may wait at most"
)


def task(key: str, attention: Attention, minutes: int, *demands: Demand, due: int | None = None) -> Task:
    return Task(key, key, key[0], (Mode(minutes, demands),), attention, 0, 2000, due)


def laid(problem: Problem, **starts: tuple[int, str | None]) -> Timetable:
    tasks = {item.key: item for item in problem.tasks}
    return Timetable(
        Outcome.FEASIBLE,
        tuple(
            Placed(key, start, start + tasks[key].modes[0].minutes, 0, worker)
            for key, (start, worker) in starts.items()
        ),
    )


def test_one_task_is_on_time_as_often_as_its_distribution_says() -> None:
    """Reference: scipy's log-normal distribution; whole minutes end half a minute later."""
    problem = Problem((task("a", HANDS, 60, due=620),), (), (ANN,), ())
    chance = simulate(problem, laid(problem, a=(550, "Ann")), days=4000).chances()
    exact = lognorm.cdf(80.5, 0.25, scale=60)  # due in 70, and 10 more are on time
    low, high = binom.interval(0.9999, 4000, exact)
    assert low / 4000 <= chance.meals[620] <= high / 4000
    assert chance.on_time["a"] == chance.of_all_meals == chance.meals[620]


def test_two_steps_are_late_as_often_as_the_sum_of_their_times_says() -> None:
    """Reference: the distribution of the sum, by numerical convolution of two densities of scipy."""
    problem = Problem((task("a", HANDS, 30), task("b", HANDS, 40, due=600)), (Lag("a", "b", 0, None),), (ANN,), ())
    chance = simulate(problem, laid(problem, a=(515, "Ann"), b=(545, "Ann")), days=4000).chances()
    first = np.arange(0.05, 400, 0.1)
    weight = lognorm.pdf(first, 0.25, scale=30) * 0.1
    started = 515 + np.maximum(first, 30)  # not before its planned minute
    exact = float(np.sum(weight * lognorm.cdf(610 - started, 0.25, scale=40)))
    assert chance.meals[600] == pytest.approx(exact, abs=4 * math.sqrt(exact * (1 - exact) / 4000) + 0.01)


def test_a_day_without_luck_is_the_plan() -> None:
    day = kitchen_day(3, 40)
    exact = dict.fromkeys((item.key for item in day.problem.tasks), EXACT)
    seen = simulate(day.problem, day.witness, exact, days=3)
    planned = {item.task: item.start for item in day.witness.placed}
    for number, node in enumerate(seen.net.nodes):
        assert (seen.days.starts[number] == planned[node.task.key]).all()
    chances = seen.chances()
    assert chances.of_all_meals == chances.of_all_clocks == 1


def test_what_is_full_and_hot_does_not_wait_for_the_planned_minute() -> None:
    """Jars filled ten minutes sooner go into the canner sooner: the clock of 5 min would run out."""
    problem = Problem(
        (task("a", HANDS, 60), task("b", FREE, 60)), (Lag("a", "b", 0, 5, "held hot", is_safety=True),), (ANN,), ()
    )
    seen = simulate(problem, laid(problem, a=(500, "Ann"), b=(565, None)), {"b": EXACT}, days=500)
    assert seen.chances().clocks == {problem.lags[0]: 1.0}
    assert (seen.days.starts[1] < 565).any()


def test_a_clock_is_not_started_while_what_it_leads_to_is_taken() -> None:
    """The canner is taken until 700 for sure: jars of 20 min are not filled at 600 to stand for an hour and more."""
    canner = Demand("canner", 1)
    late = {"c": (500, None), "a": (580, "Ann"), "b": (600, None)}
    problem = Problem(
        (task("c", FREE, 100, canner), task("a", HANDS, 20), task("b", FREE, 60, canner)),
        (Lag("a", "b", 0, 10, "held hot", is_safety=True),),
        (ANN,),
        (Resource("canner", 1),),
    )
    timetable = laid(problem, **late)  # type: ignore[arg-type]
    assert check(problem, timetable) == ()
    shifted = replace(problem, tasks=(replace(problem.tasks[0], modes=(Mode(200, (canner,)),)), *problem.tasks[1:]))
    seen = simulate(shifted, laid(shifted, **late), {"a": Spread(0.1), "c": EXACT}, days=200)  # type: ignore[arg-type]
    filled = seen.days.starts[seen.net.position["a"]]
    assert (filled >= 700 - 20 - 10).all()
    assert seen.chances().of_all_clocks > 0.95


def test_somebody_else_steps_in_before_a_clock_runs_out() -> None:
    problem = Problem(
        (task("a", FREE, 30), task("p", HANDS, 60), task("b", HANDS, 5)),
        (Lag("a", "b", 0, 10, "out of the canner", is_safety=True),),
        (ANN, BEN),
        (),
    )
    timetable = laid(problem, p=(440, "Ann"), a=(470, None), b=(500, "Ann"))
    seen = simulate(problem, timetable, {"a": EXACT}, days=300)
    who = [seen.days.persons[number] for number in seen.days.who[seen.net.position["b"]]]
    assert set(who) == {"Ann", "Ben"}
    assert seen.chances().of_all_clocks == 1


def test_the_same_days_for_two_timetables_and_the_same_answer_twice() -> None:
    day = kitchen_day(1, 30)
    one = simulate(day.problem, day.witness, days=50)
    again = simulate(day.problem, day.witness, days=50)
    assert (one.days.ends == again.days.ends).all()
    key = next(item.key for item in day.problem.tasks if item.attention is HANDS and item.key.endswith("prepare"))
    later = replace(day.witness, placed=tuple(reversed(day.witness.placed)))
    other = simulate(day.problem, later, days=50)
    assert (_minutes(one, key) == _minutes(other, key)).all()
    assert not (_minutes(simulate(day.problem, day.witness, days=50, seed=2), key) == _minutes(one, key)).all()


def _minutes(seen: Simulated, key: str) -> np.ndarray:
    number = seen.net.position[key]
    return seen.days.ends[number] - seen.days.starts[number]


@given(st.integers(0, 10_000), st.sampled_from([(12, 1), (30, 1), (60, 1), (60, 3)]), st.floats(0.05, 0.6))
@settings(max_examples=25, deadline=None)
def test_every_simulated_day_keeps_the_rules(seed: int, size: tuple[int, int], sigma: float) -> None:
    """By the check, which shares no code with the rule: only lateness, long hours and counted clocks may happen."""
    made = kitchen_day(seed, *size)
    spreads = {
        item.key: Spread(sigma) for item in made.problem.tasks if item.attention is not FREE and item.due is None
    }
    seen = simulate(made.problem, made.witness, spreads, days=12, seed=seed)
    broken = 0
    for number in range(12):
        problem, timetable = seen.day(number)
        assert all(_is_there(problem, placed) for placed in timetable.placed)
        for fault in check(problem, timetable):
            assert MAY_HAPPEN.search(fault), fault
            broken += fault.startswith("Safety: ")
    clocks = seen.chances().clocks.values()
    assert broken == round(sum(1 - share for share in clocks) * 12)


def _is_there(problem: Problem, placed: Placed) -> bool:
    """Hands begin within their hours, in the two hours after them, or when the plan has no later hours for them."""
    spans = [span for worker in problem.workers if worker.name == placed.worker for span in worker.presence]
    is_last = all(span.end < placed.start for span in spans)
    return placed.worker is None or is_last or any(s.start <= placed.start <= s.end + STAY_MIN for s in spans)


def test_no_process_in_a_simulated_day_is_shorter_than_planned() -> None:
    made = kitchen_day(5, 60)
    seen = simulate(made.problem, made.witness, days=200)
    for number, node in enumerate(seen.net.nodes):
        if node.task.attention is FREE:
            assert (seen.days.ends[number] - seen.days.starts[number] >= node.minutes).all()


def test_nothing_due_and_no_clock_is_sure() -> None:
    problem = Problem((task("a", HANDS, 10),), (), (ANN,), ())
    chances = simulate(problem, laid(problem, a=(500, "Ann"))).chances()
    assert (chances.of_all_meals, chances.of_all_clocks) == (1.0, 1.0)
