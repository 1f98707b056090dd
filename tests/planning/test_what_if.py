"""What can be asked with "what if", what it changes in a folder, and two plans side by side."""

from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path

import pytest

from stillroom.errors import InputError
from stillroom.household.folder import Folder, read_folder
from stillroom.model.kitchen import Appointment, Presence
from stillroom.planning.figures import figures
from stillroom.planning.pipeline import plan
from stillroom.planning.what_if import what_if
from stillroom.planning.what_if_words import CAN_ASK, read_change, read_changes

DEMO = Path(__file__).parents[2] / "examples" / "demo"
FRIDAY = date(2027, 4, 9)


@pytest.fixture(scope="module")
def demo() -> Folder:
    return read_folder(DEMO)


def changed(text: str, folder: Folder) -> Folder:
    return read_change(text, folder).folder


@pytest.mark.parametrize("text", CAN_ASK)
def test_everything_that_is_said_to_be_possible_is(text: str, demo: Folder) -> None:
    answer = read_change(text.replace("NAME", "home cook"), demo)
    assert answer.folder != demo
    assert answer.words


def test_a_bigger_freezer_holds_as_much_as_before(demo: Folder) -> None:
    freezer = changed("freezer +100 L", demo).kitchen.freezer
    assert (freezer.capacity_l, freezer.used_l) == (320, 165)
    assert changed("Freezer -20 l", demo).kitchen.freezer.capacity_l == 200
    assert changed("freezer +2 cu ft", demo).kitchen.freezer.capacity_l == pytest.approx(220 + 2 * 28.317, abs=0.01)


def test_another_canner_is_like_the_pressure_canner_with_a_name_of_its_own(demo: Folder) -> None:
    first, second, third = changed("another canner", demo).kitchen.canners
    assert third == replace(first, name="pressure canner 2")
    assert changed("another boiling-water pot", demo).kitchen.canners[2] == replace(second, name="boiling-water pot 2")
    again = changed("another canner", changed("another canner", demo))
    assert len({canner.name for canner in again.kitchen.canners}) == 4


def test_two_more_hands_come_every_day_or_on_one(demo: Folder) -> None:
    person = changed("another person 9:00-12:00", demo).kitchen.people[-1]
    assert len(person.presence) == 7
    assert {(span.start, span.end) for span in person.presence} == {(time(9), time(12))}
    person = changed("another person 9:00-12:00, 15:00-16:00 on Saturday", demo).kitchen.people[-1]
    day = FRIDAY + timedelta(days=1)
    assert person.presence == (Presence(day, time(9), time(12)), Presence(day, time(15), time(16)))
    assert not person.is_child


def test_more_hours_never_count_a_minute_twice(demo: Folder) -> None:
    """Saturday is 7:00-13:15 and 16:00-20:00; 13:00-16:30 makes it one stretch."""
    cook = changed("home cook also 13:00-16:30 on saturday", demo).kitchen.people[0]
    day = FRIDAY + timedelta(days=1)
    assert [span for span in cook.presence if span.day == day] == [Presence(day, time(7), time(20))]


def test_more_hours_keep_clear_of_an_appointment(demo: Folder) -> None:
    day = FRIDAY + timedelta(days=1)
    people = demo.kitchen.people
    dentist = replace(people[0], appointments=(Appointment(day, time(14), time(15), "dentist"),))
    folder = replace(demo, kitchen=replace(demo.kitchen, people=(dentist, *people[1:])))
    cook = changed("home cook also 13:15-16:00 on saturday", folder).kitchen.people[0]
    assert [span for span in cook.presence if span.day == day] == [
        Presence(day, time(7), time(14)),
        Presence(day, time(15), time(20)),
    ]


def test_somebody_away_is_away_that_day_only(demo: Folder) -> None:
    cook, before = changed("home cook away on saturday", demo).kitchen.people[0], demo.kitchen.people[0]
    assert {span.day for span in before.presence} - {span.day for span in cook.presence} == {FRIDAY + timedelta(days=1)}


def test_an_arrival_a_day_later_keeps_its_clock_from_the_day_it_comes(demo: Folder) -> None:
    before = next(arrival for arrival in demo.arrivals if arrival.food == "apple")
    after = next(a for a in changed("apples a day later", demo).arrivals if a.food == "apple")
    assert after == replace(before, day=before.day + timedelta(days=1))
    assert "not in the house yet" in read_change("apples a day later", demo).words


def test_what_has_come_already_gets_no_longer_clock(demo: Folder) -> None:
    early = replace(demo, arrivals=tuple(replace(a, day=FRIDAY - timedelta(days=1)) for a in demo.arrivals))
    with pytest.raises(InputError, match="its clock is running"):
        read_change("green beans a day later", early)


def test_amounts_of_what_comes_in(demo: Folder) -> None:
    masses = {arrival.food: arrival.mass_g for arrival in demo.arrivals}
    more = {arrival.food: arrival.mass_g for arrival in changed("green beans +5 kg", demo).arrivals}
    assert more["green bean"] == masses["green bean"] + 5000
    assert "green bean" not in {arrival.food for arrival in changed("no green beans", demo).arrivals}
    with pytest.raises(InputError, match=r"pieces of 2\.2 kg"):
        read_change("whole chickens +1 kg", demo)
    birds = {arrival.food: arrival.mass_g for arrival in changed("whole chickens +2.2 kg", demo).arrivals}
    assert birds["chicken, whole"] == pytest.approx(5 * 2200)


def test_jars_lids_and_places_are_counted_apart(demo: Folder) -> None:
    quart = next(jar for jar in changed("+12 quart lids", demo).kitchen.jars if jar.name == "quart")
    assert (quart.count, quart.lids) == (36, 45)
    small = next(jar for jar in changed("-4 300 ml jars", demo).kitchen.jars if jar.name == "300 ml")
    assert (small.count, small.lids) == (20, 24)
    assert changed("+1 burner", demo).kitchen.burners == 5
    assert changed("-2 dryer trays", demo).kitchen.dryer_trays == 4


def test_a_meal_at_another_hour(demo: Folder) -> None:
    meals = changed("dinner at 19:00 on saturday", demo).household.meals
    assert {m.day for m in meals if m.name == "dinner" and m.at == time(19)} == {FRIDAY + timedelta(days=1)}
    assert all(m.at == time(19) for m in changed("dinner at 19:00", demo).household.meals if m.name == "dinner")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a miracle", "This can be asked: freezer"),
        ("", "This can be asked"),
        ("freezer +100", "litres, like"),
        ("freezer -100 L", "165 L in it"),
        ("fridge -200 L", "90 L free"),
        ("another oven", "another pressure canner"),
        ("another person", "another person"),
        ("another person 12:00-9:00", "ends before it starts"),
        ("another person 9:00-12:00 on someday", "is no day"),
        ("nobody also 9:00-12:00", "there are home cook, away cook"),
        ("eldest away on saturday", "there are home cook, away cook"),
        ("bananas a day later", "does not come in"),
        ("apples 9 days later", "outside the plan"),
        ("apples 3 days earlier", "outside the plan"),
        ("apples -500 kg", "take away less"),
        ("+3 gallon jars", "is nothing that is counted here"),
        ("-70 pint jars", "60 pint jars"),
        ("+20 burners", "4 burners"),
        ("brunch at 10:00", "the meals are dinner, lunch, bread"),
        ("dinner at 25:00", "no time of day"),
        ("the safety wait shorter", "This can be asked"),
    ],
)
def test_what_can_not_be_asked_is_one_clear_sentence(text: str, words: str, demo: Folder) -> None:
    with pytest.raises(InputError) as told:
        read_change(text, demo)
    assert words in str(told.value)
    assert "\n" not in str(told.value)


def test_a_day_outside_the_plan_is_refused() -> None:
    two_days = read_folder(DEMO, days=2)
    with pytest.raises(InputError, match="2 days from Friday"):
        read_change("home cook away on monday", two_days)


def test_changes_add_up_in_their_order(demo: Folder) -> None:
    folder, words = read_changes(["freezer +50 L", "freezer +50 L"], demo)
    assert folder.kitchen.freezer.capacity_l == 320
    assert words == ("the freezer holds 270 L", "the freezer holds 320 L")


def test_figures_of_a_plan_account_for_all_food_that_comes_in() -> None:
    folder = read_folder(DEMO, days=2)
    made = plan(folder, days=2, seconds=3, progress=str)
    found = figures(folder, made)
    arrivals = {arrival.key for arrival in folder.arrivals}
    used = sum(t.mass_g for run in made.runs for t in run.taken if t.origin in arrivals) / 1000
    left = sum(part.mass_g for part in made.left if part.origin in arrivals) / 1000
    assert used + left == pytest.approx(sum(a.mass_g for a in folder.arrivals) / 1000, abs=0.3)
    assert found.given_away_kg + found.lost_kg + found.waiting_kg == pytest.approx(
        sum(p.mass_g for p in made.left) / 1000
    )
    assert found.worth_in == pytest.approx(sum(a.mass_g * a.worth_per_kg for a in folder.arrivals) / 1000)
    assert 0 < found.worth_kept <= found.worth_in
    assert found.jars == sum(run.jars for run in made.runs)
    assert found.hands_min == sum((t.end - t.start).total_seconds() for t in made.tasks if t.person) / 60
    ends = [t.end for t in made.tasks if t.person]
    assert found.latest_evening_min == max(e.hour * 60 + e.minute for e in ends)


def test_two_more_hands_and_a_bigger_freezer_keep_more() -> None:
    """The two days of the demo give food away for want of hands and freezer."""
    folder = read_folder(DEMO, days=2)
    told: list[str] = []
    asked = ["another person 9:00-17:00", "freezer +100 L"]
    answer = what_if(folder, asked, seconds=3, progress=told.append)
    assert answer.then.worth_in == pytest.approx(answer.now.worth_in)
    assert answer.then.worth_kept >= answer.now.worth_kept
    assert answer.then.freezer_plannable_l == pytest.approx(answer.now.freezer_plannable_l + 85)  # R126: 85 % of it
    assert len(answer.changes) == 2
    assert answer.sentences
    assert "first the plan as things are" in told[0]
    assert any("if another person is in the kitchen" in words for words in told)


def test_a_plan_at_hand_is_not_made_again() -> None:
    folder = read_folder(DEMO, days=1)
    made = plan(folder, days=1, seconds=2, progress=str)
    told: list[str] = []
    answer = what_if(folder, ["+1 burner"], seconds=2, plan_now=made, progress=told.append)
    assert answer.plan_now is made
    assert not any("as things are" in words for words in told)
