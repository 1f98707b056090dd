"""Counts of what is wanted within some hours: against loops over minutes, and as proofs against trying everything."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from minute_by_minute import placements
from test_timetable_tiny import HORIZON, problems

from stillroom.model.work import Attention
from stillroom.timetable.energy import Load, largest_excess
from stillroom.timetable.overload import Of, Overload, largest_overload
from stillroom.timetable.problem import Demand, Lag, Mode, Problem, Resource, Span, Task, Worker
from stillroom.timetable.why_not import why_not

ranges = st.tuples(st.integers(0, 12), st.integers(0, 6), st.integers(1, 6), st.integers(1, 2))


def minutes_inside(start: int, minutes: int, begin: int, end: int) -> int:
    """By counting them."""
    return sum(begin <= minute < end for minute in range(start, start + minutes))


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(st.lists(ranges, min_size=1, max_size=2), min_size=1, max_size=5), st.integers(0, 20))
def test_what_is_wanted_is_counted_minute_by_minute(tasks: list[list[tuple[int, int, int, int]]], there: int) -> None:
    """Every start of every range is tried, not only the ends; the hours told are as bad as any."""
    loads = [
        Load((str(n),), frozenset((s, m, a) for first, more, m, a in ways for s in (first, first + more)))
        for n, ways in enumerate(tasks)
    ]
    spans = (Span(0, there), Span(4, 4 + there // 2))

    def wanted(begin: int, end: int) -> int:
        return sum(
            min(
                amount * minutes_inside(start, minutes, begin, end)
                for first, more, minutes, amount in ways
                for start in range(first, first + more + 1)
            )
            for ways in tasks
        )

    def offered(begin: int, end: int) -> int:
        return sum(minutes_inside(span.start, span.end - span.start, begin, end) for span in spans)

    found = largest_excess(loads, spans)
    if found is not None:
        assert found.needed_min == wanted(found.begin, found.end) > found.there_min
        assert found.there_min == offered(found.begin, found.end)
    whole = wanted(0, 40) - offered(0, 40)
    assert (0 if found is None else found.needed_min - found.there_min) >= whole


@settings(max_examples=400, deadline=None, derandomize=True)
@given(problems())
def test_more_wanted_than_there_is_proves_that_there_is_no_timetable(asked: Problem) -> None:
    over = largest_overload(asked)
    if over is None:
        return
    assert over.needed_min > over.there_min
    assert next(placements(asked), None) is None
    if over.of in (Of.HANDS, Of.PERSON):
        names = over.subject.split(" and ") if over.subject else [worker.name for worker in asked.workers]
        spans = [span for worker in asked.workers if worker.name in names for span in worker.presence]
        counted = sum(any(span.start <= minute < span.end for span in [s]) for s in spans for minute in _hours(over))
        assert over.there_min == counted
    if over.of is Of.PLACES:
        places = next(resource.capacity for resource in asked.resources if resource.name == over.subject)
        assert over.there_min <= places * len(_hours(over))


def _hours(over: Overload) -> range:
    assert over.end <= 2 * HORIZON
    return range(over.begin, over.end)


def hands(key: str, minutes: int, earliest: int, latest: int, *workers: str) -> Task:
    return Task(key, key, key, (Mode(minutes, workers=workers),), Attention.HANDS, earliest, latest)


def test_a_part_of_a_task_counts_where_it_must_lie_there() -> None:
    """Two tasks of 60 min between 0 and 70 and 50 and 120: each lies for 50 min in 10 to 110 … 100 min of 100 there.

    Both must work in 50 to 60 … 70: the first starts by 10 and ends after 60, the second starts by 60 at the latest.
    """
    ann = Worker("Ann", (Span(0, 55), Span(65, 120)))
    found = largest_overload(Problem((hands("a", 60, 0, 120),), (), (ann,), ()))
    assert found is None or found.of is not Of.HANDS  # no way at all to lie: told otherwise
    both = Problem((hands("a", 60, 0, 70), hands("b", 60, 50, 115)), (), (replace(ann, presence=(Span(0, 120),)),), ())
    over = largest_overload(both)
    assert over is not None
    assert (over.begin, over.end, over.needed_min, over.there_min) == (0, 115, 120, 115)


def test_hands_of_those_who_may_do_it_are_counted_apart_from_a_child() -> None:
    """Three hours of work for Ann and Ben alone, who are there for an hour each; the child's five hours do not help."""
    workers = tuple(Worker(name, (Span(0, end),)) for name, end in (("Ann", 60), ("Ben", 60), ("child", 300)))
    tasks = tuple(hands(f"t{n}", 30, 0, 300, "Ann", "Ben") for n in range(6))
    answer = why_not(Problem(tasks, (), workers, ()), why_seconds=10, ways_seconds=0.1)
    assert answer.overload is not None
    assert (answer.overload.of, answer.overload.needed_min, answer.overload.there_min) == (Of.PERSON, 180, 120)
    assert "are for Ann and Ben alone, who are there for 2 h" in answer.sentence


def test_what_follows_without_a_break_is_counted_as_one() -> None:
    """Heat 60 and cool 60 in one canner, twice, in 200 min: 240 are wanted, though each alone could slide away."""
    canner = (Demand("canner", 1),)
    tasks, lags = list[Task](), list[Lag]()
    for n in range(2):
        for step in ("heat", "cool"):
            tasks.append(Task(f"{step}{n}", step, f"jars{n}", (Mode(60, canner),), Attention.FREE, 0, 200))
        lags.append(Lag(f"heat{n}", f"cool{n}", 0, 0))
    over = largest_overload(Problem(tuple(tasks), tuple(lags), (), (Resource("canner", 1),)))
    assert over is not None
    assert (over.of, over.needed_min, over.there_min) == (Of.PLACES, 240, 200)


def test_no_more_is_minded_at_once_than_may_be() -> None:
    """Four things of 50 min to mind in 60 min, three at once: each must be minded for 40 of the middle 40 min."""
    tasks = tuple(Task(f"t{n}", "stir", f"t{n}", (Mode(50),), Attention.NEAR, 0, 60) for n in range(4))
    answer = why_not(Problem(tasks, (), (Worker("Ann", (Span(0, 60),)),), ()), why_seconds=10, ways_seconds=0.1)
    assert answer.overload is not None
    assert (answer.overload.of, answer.overload.needed_min, answer.overload.there_min) == (Of.NEAR, 160, 120)
    assert "at most 3 such things at once" in answer.sentence


def test_a_step_that_two_run_straight_into_counts_once() -> None:
    """Ann does a, then c, Ben does b, then d: forty minutes of work in two times twenty."""
    workers = (Worker("Ann", (Span(0, 20),)), Worker("Ben", (Span(0, 20),)))
    tasks = tuple(hands(key, 10, 0, 20) for key in "abcd")
    asked = Problem(tasks, (Lag("a", "c", 0, 0), Lag("b", "c", 0, 0)), workers, ())
    assert next(placements(asked), None) is not None
    assert largest_overload(asked) is None
