"""One line as a cook says it. The amounts are read by the strict parser; here it is about what the line means."""

from datetime import date

import pytest

from stillroom.errors import InputError
from stillroom.web.arrivals.day_words import read_day
from stillroom.web.arrivals.line import ClockWanted, read_line

FRIDAY = date(2027, 4, 9)


def test_it_works() -> None:
    line = read_line("9 kg tomatoes, ripe, Saturday, 3 days", FRIDAY)
    assert (line.name, line.food, line.bundle.mass_g) == ("tomatoes", "tomato", 9000)
    assert (line.day, line.given_days, line.note) == (date(2027, 4, 10), 3, "ripe")
    assert line.place == "counter"


@pytest.mark.parametrize(
    "text, food, mass_g",
    [
        ("1 bushel of apples", "apple", 20412),  # NIST Handbook 130 lists no apples; the row of our measure table
        ("apples 3 kg", "apple", 3000),
        ("9kg potatoes", "potato", 9000),
        ("3 lb 4 oz beef mince", "beef", 52 * 28.349523125),
        ("6 birds of 2.2 kg whole chickens", "chicken, whole", 13200),
        ("4 kg chicken, whole", "chicken, whole", 4000),
        ("6 chickens of 2 kg", "chicken, whole", 12000),
        ("3 cabbages of 1.5 kg, saturday", "cabbage", 4500),
        ("half a bushel pears", "pear", 11113),
    ],
)
def test_amount_and_food_in_any_order(text: str, food: str, mass_g: float) -> None:
    line = read_line(text, FRIDAY)
    assert line.food == food
    assert line.bundle.mass_g == pytest.approx(mass_g, rel=1e-6)


@pytest.mark.parametrize("text", ["4 kg chicken, whole, fridge", "4 kg minced beef", "10 l milk"])
def test_what_spoils_goes_into_the_fridge(text: str) -> None:
    assert read_line(text, FRIDAY).place == "fridge"


def test_flour_goes_on_a_shelf() -> None:
    assert read_line("5 kg bread flour, 2 weeks", FRIDAY).place == "shelf"


def test_parts_come_in_any_order() -> None:
    line = read_line("9 kg apples, windfalls, in the fridge, in 3 days, 2 weeks, bruised", FRIDAY)
    assert (line.place, line.day, line.given_days) == ("fridge", date(2027, 4, 12), 14)
    assert line.note == "windfalls, bruised"


def test_where_nobody_publishes_a_clock_it_is_asked_for() -> None:
    with pytest.raises(ClockWanted, match="No keeping time is published for tomato"):
        read_line("9 kg tomatoes", FRIDAY)
    assert read_line("9 kg tomatoes", FRIDAY, given_days=2).given_days == 2


@pytest.mark.parametrize(
    "text, sentence",
    [
        ("", "Write an amount and a food"),
        (" , ,", "Write an amount and a food"),
        ("tomatoes", "How much tomato"),
        ("9 kg xyzzy", "No food called “xyzzy”"),
        ("9 kg tomatoe leaves of nothing", "is known here"),
        ("1,5 kg apples", "comma between figures"),
        ("3 boxes apples", "can't be read as an amount"),
        ("9 kg chicken, counter", "can't wait on the counter"),
        ("9 kg chicken, 9 days", "too long for chicken"),
        ("9 kg apples, 2027-02-30", "is no date"),
        ("9 kg apples, 31 February", "is no date"),
        ("9 kg apples, 4/5", "may be read in two ways"),
        ("9 kg apples, 10.4.2027", "may be read in two ways"),
        ("9 kg apples, Friday 10 April", "10 April is a Saturday"),
        ("9 kg apples, 2031-02-03", "more than a year away"),
        ("9 kg apples, freezer", "what is frozen already"),
        ("-3 kg apples", "without a sign"),
    ],
)
def test_a_wrong_line_is_told_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(InputError, match=sentence):
        read_line(text, FRIDAY)


def test_days() -> None:
    assert read_day("Friday", FRIDAY) == FRIDAY
    assert read_day("thu", FRIDAY) == date(2027, 4, 15)
    assert read_day("the day after tomorrow", FRIDAY) == date(2027, 4, 11)
    assert read_day("2027-4-1", FRIDAY) == date(2027, 4, 1)
    assert read_day("ripe", FRIDAY) is None


@pytest.mark.parametrize(
    "text, day",
    [
        ("14 April", date(2027, 4, 14)),
        ("14th of April", date(2027, 4, 14)),
        ("April 14", date(2027, 4, 14)),
        ("14. Apr", date(2027, 4, 14)),
        ("on Wed 14 April 2027", date(2027, 4, 14)),
        ("2 Jan", date(2027, 1, 2)),
        ("20 December", date(2026, 12, 20)),  # 110 days ago, or in 255
        ("29 February", date(2028, 2, 29)),  # the only one of these three years
        ("came yesterday", date(2027, 4, 8)),
        ("last Friday", date(2027, 4, 2)),
        ("last Thursday", date(2027, 4, 8)),
        ("3 days ago", date(2027, 4, 6)),
        ("in 2 weeks", date(2027, 4, 23)),
    ],
)
def test_a_date_in_words(text: str, day: date) -> None:
    assert read_day(text, FRIDAY) == day


@pytest.mark.parametrize("text", ["ripe", "10 windfalls", "may be soft", "bed 4", "2 days", "maybe 3", "half ripe"])
def test_a_note_is_no_date(text: str) -> None:
    assert read_day(text, FRIDAY) is None
