"""The rest of a day that goes otherwise than planned."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kitchen_days import kitchen_day
from unlucky import unlucky

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
from stillroom.timetable.progress import Progress, progress
from stillroom.timetable.replan import Replanned, replan
from stillroom.timetable.spread import EXACT, Spread

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
ANN, BEN = Worker("Ann", (Span(400, 1200),)), Worker("Ben", (Span(400, 1200),))
DUE = 700
HOT = Lag("fill", "heat", 0, 10, "filled jars go in at once", is_safety=True)


def task(key: str, attention: Attention, minutes: int, *demands: Demand, due: int | None = None) -> Task:
    return Task(key, key, key[0], (Mode(minutes, demands),), attention, 400, due or 1200, due)


def laid(problem: Problem, starts: Mapping[str, tuple[int, str | None]]) -> Timetable:
    minutes = {item.key: item.modes[0].minutes for item in problem.tasks}
    placed = tuple(Placed(key, start, start + minutes[key], 0, who) for key, (start, who) in starts.items())
    timetable = Timetable(Outcome.FEASIBLE, placed)
    assert check(problem, timetable) == ()
    return timetable


def at(found: Replanned) -> dict[str, Placed]:
    assert check(found.problem, found.timetable) == ()
    return {item.task: item for item in found.timetable.placed}


DINNER = Problem(
    (
        task("sort", HANDS, 60),
        task("peel", HANDS, 30),
        task("cook", NEAR, 40, due=DUE),
        task("sweep", HANDS, 20),
    ),
    (Lag("peel", "cook", 0, 60),),
    (ANN, BEN),
    (),
)
PLAN = laid(DINNER, {"sort": (560, "Ann"), "peel": (625, "Ann"), "cook": (660, None), "sweep": (720, "Ben")})


def test_a_day_that_goes_as_planned_stays_as_it_is() -> None:
    seen = progress(DINNER, PLAN, now=625, started={"sort": 560}, finished={"sort": 620})
    found = replan(DINNER, PLAN, seen, workers=1)
    assert found.moved == ()
    assert (found.broken, found.late_min) == ({}, {})
    assert found.open_keys == ("peel", "cook", "sweep")
    assert at(found)["peel"].start == 625


def test_the_first_answer_makes_way_and_the_second_brings_dinner_back_on_time() -> None:
    """Sorting will last until 660 and Ann alone would peel too late; Ben is free."""
    seen = Progress(625, {}, {"sort": Span(560, 660)})
    first = replan(DINNER, PLAN, seen, seconds=0)
    assert at(first)["peel"] == Placed("peel", 660, 690, 0, "Ann")
    assert first.late_min == {"cook": 30}
    found = replan(DINNER, PLAN, seen, workers=1)
    after = at(found)
    assert found.late_min == {}
    assert after["peel"].worker == "Ben"
    assert after["cook"].start == 660
    assert after["sweep"].start == 720  # what need not move stays
    assert [moved.task for moved in found.moved] == ["peel"]
    assert found.price < first.price
    assert found.bound <= found.price


def test_what_goes_on_stays_where_it_is() -> None:
    seen = Progress(625, {}, {"sort": Span(560, 700)})
    assert at(replan(DINNER, PLAN, seen, workers=1))["sort"] == Placed("sort", 560, 700, 0, "Ann")


def jars(*, canner_until: int) -> tuple[Problem, Timetable]:
    """A load in the canner, jars to be filled and heated in it, and work that may wait."""
    canner = Demand("canner", 1)
    problem = Problem(
        (
            task("load", FREE, canner_until - 500, canner),
            task("fill", HANDS, 20),
            task("heat", FREE, 60, canner),
            task("sort", HANDS, 60),
        ),
        (HOT,),
        (ANN,),
        (Resource("canner", 1),),
    )
    starts = {"load": (500, None), "fill": (canner_until - 20, "Ann"), "heat": (canner_until, None)}
    return problem, laid(problem, {**starts, "sort": (canner_until + 80, "Ann")})


def test_jars_are_not_filled_before_the_canner_is_free() -> None:
    problem, plan = jars(canner_until=600)
    seen = Progress(570, {}, {"load": Span(500, 640)})
    found = replan(problem, plan, seen, workers=1)
    after = at(found)
    assert found.broken == {}
    assert after["heat"].start == 640
    assert 640 - after["fill"].end <= 10


def test_a_clock_that_has_run_out_is_named_and_the_others_are_kept() -> None:
    """Filled at 600, and the canner is taken until 640: the jars stand for 40 min, which nothing can change."""
    problem, plan = jars(canner_until=600)
    seen = Progress(615, {"fill": Span(580, 600)}, {"load": Span(500, 640)})
    found = replan(problem, plan, seen, workers=1)
    assert found.broken == {HOT: 40}
    assert at(found)["heat"].start == 640  # and no later


def test_a_clock_that_was_broken_before_is_named_too() -> None:
    """The jars stood for half an hour, and are in the canner now."""
    problem, plan = jars(canner_until=600)
    seen = Progress(640, {"load": Span(500, 630), "fill": Span(580, 600)}, {"heat": Span(630, 690)})
    found = replan(problem, plan, seen, workers=1)
    assert found.broken == {HOT: 30}
    assert at(found)["heat"].start == 630


def test_a_clock_is_kept_that_the_order_of_the_day_would_break() -> None:
    """Ann is to sort, then lift the jars out; the load is early, and the jars may wait 10 min: lifting goes first."""
    lift = Lag("cool", "lift", 0, 10, "out of the canner", is_safety=True)
    problem = Problem((task("cool", FREE, 60), task("sort", HANDS, 60), task("lift", HANDS, 5)), (lift,), (ANN,), ())
    plan = laid(problem, {"cool": (540, None), "sort": (540, "Ann"), "lift": (605, "Ann")})
    seen = Progress(560, {"cool": Span(500, 560)}, {})
    assert replan(problem, plan, seen, seconds=0).broken == {lift: 60}
    found = replan(problem, plan, seen, workers=1)
    assert found.broken == {}
    assert at(found)["lift"].start <= 570


def test_hours_are_stretched_for_what_does_not_fit_any_more() -> None:
    short = Problem((task("sort", HANDS, 60), task("peel", HANDS, 30)), (), (Worker("Ann", (Span(400, 600),)),), ())
    plan = laid(short, {"sort": (500, "Ann"), "peel": (565, "Ann")})
    seen = Progress(590, {}, {"sort": Span(500, 595)})
    assert at(replan(short, plan, seen, workers=1))["peel"].end == 625


def test_what_is_used_up_stays_used_up() -> None:
    ice = Demand("ice", 2)
    problem = Problem(
        (
            task("chill", FREE, 30, ice),
            Task("cool", "cool", "c", (Mode(30, (ice,)), Mode(60)), FREE, 400, 1200),
            task("sort", HANDS, 30),
        ),
        (),
        (ANN,),
        (Resource("ice", 3, is_used_up=True),),
    )
    placed = (Placed("chill", 500, 530, 0), Placed("cool", 540, 600, 1), Placed("sort", 540, 570, 0, "Ann"))
    seen = Progress(550, {"chill": Span(500, 545)}, {})
    found = replan(problem, Timetable(Outcome.FEASIBLE, placed), seen, workers=1)
    assert found.problem.resources[0].capacity == 1
    assert at(found)["cool"].mode == 1


def test_a_late_task_is_expected_to_take_the_middle_of_all_longer_times() -> None:
    late = progress(DINNER, PLAN, now=640, started={"sort": 560}, finished={}, spreads={"sort": Spread(0.25)})
    assert late.going_on["sort"].start == 560
    assert 641 < late.going_on["sort"].end < 660
    exact = progress(DINNER, PLAN, now=640, started={"sort": 560}, finished={}, spreads={"sort": EXACT})
    assert exact.going_on["sort"].end == 641


def test_an_end_alone_is_enough() -> None:
    seen = progress(DINNER, PLAN, now=640, started={}, finished={"sort": 630})
    assert seen.finished == {"sort": Span(570, 630)}


@pytest.mark.parametrize(
    ("finished", "going_on"),
    [
        ({"sort": Span(560, 620)}, {"sort": Span(560, 700)}),
        ({"sort": Span(560, 660)}, {}),
        ({}, {"sort": Span(650, 700)}),
        ({}, {"sort": Span(560, 620)}),
    ],
)
def test_what_can_not_have_happened_is_refused(finished: Mapping[str, Span], going_on: Mapping[str, Span]) -> None:
    with pytest.raises(ValueError, match="sort"):
        Progress(640, finished, going_on)


@given(st.integers(0, 3000), st.sampled_from([(12, 1), (30, 1), (50, 1), (60, 2)]), st.floats(0.05, 0.9), st.booleans())
@settings(max_examples=25, deadline=None)
def test_every_rest_of_a_day_keeps_the_rules(seed: int, size: tuple[int, int], share: float, is_searched: bool) -> None:
    day = kitchen_day(seed, *size)
    seen = unlucky(day.problem, day.witness, seed, share)
    found = replan(day.problem, day.witness, seen, seconds=0.3 if is_searched else 0, workers=1)
    after = at(found)
    planned = {item.task: item for item in day.witness.placed}
    for key, span in seen.going_on.items():
        assert after[key].start == span.start
        assert after[key].end >= span.end
    assert set(found.open_keys) == planned.keys() - seen.finished.keys() - seen.going_on.keys()
    for key in found.open_keys:
        assert after[key].start >= min(seen.now, planned[key].start)
        assert after[key].start >= seen.now or after[key] == planned[key]
    real = {**{key: (span.start, span.end) for key, span in seen.finished.items()},
            **{key: (item.start, item.end) for key, item in after.items() if key not in seen.finished}}  # fmt: skip
    for lag in day.problem.lags:
        if lag.after in found.open_keys:
            wait = real[lag.after][0] - real[lag.before][1]
            assert wait >= lag.min_lag
            if lag.is_safety and lag.max_lag is not None:
                assert wait <= lag.max_lag or found.broken[lag] == wait
    spans = {**seen.finished, **seen.going_on}
    for lag in found.broken:
        if lag.after in spans:
            assert spans[lag.after].start - spans[lag.before].end == found.broken[lag] > (lag.max_lag or 0)
    for key, minutes in found.late_min.items():
        due = next(item.due for item in day.problem.tasks if item.key == key)
        assert due is not None
        assert real[key][1] - due == minutes


@given(st.integers(0, 500))
@settings(max_examples=8, deadline=None)
def test_the_search_is_never_worse_than_the_first_answer(seed: int) -> None:
    day = kitchen_day(seed, 40)
    seen = unlucky(day.problem, day.witness, seed)
    first = replan(day.problem, day.witness, seen, seconds=0)
    found = replan(day.problem, day.witness, seen, seconds=0.5, workers=1)
    assert len(found.broken) <= len(first.broken)
    if len(found.broken) == len(first.broken):
        assert found.price <= first.price
    assert found.bound <= found.price
