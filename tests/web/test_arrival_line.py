"""One line as a cook says it. The amounts are read by the strict parser; here it is about what the line means."""

from datetime import date

import pytest

from stillroom.errors import InputError, UnknownFood
from stillroom.tables.vocabulary import hear
from stillroom.web.arrivals.day_words import read_day
from stillroom.web.arrivals.line import ClockWanted, read_line
from stillroom.web.arrivals.line_head import LineUnclear
from stillroom.web.arrivals.line_ways import ways

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


def test_where_nobody_publishes_a_clock_a_short_one_is_assumed() -> None:
    line = read_line("9 kg tomatoes, ripe, Saturday", FRIDAY)
    assert (line.day, line.given_days, line.note, line.is_assumed) == (
        date(2027, 4, 10),
        3,
        "ripe, clock assumed",
        True,
    )
    assert "nobody publishes" in line.reason
    given = read_line("9 kg tomatoes", FRIDAY, given_days=2)
    assert (given.given_days, given.note, given.is_assumed) == (2, "", False)


@pytest.mark.parametrize("text", ["2 kg tomatoes, dried", "1 kg canned tomatoes", "2 kg bread dough"])
def test_a_clock_is_never_assumed_for_what_is_not_as_picked_or_milled(text: str) -> None:
    with pytest.raises(ClockWanted, match="No keeping time is published"):
        read_line(text, FRIDAY)


def test_what_is_of_safety_has_its_published_limit_and_none_assumed() -> None:
    assert read_line("1 kg smoked fish", FRIDAY).keep_days == 1  # as fresh fish of FSIS FoodKeeper: 1 to 2 days
    assert not read_line("4 kg beef for stewing", FRIDAY).is_assumed


@pytest.mark.parametrize(
    "text, food, mass_g, note",
    [
        ("4 kg beef for stewing", "beef stewing meat", 4000, ""),
        ("2 kg stewing beef", "beef stewing meat", 2000, ""),
        ("1 kg diced venison", "venison", 1000, "diced"),
        ("3 kg boneless chicken thighs", "chicken thigh, skinless", 3000, ""),
        ("2 kg chicken thighs, bone in", "chicken thigh, skinless", 2000, "bone in"),
        ("2 kg beef, minced", "beef", 2000, ""),
        ("half a pig of 40 kg", "pork half carcass", 40_000, ""),
        ("a side of pork, 45 kg", "pork half carcass", 45_000, ""),
        ("quarter of beef, 60 kg", "beef carcass", 60_000, ""),
        ("2 doz eggs", "egg, whole", 24 * 44, ""),  # USDA SR 171287: a medium egg is 44 g
        ("1 stone of potatoes", "potato", 14 * 453.59237, ""),  # UK Weights and Measures Act 1985
        ("a turkey, 6 kg", "turkey, whole", 6000, ""),
        ("6 chickens, 2 kg each", "chicken, whole", 12_000, ""),
        ("6 x 2 kg chickens", "chicken", 12_000, ""),
        ("2 whole chickens, 4 kg in all", "chicken, whole", 4000, ""),
        ("1 leg of lamb, 2.5 kg", "lamb leg", 2500, ""),
        ("25 kg sack of potatoes", "potato", 25_000, ""),
        ("a sack of onions, 10 kg", "onion", 10_000, ""),
        ("3 boxes of apples of 12 kg", "apple", 36_000, ""),
        ("about 5 kg plums", "plum", 5000, ""),
        ("2 kg cooked chicken", "chicken", 2000, ""),
        ("9 kg plums for jam", "plum", 9000, "for jam"),
    ],
)
def test_usual_words_of_a_kitchen(text: str, food: str, mass_g: float, note: str) -> None:
    line = read_line(text, FRIDAY)
    assert (line.food, line.note) == (food, note)
    assert line.bundle.mass_g == pytest.approx(mass_g, rel=1e-3)


def test_what_is_cooked_is_taken_as_cooked() -> None:
    assert read_line("2 kg cooked chicken", FRIDAY).state == "cooked"


@pytest.mark.parametrize(
    "text, food",
    [
        ("2 kg peaches, white", "white peach"),  # below pH 4.6 they are not: no process
        ("1 kg mushrooms, wild", "wild mushroom"),
        ("2 kg tomatoes, green", "tomato, green"),
    ],
)
def test_a_note_that_names_another_food_is_that_food(text: str, food: str) -> None:
    assert read_line(text, FRIDAY).food == food


@pytest.mark.parametrize(
    "text",
    [
        *(
            "800 g smoked trout",
            "2 kg trout, smoked",
            "2 kg trout, hot smoked",
            "2 kg salted cod",
            "3 kg chicken, marinated",
        ),
        *(
            "2 kg chicken in brine",
            "2 kg sliced tomatoes",
            "2 kg melon, cut",
            "2 kg venison sausages",
            "2 kg butter beans",
        ),
        *("1 kg beans", "2 kg squash", "2 kg beef, canned"),
    ],
)
def test_what_may_be_another_food_is_asked_back(text: str) -> None:
    with pytest.raises(UnknownFood) as told:
        read_line(text, FRIDAY)
    for way in ways(text, told.value, FRIDAY):
        offered = hear(way.line.split(maxsplit=2)[2].split(",")[0])
        assert offered.food.key not in ("trout", "cod", "chicken", "tomato", "melon", "venison", "apple", "beef")


def test_frozen_food_belongs_into_the_larder() -> None:
    for text in ("2 kg frozen peas", "9 kg apples, freezer", "2 kg peas, frozen"):
        with pytest.raises(InputError, match="write it into the Larder"):
            read_line(text, FRIDAY)
    assert read_line("2 kg beef for the freezer", FRIDAY).note == "for the freezer"


@pytest.mark.parametrize(
    "text, first",
    [
        ("a case of tomatoes", "a case of tomatoes, 5 kg"),
        ("half a pig", "half a pig, 10 kg"),
        ("2 whole chickens, 4 kg", "2 whole chickens, 4 kg each"),
        ("800 g smoked trout", "800 g smoked fish"),
        ("1 kg beans", "1 kg green beans"),
        ("6 cabbages", "6 small heads of cabbages"),
        ("9 kg plums, next week", "9 kg plums, Saturday"),
        ("7 kg tomatoes some split, friday", "7 kg tomatoes, some split, friday"),
        ("3 kg leftover roast beef", "3 kg beef, cooked"),
    ],
)
def test_what_is_not_understood_is_offered_as_lines_that_are(text: str, first: str) -> None:
    with pytest.raises(InputError) as told:
        read_line(text, FRIDAY)
    offered = ways(text, told.value, FRIDAY)
    assert offered[0].line == first
    for way in offered:
        read_line(way.line, FRIDAY)


def test_a_household_of_pounds_is_offered_pounds() -> None:
    with pytest.raises(InputError) as told:
        read_line("a case of peaches", FRIDAY)
    assert ways("a case of peaches", told.value, FRIDAY, in_pounds=True)[0].line == "a case of peaches, 10 lb"


@pytest.mark.parametrize(
    "text, sentence",
    [
        ("", "Write an amount and a food"),
        (" , ,", "Write an amount and a food"),
        ("tomatoes", "How much tomato"),
        ("9 kg xyzzy", "No food called “xyzzy”"),
        ("9 kg tomatoe leaves of nothing", "is known here"),
        ("1,5 kg apples", "comma between figures"),
        ("3 boxes apples", "is printed in no table here: weigh it"),
        ("9 kg chicken, counter", "can't wait on the counter"),
        ("9 kg chicken, 9 days", "too long for chicken"),
        ("9 kg apples, 2027-02-30", "is no date"),
        ("9 kg apples, 31 February", "is no date"),
        ("9 kg apples, 4/5", "may be read in two ways"),
        ("9 kg apples, 10.4.2027", "may be read in two ways"),
        ("9 kg apples, Friday 10 April", "10 April is a Saturday"),
        ("9 kg apples, 2031-02-03", "more than a year away"),
        ("9 kg apples, freezer", "What is frozen already"),
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
        ("bought 3 days ago", date(2027, 4, 6)),
        ("slaughtered two days ago", date(2027, 4, 7)),
        ("2 days old", date(2027, 4, 7)),
        ("a week old", date(2027, 4, 2)),
        ("since 3 days", date(2027, 4, 6)),
        ("since yesterday", date(2027, 4, 8)),
        ("from last night", date(2027, 4, 8)),
        ("caught yesterday", date(2027, 4, 8)),
        ("bought Saturday", date(2027, 4, 3)),  # never a day that is still to come
        ("this morning", date(2027, 4, 9)),
        ("tomorrow evening", date(2027, 4, 10)),
        ("Saturday morning", date(2027, 4, 10)),
    ],
)
def test_a_date_in_words(text: str, day: date) -> None:
    assert read_day(text, FRIDAY) == day


@pytest.mark.parametrize("text", ["ripe", "10 windfalls", "may be soft", "bed 4", "2 days", "maybe 3", "half ripe"])
def test_a_note_is_no_date(text: str) -> None:
    assert read_day(text, FRIDAY) is None


@pytest.mark.parametrize(
    "text",
    [
        *("1 kg rice, steamed", "1 kg pasta, al dente", "1 kg quinoa, prepared", "1 kg chickpeas, soaked"),
        *("1 kg navy beans, sprouted", "1 kg oats, soaked", "1 kg flour, wet", "1 kg walnuts, soaked"),
        *("2 kg potatoes, steamed", "2 kg potatoes, parboiled", "2 kg potatoes, blanched", "2 kg potatoes, in water"),
        *("2 kg pumpkin, pieces", "2 kg pumpkin, wedges", "2 kg pumpkin, in chunks", "2 kg pumpkin, opened"),
        *("2 kg pumpkin, split", "2 kg onions, wedges", "1 kg onion, caramelised", "1 kg cantaloupe, in pieces"),
        *("1 l olive oil, garlic", "1 kg honey, garlic", "12 eggs, cracked", "12 eggs, beaten", "12 eggs, shelled"),
        *("12 eggs, separated", "2 kg apples, crushed", "2 kg apples, pulp", "2 kg tomatoes, passata"),
        *("2 kg tomatoes, crushed", "2 kg tomatoes, heated", "2 kg tomatoes, opened tin", "2 kg tomatoes, from a tin"),
        *("1 l cream, whipped", "2 kg potatoes, ripe, Steamed", "2 kg apples, for jam and soaked"),
    ],
)
def test_a_word_that_is_not_known_to_be_harmless_is_asked_back(text: str) -> None:
    raw = read_line(text.split(",", 1)[0], FRIDAY).keep_days
    with pytest.raises(LineUnclear, match="is not understood here") as told:
        read_line(text, FRIDAY)
    for way in ways(text, told.value, FRIDAY):
        offered = read_line(way.line, FRIDAY)
        assert "cooked" in (offered.state, offered.food.split(", ")[-1])
        assert offered.place == "fridge"
        assert offered.keep_days <= min(6, raw)  # FoodKeeper: cooked leftovers 3 to 4 days, cooked quinoa 6 to 7


@pytest.mark.parametrize(
    "text",
    [
        *("9 kg apples, windfalls", "9 kg apples, small, red", "9 kg apples, from Mill Farm", "9 kg apples, for cider"),
        *("9 kg apples, from the market", "9 kg apples, Bramley", "4 kg beef, chilled", "12 eggs, large, free range"),
        *("9 kg tomatoes, some split", "20 kg pork, to be cut up on Saturday", "9 kg tomatoes, for sauce"),
    ],
)
def test_a_harmless_note_is_taken(text: str) -> None:
    assert read_line(text, FRIDAY).note.removesuffix(", clock assumed") == text.split(", ", 1)[1]


@pytest.mark.parametrize(
    "text, day",
    [
        ("2 kg beef, bought 3 days ago", date(2027, 4, 6)),
        ("2 kg beef bought 3 days ago", date(2027, 4, 6)),
        ("2 kg chicken, slaughtered 3 days ago", date(2027, 4, 6)),
        ("2 kg beef, two days ago", date(2027, 4, 7)),
        ("2 kg beef, 2 days old", date(2027, 4, 7)),
        ("2 kg beef, since 3 days", date(2027, 4, 6)),
        ("2 kg beef, since yesterday", date(2027, 4, 8)),
        ("2 kg beef, from last night", date(2027, 4, 8)),
        ("1 kg trout, caught yesterday", date(2027, 4, 8)),
        ("2 kg beef, bought Thursday", date(2027, 4, 8)),
    ],
)
def test_the_clock_of_older_food_starts_on_its_day(text: str, day: date) -> None:
    assert read_line(text, FRIDAY).day == day


@pytest.mark.parametrize(
    "part",
    [
        *("sat 28", "28", "use by 26 November", "best before May", "a few days old", "bought Friday", "old"),
        *("sell by Monday", "killed a while ago", "two nights", "for 3 days", "about a week"),
    ],
)
def test_what_sounds_like_a_day_is_asked_back(part: str) -> None:
    for food in ("2 kg beef", "2 kg tomatoes"):
        with pytest.raises(LineUnclear, match="Which day is"):
            read_line(f"{food}, {part}", FRIDAY)


@pytest.mark.parametrize(
    "text, sentence",
    [
        (",5 kg beef", "both sides of a decimal point"),
        (", 5 kg beef", "both sides of a decimal point"),
        (".5 kg beef", "both sides of a decimal point"),
        ("beef ,5 kg", "both sides of a decimal point"),
        ("1.500 g tomatoes", "1500 g or 1.5 g"),
        ("1 kg beef, 2 kg each", "second amount"),
        ("1 kg tomatoes, 500 g", "second amount"),
        ("5 kg potatoes, 3 kg rotten", "What is rotten"),
        ("5 kg rotten potatoes", "What is rotten"),
        ("5 kg potatoes, mouldy", "What is mouldy"),
    ],
)
def test_an_amount_that_may_be_another_is_asked_back(text: str, sentence: str) -> None:
    with pytest.raises(InputError, match=sentence):
        read_line(text, FRIDAY)


def test_fresh_pasta_is_not_the_dry_one() -> None:
    assert read_line("1 kg pasta, fresh", FRIDAY).keep_days == 1  # FoodKeeper: fresh pasta 1 to 2 days


def test_sprouts_may_be_of_two_kinds() -> None:
    with pytest.raises(UnknownFood) as told:
        read_line("1 kg sprouts", FRIDAY)
    assert [way.line for way in ways("1 kg sprouts", told.value, FRIDAY)] == [
        "1 kg brussels sprouts",
        "1 kg bean sprouts",
    ]


def test_a_warm_place_gives_no_longer_than_the_fridge() -> None:
    """FoodKeeper: green beans 3 to 5 days in the fridge, mushrooms 3 to 7; potatoes have a time of their own."""
    for text in (
        "2 kg green beans, keeps 60 days",
        "2 kg green beans, 6 days, counter",
        "1 kg mushrooms, shelf, 9 days",
    ):
        with pytest.raises(InputError, match="even in the fridge"):
            read_line(text, FRIDAY)
    with pytest.raises(ClockWanted):
        read_line("1 kg mushrooms, shelf", FRIDAY)
    assert read_line("5 kg potatoes, 60 days", FRIDAY).place == "counter"


@pytest.mark.parametrize("text", ["2 kg pumpkin opened", "2 kg potatoes in water", "2 kg steamed potatoes"])
def test_no_button_drops_a_word_that_is_not_understood(text: str) -> None:
    with pytest.raises(InputError) as told:
        read_line(text, FRIDAY)
    for way in ways(text, told.value, FRIDAY):
        assert read_line(way.line, FRIDAY).food not in ("potato", "pumpkin")


def test_the_name_of_a_lump_has_no_comma_at_its_end() -> None:
    assert read_line("half a pig, 40 kg, Saturday", FRIDAY).name == "half a pig"
