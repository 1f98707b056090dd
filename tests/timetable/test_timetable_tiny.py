"""Tiny random timetables against a second opinion that tries everything, minute by minute."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from minute_by_minute import is_right, lateness, least_lateness, options

from stillroom.model.work import Attention
from stillroom.timetable.check import check
from stillroom.timetable.problem import (
    Demand,
    Lag,
    Mode,
    Outcome,
    Problem,
    Resource,
    Span,
    Task,
    Timetable,
    Worker,
)
from stillroom.timetable.solve import solve

HORIZON = 7
NAMES = ("Ann", "Ben")


@st.composite
def spans(draw: st.DrawFn) -> tuple[Span, ...]:
    cuts = sorted(draw(st.lists(st.integers(0, HORIZON), min_size=2, max_size=4)))
    return tuple(Span(start, end) for start, end in zip(cuts[::2], cuts[1::2], strict=False))


demands = st.lists(
    st.builds(
        Demand, st.sampled_from(("oven", "burner", "ice")), st.integers(1, 2), st.sampled_from(("", "hot", "mild"))
    ),
    max_size=1,
).map(tuple)
modes = st.builds(Mode, st.integers(0, 3), demands, st.sampled_from(((), (), ("Ann",), ("Ben",), ("Ann", "Ben"))))


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    tasks = []
    for number in range(draw(st.integers(1, 3))):
        earliest = draw(st.integers(0, 3))
        tasks.append(
            Task(
                f"t{number}",
                f"Task {number}",
                draw(st.sampled_from(("g", "h", "i"))),
                tuple(draw(st.lists(modes, min_size=1, max_size=2))),
                draw(st.sampled_from(Attention)),
                earliest,
                draw(st.integers(earliest, HORIZON)),
                draw(st.none() | st.integers(0, HORIZON)),
            )
        )
    keys = st.sampled_from([task.key for task in tasks])
    lags = []
    for _ in range(draw(st.integers(0, 2))):
        before, after = draw(keys), draw(keys)
        least = draw(st.integers(-2, 2))
        most = draw(st.none() | st.integers(least, 3))
        if before != after:
            lags.append(Lag(before, after, least, most))
    workers = tuple(Worker(name, draw(spans())) for name in NAMES)
    ice = Resource("ice", draw(st.integers(1, 4)), is_used_up=True)
    resources = (Resource("oven", draw(st.integers(0, 2))), Resource("burner", 2), ice)
    return Problem(tuple(tasks), tuple(lags), workers, resources, draw(st.integers(0, 2)))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(problems())
def test_solver_finds_what_trying_everything_finds(problem: Problem) -> None:
    expected = least_lateness(problem)
    answer = solve(problem, seconds=5, workers=1)
    assert check(problem, answer) == ()
    if expected is None:
        assert answer.outcome is Outcome.INFEASIBLE
        return
    assert answer.outcome is Outcome.OPTIMAL
    assert answer.is_promise_proved
    placed = {job.task: job for job in answer.placed}
    assert is_right(problem, placed)
    assert lateness(problem, placed) == answer.lateness_min == expected


@settings(max_examples=150, deadline=None, derandomize=True)
@given(problems(), st.randoms(use_true_random=False))
def test_check_agrees_minute_by_minute(problem: Problem, chance: object) -> None:
    """Any placement within the hours, right or wrong, is judged alike by both."""
    choices = {task.key: list(options(problem, task)) for task in problem.tasks}
    if not all(choices.values()):
        return
    for _ in range(20):
        placed = {key: chance.choice(found) for key, found in choices.items()}  # type: ignore[attr-defined]
        faults = check(problem, Timetable(Outcome.FEASIBLE, tuple(placed.values())))
        assert (faults == ()) is is_right(problem, placed), faults
