"""By how much a day is too short, on days whose minutes are added up by hand, and staying longer as a way out."""

from __future__ import annotations

from kitchen_weeks import kitchen_week

from stillroom.model.work import Attention
from stillroom.timetable.changes import bare_question, everybody_longer
from stillroom.timetable.check import check
from stillroom.timetable.core import core
from stillroom.timetable.longer import Longer, longer
from stillroom.timetable.problem import Mode, Outcome, Problem, Span, Task, Worker
from stillroom.timetable.proof import Prover
from stillroom.timetable.why_not import why_not
from stillroom.timetable.words import Names, longer_words

ANN, BEN = Worker("Ann", (Span(480, 720),)), Worker("Ben", (Span(600, 720),))
NEVER = 1e9


def work(key: str, minutes: int, group: str = "", earliest: int = 480, latest: int = 720) -> Task:
    return Task(key, key, group or key, (Mode(minutes),), Attention.HANDS, earliest, latest)


def short_by(asked: Problem, own: tuple[str, ...] = ()) -> Longer | None:
    prover = Prover(seconds=5.0)
    found = core(asked, prover, NEVER, own=own)
    assert found is not None
    return longer(asked, found, prover, NEVER, own=own)


def torn_days(*days: int) -> Problem:
    """Three hours for two stretches of 90 min, which adding up does not show; six small tasks on the second day."""
    spans = [span for day in days for span in (Span(day + 480, day + 570), Span(day + 600, day + 690))]
    small = tuple(work(f"u{n}", 5, "", 1440 + 480, 1440 + 690) for n in range(6))
    hours = tuple(work(f"t{day}{n}", 60, "", day + 480, day + 690) for day in days for n in range(3))
    there = spans if 1440 in days else [*spans, Span(1440 + 480, 1440 + 690)]
    return Problem((*hours, *small), (), (Worker("Ann", tuple(there)),), ())


def test_five_hours_in_four() -> None:
    """5 × 60 min in 240 is an hour short: 60 min are enough, 55 are not."""
    asked = Problem(tuple(work(f"t{n}", 60) for n in range(5)), (), (ANN,), ())
    assert short_by(asked) == Longer(0, 55, 60)


def test_both_who_are_there_at_the_end_stay() -> None:
    """7 × 60 min in 240 and 120: an hour short, half an hour of each is enough in sums but each task takes an hour."""
    asked = Problem(tuple(work(f"t{n}", 60) for n in range(7)), (), (ANN, BEN), ())
    assert short_by(asked) == Longer(0, 55, 60)


def test_what_no_evening_is_long_enough_for() -> None:
    asked = Problem(tuple(work(f"t{n}", 60) for n in range(9)), (), (ANN,), ())
    found = short_by(asked)
    assert found == Longer(0, 120, None)
    assert (
        longer_words(found, Names())
        == "Not even if everybody there at the end of day 1 stayed 2 h longer would it fit."
    )


def test_nobody_stays_while_others_sit_at_table() -> None:
    meal = work("eat", 30, "meal", 720, 750)
    late = Worker("Cy", (Span(720, 750),))
    asked = Problem((*(work(f"t{n}", 60) for n in range(5)), meal), (), (ANN, late), ())
    assert everybody_longer(asked, 0, 30, ("meal",)) is not None
    assert everybody_longer(Problem(asked.tasks, (), (ANN,), ()), 0, 30, ("meal",)) is None


def test_it_is_told_where_adding_up_shows_nothing_and_time_is_short_for_rules() -> None:
    """Two stretches of 90 min hold one task of 60 each; a third fits when the second stretch is 120 min long."""
    torn = Worker("Ann", (Span(480, 570), Span(600, 690)))
    asked = Problem(tuple(work(f"t{n}", 60, latest=690) for n in range(3)), (), (torn,), ())
    answer = why_not(bare_question(asked), why_seconds=0.0, ways_seconds=0.0)
    assert (answer.overload, answer.rules) == (None, ())
    assert answer.short_by == Longer(0, 25, 30)
    assert "stayed 30 min longer; 25 min longer would not do" in answer.sentence


def test_both_minutes_of_a_crowded_day_are_proved_anew() -> None:
    """By another search with much time; the timetable that is enough passes the check."""
    day = kitchen_week(2, 70, 1)
    found, prover = short_by(day), Prover(seed=7, seconds=10.0)
    assert found is not None
    assert found.too_few_min > 0
    fewer = everybody_longer(day, found.day, found.too_few_min)
    assert fewer is not None
    assert prover.verdict(fewer).outcome is Outcome.INFEASIBLE
    if found.enough_min is not None:
        enough = everybody_longer(day, found.day, found.enough_min)
        assert enough is not None
        assert check(enough, prover.verdict(enough).timetable) == ()


def test_both_staying_is_a_way_out() -> None:
    """Two tasks of 260 min for one person each: neither Ann nor Ben alone could stay and save both."""
    both = (Worker("Ann", (Span(480, 720),)), Worker("Ben", (Span(480, 720),)))
    asked = Problem(tuple(work(f"t{n}", 260) for n in range(2)), (), both, ())
    answer = why_not(bare_question(asked), why_seconds=10, ways_seconds=10)
    (way,) = [way for way in answer.ways_out if way.kinds == ("everybody",)]
    assert way.steps == ("Ann and Ben stay 30 min longer on day 1",)
    assert way.price_words == ("30 min more of Ann and Ben",)
    assert check(way.problem, way.timetable) == ()


def test_the_day_is_the_one_that_is_too_short_not_the_one_with_most_tasks() -> None:
    answer = why_not(bare_question(torn_days(0)), why_seconds=10, ways_seconds=0.0)
    assert answer.short_by == Longer(0, 25, 30)
    assert "at the end of day 1 stayed 30 min longer" in answer.sentence


def test_what_another_day_is_too_short_for_is_not_told_of_this_one() -> None:
    """With 30 min more the first day is kept and the second is not: of the first only what is known is told."""
    assert short_by(torn_days(0, 1440)) is None


def test_nobody_stays_longer_where_nobody_is() -> None:
    asked = Problem((work("t", 60, latest=690),), (), (Worker("Ann", ()),), ())
    assert everybody_longer(asked, 0, 30) is None
    assert everybody_longer(Problem(asked.tasks, (), (Worker("Ann", (Span(1920, 2000),)),), ()), 0, 30) is None
    answer = why_not(asked, why_seconds=10, ways_seconds=0.0)
    assert answer.short_by is None
    assert "Not even" not in answer.sentence
    assert any("nobody is in the kitchen" in rule for rule in answer.rules)
    moment = Problem((work("t", 60, earliest=0, latest=0),), (), (Worker("Ann", ()),), ())  # a day without any hours
    assert "On day 1 nobody is in the kitchen." in why_not(moment, why_seconds=10, ways_seconds=0.0).rules
