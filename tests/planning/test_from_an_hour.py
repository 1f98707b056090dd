"""A plan made in the midst of a day: nothing of it lies before the hour it was made at."""

from datetime import date, datetime, time
from pathlib import Path

import pytest

from stillroom.errors import InputError
from stillroom.household.folder import Folder, read_folder, warnings
from stillroom.model.kitchen import Presence
from stillroom.planning.asked import read_asked, why_not_asked
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


@pytest.mark.parametrize(
    ("begins", "text", "words"),
    [
        (time(18, 15), "dinner at 18:00 on friday", "18:00 is over at 18:15 on Friday 9 April"),
        (time(19), "home cook also 8:00-12:00 on friday", "These hours are over at 19:00 on Friday 9 April"),
        (time(19), "another person 8:00-12:00 on friday", "These hours are over at 19:00 on Friday 9 April"),
        (time(22), "home cook away on friday", "home cook is not in the kitchen any more at 22:00 on Friday 9 April"),
        (time(19), "dinner at 20:00 on friday", "No meal “dinner” is planned then"),
    ],
)
def test_what_is_over_can_not_be_changed(demo: Folder, begins: time, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_changes([text], demo.from_hour(begins))


def test_where_no_meal_is_left_that_is_said(demo: Folder) -> None:
    left = read_folder(DEMO, days=1).from_hour(time(22))
    with pytest.raises(InputError, match="there are no meals any more"):
        read_changes(["dinner at 23:00"], left)


def test_a_meal_that_falls_away_is_told(demo: Folder) -> None:
    changed, (words,) = read_changes(["dinner at 18:00"], demo.from_hour(time(18, 15)))
    assert {meal.day for meal in changed.household.meals if meal.name == "dinner"} == {SATURDAY}
    assert words.startswith("dinner is at 18:00 every day; that of Friday falls away")
    _, (words,) = read_changes(["dinner at 18:00"], demo.from_hour(time(19)))
    assert words == "dinner is at 18:00 on Saturday 10 April"  # Friday's was eaten
    _, (words,) = read_changes(["dinner at 19:00"], demo.from_hour(time(18, 15)))
    assert words == "dinner is at 19:00 every day"


def test_of_hours_on_many_days_those_that_are_over_are_told(demo: Folder) -> None:
    _, (words,) = read_changes(["home cook also 20:15-21:00"], demo.from_hour(time(20, 30)))
    assert words.endswith("every day, but for what is over at 20:30 on Friday 9 April, when the plan begins")
    _, (words,) = read_changes(["home cook also 20:15-21:00"], demo.from_hour(time(20)))
    assert words == "home cook is also there 20:15–21:00 every day"


def test_hours_that_are_over_are_not_hours_that_were_never_written() -> None:
    said = warnings(read_folder(DEMO, days=1).from_hour(time(23, 30)))
    assert not any("write their hours" in caution for caution in said)
    assert any("any more after 23:30 on Friday 9 April" in caution for caution in said)
    assert not any("any more" in caution for caution in warnings(read_folder(DEMO, days=2).from_hour(time(23, 30))))


def test_asked_why_not_when_everybody_has_gone_that_is_the_answer() -> None:
    left = read_folder(DEMO, days=1).from_hour(time(22))
    recipes = known_recipes(left)
    runs = work_out(left, days=1, seconds=1.0, progress=lambda _: None).runs
    asked = read_asked("Tomatoes, frozen on friday", recipes, left)
    answer = why_not_asked(asked, split(left, recipes, 1), left, runs)
    assert answer.sentence == "Nobody is in the kitchen any more on Friday: the plan begins at 22:00."
