"""Why a timetable can't be: the core is impossible and as small as can be, the ways out hold, and none is unsafe."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from kitchen_weeks import kitchen_week
from minute_by_minute import placements
from test_timetable_tiny import problems

from stillroom.model.work import Attention
from stillroom.timetable.changes import bare_question
from stillroom.timetable.check import check
from stillroom.timetable.components import restricted
from stillroom.timetable.overload import Of
from stillroom.timetable.problem import Demand, Lag, Mode, Outcome, Problem, Resource, Span, Task, Worker
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import Block, Kind, Rule, with_only
from stillroom.timetable.way_out import Change, Question, untouched
from stillroom.timetable.why_not import WhyNot, why_not
from stillroom.timetable.words import Names

HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
DAY = 1440
LONG = {"why_seconds": 20.0, "ways_seconds": 20.0}  # tests do not depend on how busy the machine is
ANN = Worker("Ann", (Span(480, 1200),))
BEN = Worker("Ben", (Span(900, 1200),))
CANNER = (Demand("canner", 1),)


def task(key: str, minutes: int, attention: Attention, *, group: str = "", **changes: object) -> Task:
    plain = Task(key, key, group or key, (Mode(minutes),), attention, 480, 1200)
    return replace(plain, **changes)  # type: ignore[arg-type]


def problem(*tasks: Task, lags: tuple[Lag, ...] = (), workers: tuple[Worker, ...] = (ANN,)) -> Problem:
    return Problem(tasks, lags, workers, (Resource("canner", 1), Resource("oven", 4)))


def kinds(answer: WhyNot) -> set[Kind]:
    assert answer.core is not None
    return {rule.kind for rule in answer.core.rules}


def load(key: str, minutes: int = 400, **changes: object) -> Task:
    return task(key, minutes, NEAR, modes=(Mode(minutes, CANNER),), **changes)


# The core, by a second opinion that tries everything


@settings(max_examples=120, deadline=None, derandomize=True)
@given(problems())
def test_a_core_is_impossible_and_nothing_in_it_is_to_spare(asked: Problem) -> None:
    answer = why_not(asked, **LONG)
    if next(placements(asked), None) is not None:
        assert answer.outcome is Outcome.FEASIBLE
        assert answer.core is None
        return
    assert answer.outcome is Outcome.INFEASIBLE
    assert answer.core is not None
    assert answer.core.is_smallest
    assert answer.core.is_smallest_by_kind
    blocks, rules = answer.core.blocks, answer.core.rules
    assert not can_be(asked, blocks, rules)
    for rule in rules:
        assert can_be(asked, blocks, tuple(other for other in rules if other is not rule)), rule
    for block in blocks:
        rest = tuple(other for other in blocks if other is not block)
        assert not rest or can_be(asked, rest, rules), block


def can_be(asked: Problem, blocks: tuple[Block, ...], rules: tuple[Rule, ...]) -> bool:
    """Whether trying everything finds a placement.

    Without its hours a day is 1440 minutes long. Three tasks of three minutes with waits of three need no more than
    the first 24 of them, and a placement there is one in any case.
    """
    loose = with_only(asked, blocks, rules)
    tasks = tuple(replace(t, latest_end=min(t.latest_end, max(24, t.earliest))) for t in loose.tasks)
    return next(placements(replace(loose, tasks=tasks)), None) is not None


@settings(max_examples=100, deadline=None, derandomize=True)
@given(problems())
def test_ways_out_hold_and_touch_no_wait(asked: Problem) -> None:
    answer = why_not(asked, **LONG)
    for way in answer.ways_out:
        assert way.timetable.placed or not way.problem.tasks
        assert check(way.problem, way.timetable) == ()
        assert way.price > 0
        kept = {t.key for t in way.problem.tasks}
        assert set(way.problem.lags) == {lag for lag in asked.lags if {lag.before, lag.after} <= kept}
        modes = {t.key: (t.modes, t.attention) for t in asked.tasks}
        assert all(modes[t.key] == (t.modes, t.attention) for t in way.problem.tasks)


# Each rule where it matters


def test_one_canner_and_the_hours_of_the_day() -> None:
    """Two loads of 400 min in 720 min."""
    answer = why_not(problem(load("beans"), load("beef"), task("small", 10, HANDS)), **LONG)
    assert set(answer.work) == {"beans", "beef"}
    assert kinds(answer) == {Kind.PLACES, Kind.HOURS}
    assert any("canner takes one thing at a time" in words for words in answer.rules)
    assert any("Ann 08:00–20:00" in words for words in answer.rules)


def test_a_meal_that_comes_too_early() -> None:
    answer = why_not(problem(task("roast", 90, NEAR, earliest=480, latest_end=550, due=550)), **LONG)
    assert kinds(answer) == {Kind.MEAL, Kind.HOURS}
    asked = problem(task("roast", 90, NEAR, earliest=480, latest_end=550, due=550))
    named = why_not(bare_question(asked, Names(due={550: "lunch is at 09:10"})), **LONG)
    assert any("Lunch is at 09:10" in words for words in named.rules)


def test_a_safety_wait_is_named_as_one() -> None:
    """Filled at once before the canner, which another load has until noon; filling is over by ten."""
    fill = task("fill", 20, HANDS, group="jars", latest_end=600)
    heat = load("heat", 60, group="jars", earliest=480)
    early = load("early", 240, earliest=480, latest_end=720)
    wait = Lag("fill", "heat", 0, 10, "filled jars go in at once", is_safety=True)
    answer = why_not(problem(fill, heat, early, lags=(wait,)), **LONG)
    assert {Kind.WAIT, Kind.PLACES} <= kinds(answer)
    assert any("Within 10 min: filled jars go in at once (for safety)" in words for words in answer.rules)
    assert answer.core is not None
    assert [rule.is_safety for rule in answer.core.rules if rule.kind is Kind.WAIT] == [True]


def test_what_is_made_first_and_what_uses_it() -> None:
    cut, cook = task("cut", 400, FREE), task("cook", 400, FREE)
    answer = why_not(problem(cut, cook, lags=(Lag("cut", "cook", 0, None, "it uses what this makes"),)), **LONG)
    assert kinds(answer) == {Kind.LINK, Kind.HOURS}


def test_an_oven_has_one_setting() -> None:
    def bake(key: str, heat: str) -> Task:
        return task(key, 400, FREE, modes=(Mode(400, (Demand("oven", 1, heat),)),))

    answer = why_not(problem(bake("bread", "220 °C"), bake("cake", "160 °C")), **LONG)
    assert kinds(answer) == {Kind.SETTING, Kind.HOURS}


def test_hours_of_its_own() -> None:
    answer = why_not(problem(task("dry", 300, FREE, earliest=500, latest_end=700)), **LONG)
    assert kinds(answer) == {Kind.BEGIN, Kind.END}
    assert any("has to be over by 11:40 on day 1" in words for words in answer.rules)


def test_nobody_there_on_a_day() -> None:
    answer = why_not(problem(task("peel", 10, HANDS, earliest=DAY + 500, latest_end=DAY + 900)), **LONG)
    assert any("On day 2 nobody is in the kitchen" in words for words in answer.rules)
    assert {Kind.PEOPLE, Kind.HOURS} == kinds(answer)


def test_rests_come_with_the_people() -> None:
    """Two hours of rest and 11 h of work are too much for 12 h; the rests are no work that could be left out."""
    rests = [
        Task(f"rest {start}", "rest", "pauses", (Mode(60, workers=("Ann",)),), HANDS, start, start + 60)
        for start in (480, 540)
    ]
    asked = problem(*rests, task("long", 660, HANDS))
    answer = why_not(bare_question(asked, own=("pauses",)), **LONG)
    assert answer.work == ("long",)
    assert kinds(answer) == {Kind.PEOPLE, Kind.HOURS}
    assert "13 h of work (meals and rests among it) are for Ann alone, who is there for 12 h" in answer.sentence
    for way in answer.ways_out:
        assert {f"rest {start}" for start in (480, 540)} <= {t.key for t in way.problem.tasks}


# Adding up


def test_an_overload_of_hands_in_hours() -> None:
    """Eight tasks of 120 min are 16 h; Ann is there for 12 h."""
    answer = why_not(problem(*(task(f"t{n}", 120, HANDS) for n in range(8))), **LONG)
    assert answer.overload is not None
    assert (answer.overload.of, answer.overload.needed_min, answer.overload.there_min) == (Of.HANDS, 960, 720) or (
        answer.overload.of is Of.PERSON
    )
    assert "16 h of" in answer.sentence
    assert "12 h" in answer.sentence


def test_an_overload_of_two_people() -> None:
    """19 h of hands, 17 h there: 12 h of Ann and 5 h of Ben."""
    answer = why_not(problem(*(task(f"t{n}", 190, HANDS) for n in range(6)), workers=(ANN, BEN)), **LONG)
    assert answer.sentence == "Between 08:00 and 20:00 on day 1 19 h of hands are wanted, and 17 h are there."


def test_a_run_that_is_too_long_for_the_day() -> None:
    """Cut 60, boil 700: 760 min in 720."""
    steps = (task("cut", 60, HANDS, group="jam"), task("boil", 700, FREE, group="jam"))
    asked = problem(*steps, lags=(Lag("cut", "boil", 0, None),))
    answer = why_not(bare_question(asked, Names({"jam": "Jam"})), **LONG)
    assert (
        answer.sentence
        == "From its first step to its last Jam takes 12.7 h; between 08:00 and 20:00 on day 1 there are 12 h."
    )
    assert answer.overload is not None
    assert (answer.overload.needed_min, answer.overload.there_min) == (760, 720)


def test_places_are_added_up() -> None:
    answer = why_not(problem(*(load(f"l{n}", 250) for n in range(3))), **LONG)
    assert answer.overload is not None
    assert answer.overload.of is Of.PLACES
    assert "The canner is wanted for 12.5 h" in answer.sentence


# Ways out


def proved(asked: Problem, answer: WhyNot, own: tuple[str, ...] = ()) -> None:
    for way in answer.ways_out:
        assert check(way.problem, way.timetable) == ()
        assert {placed.task for placed in way.timetable.placed} == {t.key for t in way.problem.tasks}
        assert untouched(asked, way.problem, own)


def test_leaving_out_or_staying_longer() -> None:
    """Two loads of 400 min in 720 min: 80 min are short."""
    asked = problem(load("beans"), load("beef"), task("small", 10, HANDS))
    answer = why_not(asked, **LONG)
    proved(asked, answer)
    assert {way.kinds for way in answer.ways_out} >= {("leave out",), ("hours",)}
    left = [way.steps for way in answer.ways_out if way.kinds == ("leave out",)]
    assert {words[0] for words in left} <= {"leave out beans", "leave out beef"}
    (longer,) = [way for way in answer.ways_out if way.kinds == ("hours",)][:1]
    assert longer.price_words == ("120 min more of Ann",)  # 30 and 60 are too few


def test_a_way_out_costs_no_more_than_it_may() -> None:
    """To leave out a load costs 60 without work by hand; Ann would stay for 120 min."""
    question = bare_question(problem(load("beans"), load("beef"), task("small", 10, HANDS)))
    cheap = why_not(replace(question, most_price=60.0), **LONG)
    assert {way.kinds for way in cheap.ways_out} == {("leave out",)}
    none = why_not(replace(question, most_price=59.0), **LONG)
    assert none.outcome is Outcome.INFEASIBLE
    assert none.sentence
    assert none.ways_out == ()


def test_a_meal_later() -> None:
    cook = task("roast", 90, NEAR, earliest=480, latest_end=550, due=550)
    sit = Task("sit", "sit down", "eat", (Mode(30, workers=("Ann",)),), HANDS, 550, 580)
    wash = Task("wash", "wash up", "eat", (Mode(10),), HANDS, 580, 1200)
    asked = problem(cook, sit, wash)
    answer = why_not(bare_question(asked, own=("eat",)), **LONG)
    proved(asked, answer, ("eat",))
    later = next(way for way in answer.ways_out if way.kinds == ("later",))
    assert later.price_words == ("30 min late",)
    when = {placed.task: placed for placed in later.timetable.placed}
    assert when["roast"].end <= 580 <= when["sit"].start
    assert when["sit"].start == 580


def test_two_knots_want_two_changes() -> None:
    other = tuple(replace(load(name), earliest=DAY + 480, latest_end=DAY + 1200) for name in ("peas", "pork"))
    ann = Worker("Ann", (Span(480, 1200), Span(DAY + 480, DAY + 1200)))
    asked = problem(load("beans"), load("beef"), *other, workers=(ann,))
    answer = why_not(asked, **LONG)
    proved(asked, answer)
    assert len(answer.ways_out) >= 2
    assert all(len(way.steps) == 2 for way in answer.ways_out)


def test_a_day_too_full_by_some_runs_has_ways_out() -> None:
    asked = problem(*(load(f"load {number}", 300) for number in range(6)))
    answer = why_not(asked, why_seconds=20, ways_seconds=4)
    proved(asked, answer)
    assert len(answer.ways_out) >= 2
    assert max(len(way.steps) for way in answer.ways_out) >= 4  # two of six fit


def test_leaving_out_most_of_a_day_is_no_way_out_but_the_excess_is_told() -> None:
    asked = problem(*(load(f"load {number}", 300) for number in range(9)))
    answer = why_not(asked, why_seconds=20, ways_seconds=4)
    assert all(len(way.steps) <= 5 for way in answer.ways_out)  # seven would have to go
    assert answer.overload is not None
    assert (answer.overload.needed_min, answer.overload.there_min) == (9 * 300, 720)


def test_where_time_is_short_each_sort_of_rules_is_proved_to_matter() -> None:
    day = kitchen_week(2, 80, 1)
    answers = (why_not(day, why_seconds=seconds, ways_seconds=0.0) for seconds in (0.2, 0.25, 0.3, 0.35))
    cores = [(answer.core, answer.rules) for answer in answers if answer.core is not None]
    core, told = next(found for found in cores if found[0].is_smallest_by_kind and not found[0].is_smallest)
    assert 1 <= len(told) <= 5
    prover = Prover(seconds=5.0)
    assert prover.verdict(with_only(day, core.blocks, core.rules)).outcome is Outcome.INFEASIBLE
    for kind in {rule.kind for rule in core.rules}:
        rest = tuple(rule for rule in core.rules if rule.kind is not kind)
        assert prover.verdict(with_only(day, core.blocks, rest)).outcome is Outcome.FEASIBLE, kind


def test_crowded_days_are_told_and_solved() -> None:
    for tasks in (70, 80):
        day = kitchen_week(2, tasks, 1)
        answer = why_not(day, why_seconds=10, ways_seconds=10)
        assert answer.outcome is Outcome.INFEASIBLE
        assert answer.sentence
        proved(day, answer)
        assert answer.ways_out


def jarring() -> Problem:
    """Filled jars may wait 10 min, heating is watched, cooling follows at once; the evening is an hour too short."""
    steps = (
        task("fill", 30, HANDS, group="jars"),
        load("heat", 150, group="jars"),
        task("cool", 60, FREE, group="jars", modes=(Mode(60, CANNER),)),
        task("lift out", 10, HANDS, group="jars"),
    )
    lags = (
        Lag("fill", "heat", 0, 10, "filled jars go in at once", is_safety=True),
        Lag("heat", "cool", 0, 0, "cooling is part of the process", is_safety=True),
        Lag("cool", "lift out", 0, 30, "jars are not left in the canner", is_safety=True),
    )
    return problem(*steps, lags=lags, workers=(Worker("Ann", (Span(1010, 1200),)),))


def test_no_way_out_gives_up_a_safety_wait() -> None:
    asked = jarring()
    answer = why_not(asked, **LONG)
    assert answer.outcome is Outcome.INFEASIBLE
    assert answer.ways_out
    proved(asked, answer)
    for way in answer.ways_out:
        assert way.problem.lags in (asked.lags, ())  # all of them, or the whole run is left out


def shorter_process(asked: Problem) -> Problem:
    return replace(
        asked, tasks=tuple(replace(t, modes=(Mode(60, CANNER),)) if t.key == "heat" else t for t in asked.tasks)
    )


def unwatched(asked: Problem) -> Problem:
    return replace(asked, tasks=tuple(replace(t, attention=FREE) if t.key == "heat" else t for t in asked.tasks))


def longer_wait(asked: Problem) -> Problem:
    return replace(asked, lags=(replace(asked.lags[0], max_lag=300), *asked.lags[1:]))


def no_wait(asked: Problem) -> Problem:
    return replace(asked, lags=asked.lags[1:])


def no_cooling(asked: Problem) -> Problem:
    keys = {"fill", "heat", "lift out"}
    return replace(
        asked,
        tasks=tuple(t for t in asked.tasks if t.key in keys),
        lags=tuple(lag for lag in asked.lags if {lag.before, lag.after} <= keys),
    )


@pytest.mark.parametrize("unsafe", [shorter_process, unwatched, longer_wait, no_wait, no_cooling])
def test_an_unsafe_change_is_never_taken_however_cheap(unsafe: Callable[[Problem], Problem]) -> None:
    asked = jarring()
    offer = Change("unsafe", "jars", "cut a corner", 0.1, "nothing", unsafe)
    question = Question(asked, lambda state: state, lambda state, problem, core: [offer])
    assert not untouched(asked, unsafe(asked))
    assert why_not(question, **LONG).ways_out == ()
    gone = Change("leave out", "jars", "leave out jars", 9.0, "no jars", lambda state: restricted(state, set()))
    both = Question(asked, lambda state: state, lambda state, problem, core: [offer, gone])
    assert [way.steps for way in why_not(both, **LONG).ways_out] == [("leave out jars",)]


def test_nothing_found_in_time_is_not_called_impossible() -> None:
    assert why_not(problem(task("a", 10, HANDS)), **LONG).outcome is Outcome.FEASIBLE


def test_meals_and_rests_that_do_not_fit_by_themselves() -> None:
    rests = [
        Task(f"rest {number}", "rest", "pauses", (Mode(60, workers=("Ann",)),), HANDS, 480, 570) for number in (1, 2)
    ]
    answer = why_not(bare_question(problem(*rests, task("peel", 10, HANDS)), own=("pauses",)), **LONG)
    assert answer.outcome is Outcome.INFEASIBLE
    assert answer.work == ()
    assert answer.sentence
