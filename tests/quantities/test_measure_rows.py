"""From cups, pieces and bushels to grams: weights typed again from the published rows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import UnreadableAmount
from stillroom.quantities.amounts import mass_g, weigh
from stillroom.tables.densities import measures
from stillroom.tables.vocabulary import foods

LB = 453.59237


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    [
        # USDA FoodData Central SR Legacy, food_portion (fdc_id beside each)
        ("1 cup chopped", "onion", 160),  # 170000
        ("1 cup sliced", "onion", 115),  # 170000
        ("2 cups, chopped", "cabbage", 178),  # 169975
        ("1 cup shredded", "cabbage", 70),  # 169975
        ("3 heads", "cabbage", 3 * 908),  # 169975, medium head
        ("2 large heads", "cabbage", 2 * 1248),  # 169975
        ("1 small head", "cabbage", 714),  # 169975
        ("4 cloves", "garlic", 12),  # 169230
        ("1 cup", "honey", 339),  # 169640
        ("½ tsp", "salt", 3),  # 173468: 1 tsp = 6 g
        ("2 cups", "sugar, white", 400),  # 169655
        ("2", "onion", 220),  # 170000, medium
        ("2 large", "onion", 300),  # 170000
        ("3 small", "pear", 444),  # 169118
        ("5 medium", "peach", 750),  # 169928
        ("3", "apricot", 105),  # 171697
        ("1 large stalk", "celery", 64),  # 169988
        ("2 medium", "potato", 426),  # 170026
        ("3 large", "potato", 1107),  # 170026
        ("2 cups", "cucumber", 208),  # 168409, slices: the only way it is measured
        ("1 cup", "water", 236.588),  # 1 ml = 1 g
        # Extension tables
        ("2 bushels", "potato", 100 * LB),  # 50 lb, figures of the National Center for Home Food Preservation
        ("1 bushel", "green bean", 30 * LB),  # 30 lb
        ("1 lug", "apricot", 24 * LB),  # 24 lb, Georgia Department of Agriculture
        ("1 peck", "apple", 12 * LB),  # 10-14 lb, midpoint
        ("4 pecks", "potato", 50 * LB),  # a bushel by definition
        ("1 bushel in husks", "sweet corn", 35 * LB),  # 35 lb
        ("9 kg", "anything", 9000),
    ],
)
def test_weight_of_a_measure(text: str, food: str, grams: float) -> None:
    assert mass_g(text, food) == pytest.approx(grams, rel=1e-4)


def test_the_row_is_named() -> None:
    weighed = weigh("3 cups chopped", "onion")
    assert weighed.row is not None
    assert weighed.row.measure == "cup, chopped"
    assert "160 g" in weighed.how
    assert "edible part" in weigh("2", "onion").how
    assert "edible part" not in weighed.how
    assert weigh("3 kg", "onion").row is None


def test_a_second_source_that_differs_is_named() -> None:
    """Asparagus: 45 lb a bushel in one table, 31 lb in another."""
    assert "14061 g" in weigh("1 bushel", "asparagus").how


@pytest.mark.parametrize(
    ("text", "food", "said"),
    [
        ("1 cup", "onion", "cup, chopped = 160 g; cup, sliced = 115 g"),  # differ by a third
        ("1 cup grated", "onion", "not clear"),
        ("12 ears", "sweet corn", "not clear"),  # only a small ear has a row
        ("3", "chicken, whole", "not clear"),  # its rows are without bone
        ("1", "pork leg", "not in our tables"),
        ("1 lug", "onion", "not clear"),
        ("1 cup", "no such food", "not in our tables"),
    ],
)
def test_not_guessed(text: str, food: str, said: str) -> None:
    with pytest.raises(UnreadableAmount, match=said):
        weigh(text, food)


def test_rows_that_weigh_something_else_are_not_used() -> None:
    """“lemon yields” is the juice of a lemon, not a measure of it."""
    with pytest.raises(UnreadableAmount):
        weigh("1", "lemon juice")


@given(st.sampled_from([food.key for food in foods()]), st.sampled_from(["cup", "tbsp", "quart", "bushel", ""]))
def test_any_food_is_weighed_or_refused_and_grows_with_the_amount(food: str, unit: str) -> None:
    try:
        one = mass_g(f"1 {unit}", food)
    except UnreadableAmount:
        return
    assert mass_g(f"3 {unit}", food) == pytest.approx(3 * one)
    assert 0 < one < 40_000
    if unit == "cup":  # nothing a kitchen measures is denser than honey by much, or lighter than puffed grain
        assert 3 < one < 400
    assert measures(food)
