"""Yields, jars, carcasses and portions against figures typed again from their publications."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError, SourceError
from stillroom.model.process import JarSize
from stillroom.quantities.carcass import Species, all_species, break_down
from stillroom.quantities.portions import adult_portions, eater_share, for_table
from stillroom.quantities.yields import after, fraction, jars
from stillroom.tables.vocabulary import foods
from stillroom.tables.yields import yields

LB = 453.59237


@pytest.mark.parametrize(
    ("food", "share"),
    [
        # USDA SR28, refuse field: yield is 1 - refuse
        ("asparagus", 0.53),  # 47 % butt ends
        ("apple", 0.90),  # 10 % core and stem
        ("beet", 0.67),  # 33 % parings and part tops
        ("carrot", 0.89),  # 11 % crown, tops and scrapings
        ("peach", 0.96),  # 4 % pit
        ("tomato", 0.91),  # 9 % core and stem ends
        ("strawberry", 0.94),  # 6 % caps and stems
        ("beef chuck roast", 0.81),  # 19 % bone
        ("chicken meat", 0.48),  # 52 % bone, skin, fat
        ("lamb leg", 0.79),  # 21 % bone
    ],
)
def test_trim(food: str, share: float) -> None:
    assert fraction(food, "as purchased", "edible part").middle == pytest.approx(share)


def test_a_chain_multiplies() -> None:
    """Chuck with bone to braised: 0.81 × 0.64."""
    left = after(5000, "beef chuck roast", "as purchased", "edible part")
    assert left.middle == pytest.approx(4050)
    with pytest.raises(ValueError, match="two states"):
        after(5000, "beef chuck roast", "raw")


def test_several_sources_make_a_range() -> None:
    """Dressing of hogs: 250 lb to 184 lb, 250 lb to 180 lb, and 70 to 75 %."""
    hog = fraction("pork carcass", "live hog", "carcass")
    assert (hog.low, hog.high) == (0.70, 0.75)
    assert len(hog.rows) == 3


@pytest.mark.parametrize(
    ("food", "pounds", "state", "quarts"),
    [
        # 7-quart loads of the National Center for Home Food Preservation
        ("green bean", 14, None, 7),
        ("carrot", 17.5, None, 7),
        ("asparagus", 24.5, None, 7),
        ("tomato", 21, "whole or halved canned", 7),
    ],
)
def test_jars_of_a_full_load(food: str, pounds: float, state: str | None, quarts: int) -> None:
    found = jars(pounds * LB, food, JarSize.QUART, state)
    assert found.low == pytest.approx(quarts, rel=0.01)
    assert jars(pounds * LB, food, JarSize.PINT, state).low == pytest.approx(2 * quarts, rel=0.01)


def test_a_printed_range_of_pounds_is_a_range_of_jars() -> None:
    """Apples for sauce: 2.5 to 3.5 lb a quart, so 35 lb make 10 to 14 quarts."""
    found = jars(35 * LB, "apple", JarSize.QUART, "applesauce")
    assert (found.low, found.high) == (pytest.approx(10), pytest.approx(14))


def test_jars_ask_and_refuse() -> None:
    with pytest.raises(InputError, match="applesauce, canned sliced"):
        jars(1000, "apple", JarSize.QUART)
    with pytest.raises(InputError, match="per jar"):
        jars(1000, "honey", JarSize.QUART)
    with pytest.raises(InputError, match="“as purchased” to “edible part”"):
        fraction("tomato", "raw", "smoked")


def test_doubtful_rows_are_left_out() -> None:
    """Chicken, boneless: 6-7 lb a quart is a misprint, about 1 lb a pint is the informal rule."""
    assert jars(10 * LB, "chicken meat", JarSize.QUART, "canned raw pack").middle == pytest.approx(5)
    with pytest.raises(InputError):
        jars(10 * LB, "chicken meat", JarSize.QUART, "canned")


@given(st.sampled_from([food.key for food in foods() if yields(food.key)]), st.floats(100, 1e6))
def test_nothing_grows_by_trimming_or_drying(food: str, mass: float) -> None:
    for row in yields(food):
        if row.fraction is not None and row.kind in ("trim", "dry", "cut", "dress"):
            left = after(mass, food, row.from_state, row.to_state)
            assert 0 < left.low <= left.high <= mass * 1.0001


def test_hog_of_250_pounds() -> None:
    """Univ. of Kentucky leaflet: 250 lb live, 184 lb carcass; ham 24 %, belly 19, loin 18, picnic 9, butt 8."""
    live = break_down("pork", 250, "live")
    assert live.carcass_low_g <= 184 <= live.carcass_high_g
    parts = dict(break_down("pork", 184, "carcass").parts_g)
    assert parts["ham"] == pytest.approx(45, rel=0.02)  # printed 45 lb
    assert parts["belly with spareribs"] == pytest.approx(34.9, rel=0.02)
    assert parts["loin"] == pytest.approx(33.8, rel=0.03)
    assert parts["picnic shoulder"] == pytest.approx(16.6, rel=0.02)
    assert parts["Boston butt"] == pytest.approx(14.7, rel=0.02)


def test_broiler_parts() -> None:
    """Handbook on poultry: breast 25 %, legs 33, wings 14, back and neck 17, giblets 11; dressing 70 to 75 %."""
    bird = break_down("chicken", 2000, "live")
    assert (bird.carcass_low_g, bird.carcass_high_g) == (1400, 1500)
    assert dict(break_down("chicken", 1000, "carcass").parts_g) == pytest.approx(
        {"breast": 250, "legs": 330, "wings": 140, "back and neck": 170, "giblets": 110}
    )


def test_steer_by_the_rule_of_quarters() -> None:
    """Rule of thumb: 25 % waste, 25 % steaks, 25 % roasts, 25 % ground."""
    assert [share for _, share in break_down("beef", 100, "carcass").parts_g] == [25, 25, 25, 25]


@given(st.sampled_from(sorted(all_species())), st.floats(1, 1e6), st.sampled_from(["live", "carcass"]))
def test_parts_add_up_to_the_carcass(name: str, mass: float, state: str) -> None:
    found = break_down(name, mass, state)  # type: ignore[arg-type]
    together = sum(part for _, part in found.parts_g)
    assert together == pytest.approx((found.carcass_low_g + found.carcass_high_g) / 2)
    assert found.carcass_high_g <= mass
    assert found.species.rules


def test_animals_that_are_not_known() -> None:
    with pytest.raises(InputError, match="beef, chicken, goat, lamb, pork"):
        break_down("ostrich", 1000, "live")
    with pytest.raises(InputError):
        break_down("pork", 0, "live")
    with pytest.raises(SourceError, match="more than the carcass"):
        Species("ox", (0.5, 0.6), (("a", 0.7), ("b", 0.4)), "", ())
    with pytest.raises(SourceError, match="not shares"):
        Species("ox", (0.6, 0.5), (), "", ())


@pytest.mark.parametrize(
    ("age", "share"),
    [(2, 0.40), (3, 0.52), (6, 0.60), (9.9, 0.68), (12, 0.84), (18, 0.96), (19, 1.0), (70, 1.0), (None, 1.0)],
)
def test_children_eat_by_their_energy(age: float | None, share: float) -> None:
    """Dietary Guidelines for Americans 2015-2020, table A2-1, moderately active: mean kcal of the age over 2500."""
    assert eater_share(age) == pytest.approx(share)


def test_a_table_of_eaters() -> None:
    """Two adults, ages 9 and 6: 2 + 0.68 + 0.60 adult portions; Australian serve of vegetables 75 g."""
    shares = tuple(eater_share(age) for age in (None, None, 9, 6))
    assert adult_portions((None, None, 9, 6)) == pytest.approx(3.28)
    need = for_table("vegetable", shares)
    assert (need.low, need.high) == pytest.approx((246, 246))
    meat = for_table("red meat", shares, "raw")
    assert (meat.low, meat.high) == pytest.approx((295.2, 328))  # 90 to 100 g raw


def test_portions_ask_and_refuse() -> None:
    with pytest.raises(InputError, match="raw"):
        for_table("red meat", (1.0,))
    with pytest.raises(InputError, match=r"known are: .*vegetable"):
        for_table("cake", (1.0,))
    with pytest.raises(InputError, match="more than nothing"):
        for_table("vegetable", ())
    with pytest.raises(InputError, match="under 2 years"):
        eater_share(1.5)
    with pytest.raises(InputError):
        eater_share(float("nan"))
