"""What a named food consists of, and where it begins to freeze, against the ASHRAE table."""

from __future__ import annotations

import pytest

from stillroom.errors import InputError, UnknownFood
from stillroom.physics.band import Band
from stillroom.quantities.food_parts import THICK, THIN, food_parts, freezing_c
from stillroom.tables.vocabulary import foods
from stillroom.units import celsius

# ASHRAE Refrigeration (2006), chapter 9, table 3, from two copies: vegetables in °C, the rest in °F.
PRINTED_C = {
    **{"asparagus": -0.6, "green bean": -0.7, "beet": -1.1, "broccoli": -0.6, "brussels sprouts": -0.8},
    **{"cabbage": -0.9, "carrot": -1.4, "cauliflower": -0.8, "sweet corn": -0.6, "cucumber": -0.5, "leek": -0.7},
}
PRINTED_F = {
    **{"apple": 30.0, "apricot": 30.0, "banana": 30.6, "blackberry": 30.6, "blueberry": 29.1, "sour cherry": 28.9},
    **{"sweet cherry": 28.8, "cranberry": 30.4, "orange": 30.6, "peach": 30.4, "pear": 29.1, "raspberry": 30.9},
    **{"strawberry": 30.6, "beef top sirloin": 28.9},
}


@pytest.mark.parametrize(
    ("name", "printed_c"), [*PRINTED_C.items(), *((name, celsius(value)) for name, value in PRINTED_F.items())]
)
def test_freezing_point_is_within_a_degree_of_the_printed_one(name: str, printed_c: float) -> None:
    assert freezing_c(food_parts(name).food.composition or "") == pytest.approx(printed_c, abs=1.0)


def test_sweet_and_salty_food_freezes_lower() -> None:
    assert freezing_c("jam") < freezing_c("sweet cherry") < freezing_c("beet") == -1.0
    assert freezing_c("ham, cured") < freezing_c("pork tenderloin")


def test_mince_is_ground_beef_and_brings_its_form() -> None:
    mince = food_parts("mince")
    assert mince.food.key == "beef"
    assert mince.form is not None
    assert "ground" in mince.form
    assert food_parts("beef brisket").form is None


def test_kin_stand_for_what_has_no_composition_of_its_own() -> None:
    pork_stock = food_parts("pork stock")
    assert "stock" in pork_stock.basis
    assert all(0.9 < mixture.fractions.water < 0.98 for mixture in pork_stock.mixtures)
    beef = food_parts("beef")
    assert len(beef.mixtures) == 2
    assert beef.mixtures[0].fractions.water < beef.mixtures[1].fractions.water


def test_a_dish_of_which_nothing_is_published_is_anything_from_thin_to_thick() -> None:
    stew = food_parts("stew")
    assert stew.mixtures == (THIN, THICK)
    band = stew.band(lambda mixture: Band(mixture.fractions.water, mixture.fractions.water, 1.0, "-"))
    assert (band.low, band.high) == (pytest.approx(THICK.fractions.water), 1.0)


@pytest.mark.parametrize("name", ["flour", "lard", "raisins", "pork bones", "garlic in oil", "beef jerky", "salt"])
def test_dry_food_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="too dry"):
        food_parts(name)


def test_dry_rice_is_asked_for_as_cooked() -> None:
    with pytest.raises(InputError, match="rice, white, cooked"):
        food_parts("rice")


def test_bread_is_full_of_air_and_nonsense_is_unknown() -> None:
    with pytest.raises(InputError, match="full of air"):
        food_parts("white bread")
    with pytest.raises(UnknownFood):
        food_parts("moon dust")


def test_every_food_is_either_known_or_refused_in_one_sentence() -> None:
    known = 0
    for food in foods():
        try:
            parts = food_parts(food.key)
        except InputError as error:
            assert food.key in str(error)
            continue
        known += 1
        assert 1 <= len(parts.mixtures) <= 2
        assert all(mixture.freezing_c <= -1.0 for mixture in parts.mixtures)
    assert known > 400


def test_mass_of_a_volume() -> None:
    """A dish by its density, near that of water; what has measures of its own by these (128 g a cup, SR Legacy)."""
    assert food_parts("stew").mass_kg("8 l") == pytest.approx(8.2, abs=0.2)
    assert food_parts("stew").mass_kg("3 kg") == 3.0
    assert food_parts("carrot").mass_kg("2 cups chopped") == pytest.approx(0.256)
    with pytest.raises(InputError, match="weigh"):
        food_parts("stew").mass_kg("8")
