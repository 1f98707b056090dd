"""Amounts counted in pieces of one size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.household.bundles import Bundle, read_bundle


@pytest.mark.parametrize(
    ("text", "food", "bundle"),
    [
        ("6 birds of 2.2 kg", "chicken, whole", Bundle(6, "bird", 13_200)),
        ("9 quart jars of 900 g", "green bean", Bundle(9, "quart jar", 8100)),
        ("1 sack of 25 kg", "potato", Bundle(1, "sack", 25_000)),
        ("2 boxes of 10 lb", "pear", Bundle(2, "box", 9071.8474)),
        ("3 300 ml jars of 280 g", "plum", Bundle(3, "300 ml jar", 840)),
        ("48 lb", "apple", Bundle(1, "", 21_772.43376)),
    ],
)
def test_it_works(text: str, food: str, bundle: Bundle) -> None:
    found = read_bundle(text, food)
    assert (found.count, found.piece) == (bundle.count, bundle.piece)
    assert found.mass_g == pytest.approx(bundle.mass_g)


@pytest.mark.parametrize("text", ["6 birds of", "6 birds", "of 2 kg", "birds of 2 kg", "6 birds of some kg", ""])
def test_what_cannot_be_weighed_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_bundle(text, "chicken, whole")


@given(st.integers(1, 99), st.integers(1, 50_000))
def test_pieces_weigh_their_number_times_one(count: int, grams: int) -> None:
    assert read_bundle(f"{count} jars of {grams} g", "green bean").mass_g == pytest.approx(count * grams)
