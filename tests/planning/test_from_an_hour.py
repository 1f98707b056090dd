"""A plan made in the midst of a day: nothing of it lies before the hour it was made at."""

from datetime import date, datetime, time
from pathlib import Path

import pytest

from stillroom.household.folder import Folder, read_folder
from stillroom.model.kitchen import Presence
from stillroom.planning.crew import MEAL_GROUP
from stillroom.planning.pipeline import known_recipes, work_out
from stillroom.planning.rearranging import Rearranging
from stillroom.planning.split import split
from stillroom.planning.what_if_words import read_changes
from stillroom.timetable.core import Core
from stillroom.timetable.rules import blocks_of, rules_of

DEMO = Path(__file__).parents[2] / "examples" / "demo"
FRIDAY, SATURDAY = date(2027, 4, 9), date(2027, 4, 10)


@pytest.fixture(scope="module")
def demo() -> Folder:
    return read_folder(DEMO, days=2)


def hours(folder: Folder, name: str, day: date) -> tuple[Presence, ...]:
    person = next(person for person in folder.kitchen.people if person.name == name)
    return tuple(span for span in person.presence if span.day == day)


def test_hours_that_are_over_and_meals_that_were_eaten_are_gone(demo: Folder) -> None:
    left = demo.from_hour(time(17, 20))
    assert hours(demo, "home cook", FRIDAY)[0].start == time(6, 45)
    assert hours(left, "home cook", FRIDAY) == (Presence(FRIDAY, time(17, 20), time(20, 15)),)
    assert hours(left, "home cook", SATURDAY) == hours(demo, "home cook", SATURDAY)
    before = {meal.key for meal in demo.household.meals} - {meal.key for meal in left.household.meals}
    assert before == {meal.key for meal in demo.household.meals if meal.day == FRIDAY and meal.at <= time(17, 20)}
    assert any(meal.day == FRIDAY for meal in left.household.meals)
    assert left.from_hour(time(17, 20)) == left.from_hour(time(9)) == left  # what is over stays over


def test_a_day_that_is_over_has_no_hours(demo: Folder) -> None:
    left = demo.from_hour(time.max)
    assert not any(hours(left, person.name, FRIDAY) for person in left.kitchen.people)
    assert {meal.day for meal in left.household.meals} == {SATURDAY}


@pytest.mark.parametrize("begins", [time(7, 50), time(17, 20), time(20, 10), time.max])
def test_nothing_is_planned_before_the_hour(demo: Folder, begins: time) -> None:
    folder = demo.from_hour(begins)
    plan = work_out(folder, days=2, seconds=2.0, progress=lambda _: None).plan
    assert plan.tasks
    assert min(task.start for task in plan.tasks) >= datetime.combine(FRIDAY, begins)
    assert all(meal.at > datetime.combine(FRIDAY, begins) for meal in plan.meals)


def test_no_hours_in_the_past_are_offered(demo: Folder) -> None:
    assert any(text.startswith("home cook begins at 06:") and "Friday" in text for text in offered(demo))
    words = offered(demo.from_hour(time(17, 10)))
    earlier = {text for text in words if "Friday" in text and "begins" in text}
    assert earlier == {"away cook begins at 17:15 instead of 17:45 on Friday"}
    assert any(text.startswith("home cook stays until") and "Friday" in text for text in words)
    assert any(text.startswith("home cook begins") and "Saturday" in text for text in words)


def offered(folder: Folder) -> list[str]:
    """More hours, in words, for a plan that works on both days."""
    task = split(folder, known_recipes(folder), 2)
    rearranging = Rearranging(task, folder)
    state = rearranging.start(work_out(folder, days=2, seconds=2.0, progress=lambda _: None).runs)
    problem = rearranging.problem_of(state)
    blocks = blocks_of(problem, (MEAL_GROUP,))
    changes = rearranging.changes(state, problem, Core(blocks, rules_of(problem, blocks), True))
    return [change.words for change in changes if change.kind == "hours"]


def test_more_hands_come_only_for_what_is_left_of_the_day(demo: Folder) -> None:
    changed, _ = read_changes(["another person 8:00-19:00"], demo.from_hour(time(17, 20)))
    friday, saturday = (hours(changed, "another person", day) for day in (FRIDAY, SATURDAY))
    assert friday == (Presence(FRIDAY, time(17, 20), time(19)),)
    assert saturday == (Presence(SATURDAY, time(8), time(19)),)
