"""How long food may wait. Published times typed from FSIS FoodKeeper (version 128), not read from the table."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.household.clock import State, clock
from stillroom.model.household import Place
from stillroom.tables.vocabulary import foods, hear

MEAT_GROUPS = ("beef", "pork", "lamb and game", "poultry", "fish")
MEATS = tuple(food for food in foods() if food.group in MEAT_GROUPS)
LONGEST_RAW_DAYS = 5  # no fresh meat, poultry or fish keeps longer in the fridge (roasts: 3 to 5 days)
PRESERVED_WORDS = (
    "cured",
    "corned",
    "duck fat",
    "bacon",
    "salami",
    "sausage",
    "salt pork",
    "smoked",
    "canned",
    "dry",
    "dried",
    "ham",
)


@pytest.mark.parametrize(
    ("food", "state", "place", "days"),
    [
        ("whole chicken", State.RAW, Place.FRIDGE, 1),  # 1 to 2
        ("pork shoulder", State.RAW, Place.FRIDGE, 3),  # 3 to 5
        ("pork leg", State.RAW, Place.FRIDGE, 3),  # 3 to 5; another product says 7: the cautious one
        ("mince", State.RAW, Place.FRIDGE, 1),  # 1 to 2: ground meat does not keep like a roast
        ("pears", State.RAW, Place.FRIDGE, 3),  # 3 to 5
        ("pumpkin", State.RAW, Place.SHELF, 61),  # 2 to 3 months
        ("apples", State.RAW, Place.CELLAR, 21),  # 3 weeks
        ("cabbage", State.RAW, Place.FRIDGE, 7),  # 1 to 2 weeks
    ],
)
def test_without_a_clock_the_published_time_counts(food: str, state: State, place: Place, days: int) -> None:
    heard = hear(food)
    found = clock(heard.food, heard.form, state, place, None)
    assert found.keep_days == days
    assert "FoodKeeper" in found.reason
    assert found.note == ""


@pytest.mark.parametrize(
    ("food", "state", "longest"),
    [
        ("whole chicken", State.RAW, 2),
        ("pork shoulder", State.RAW, 5),
        ("pork leg", State.RAW, 5),
        ("mince", State.RAW, 2),
        ("pork carcass", State.RAW, 2),  # no time of its own: that of the most perishable pork
        ("pork shoulder", State.THAWED, 2),
        ("chicken, whole, roasted", State.COOKED, 4),
        ("chicken, whole, roasted", State.RAW, 4),  # its name says that it is cooked
        ("carrot, boiled", State.RAW, 4),  # leftovers: 3 to 4 days
        ("stew", State.RAW, 4),
        ("garlic in oil", State.RAW, 4),
        ("egg, whole", State.RAW, 35),  # 3 to 5 weeks
    ],
)
def test_a_safety_limit_is_never_passed(food: str, state: State, longest: int) -> None:
    heard = hear(food)
    assert clock(heard.food, heard.form, state, Place.FRIDGE, longest).keep_days == longest
    with pytest.raises(InputError, match=f"too long for .* {longest} days at the most"):
        clock(heard.food, heard.form, state, Place.FRIDGE, longest + 1)


@settings(max_examples=200)
@given(food=st.sampled_from(MEATS), place=st.sampled_from(Place), days=st.integers(0, 60), thawed=st.booleans())
def test_no_fresh_meat_ever_gets_a_long_clock(food: object, place: Place, days: int, thawed: bool) -> None:
    assert hasattr(food, "key")
    if any(word in food.key for word in PRESERVED_WORDS):
        return
    try:
        found = clock(food, None, State.THAWED if thawed else State.RAW, place, days)  # type: ignore[arg-type]
    except InputError:
        return
    assert place is Place.FRIDGE
    assert found.keep_days == days <= LONGEST_RAW_DAYS


def test_meat_waits_in_the_fridge_only() -> None:
    for place in (Place.COUNTER, Place.CELLAR, Place.SHELF):
        for food in (
            "pork shoulder",
            "potato, baked",
            "vegetable soup",
            "whole milk",
            "home prepared hummus",
            "tofu",
            "bean sprouts",
        ):
            with pytest.raises(InputError, match="two hours at the most"):
                clock(hear(food).food, None, State.RAW, place, 0)
    with pytest.raises(InputError, match=r"larder\.yaml"):
        clock(hear("pork shoulder").food, None, State.RAW, Place.FREEZER, None)


def test_fruit_and_vegetables_are_the_households_to_judge() -> None:
    tomato = hear("tomato").food
    with pytest.raises(InputError, match="no keeping time is published for tomato"):
        clock(tomato, None, State.RAW, Place.COUNTER, None)
    assert clock(tomato, None, State.RAW, Place.COUNTER, 3).keep_days == 3
    assert clock(hear("beef").food, None, State.DRIED, Place.SHELF, 60).keep_days == 60
    longer = clock(hear("apple").food, None, State.RAW, Place.CELLAR, 60)
    assert (longer.keep_days, longer.note) == (60, "apple is given 60 days, longer than the published 21 days")
