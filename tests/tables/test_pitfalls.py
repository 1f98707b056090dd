"""Old, unsafe or misprinted schedules that are still in circulation must not be in our tables.

Each is told by the pages read for the tables; the right figure beside it is typed from the page named.
"""

from __future__ import annotations

import pytest

from stillroom.model.process import JarSize
from stillroom.tables.no_process import no_process
from stillroom.tables.processes import rows, rows_for
from stillroom.tables.vocabulary import hear


def minutes(food: str, jar: str, **wanted: str) -> set[tuple[int, ...]]:
    found = [r for r in rows_for(food) if r.jar == jar and all(getattr(r, k) == v for k, v in wanted.items())]
    assert found, (food, jar, wanted)
    return {row.minutes for row in found}


@pytest.mark.parametrize(
    ("food", "pint", "quart", "outdated"),
    [
        ("asparagus", 30, 40, {25}),
        ("pumpkin or winter squash", 55, 90, {20, 65}),
        ("southern peas", 40, 50, {35}),
    ],
)
def test_outdated_times_are_gone(food: str, pint: int, quart: int, outdated: set[int]) -> None:
    assert minutes(food, "pint") == {(pint,)}
    assert minutes(food, "quart") == {(quart,)}
    assert not outdated & {row.minutes[0] for row in rows_for(food)}


@pytest.mark.parametrize("food", ["fish", "tuna"])
def test_fish_is_not_90_minutes(food: str) -> None:
    """Oregon State answer, 2018: tuna was 90 min at 10 lb and is 100 now; fish pints are 100."""
    assert minutes(food, "pint") == {(100,)}
    assert 90 not in {row.minutes[0] for row in rows_for(food)}


@pytest.mark.parametrize(
    "food",
    ["mushrooms", "peppers", "clams", "crab", "oysters", "tuna", "smoked fish", "chile con carne"],
)
def test_these_have_no_quart(food: str) -> None:
    assert {row.jar for row in rows_for(food)} <= {JarSize.HALF_PINT, JarSize.PINT}
    assert JarSize.PINT in {row.jar for row in rows_for(food)}


def test_cream_style_corn_is_hot_packed_in_pints_only() -> None:
    """A public text copy of 1994 prints 95 min raw pack in one of its tables; no raw pack is described."""
    found = [row for row in rows_for("corn") if row.form == "cream style"]
    assert [(row.pack, row.jar.value, row.minutes) for row in found] == [("hot", "pint", (85,))]


@pytest.mark.parametrize(
    "food",
    ["beets", "dried beans or peas", "dried beans in sauce", "baked beans", "mushrooms", "peppers", "potatoes"],
)
def test_these_have_no_raw_pack(food: str) -> None:
    assert {row.pack for row in rows_for(food) if row.is_pressure} == {"hot"}


@pytest.mark.parametrize("food", ["beef", "bear", "lamb", "pork", "veal", "venison"])
def test_ground_meat_is_never_packed_raw(food: str) -> None:
    assert {row.pack for row in rows_for(food) if row.form == "ground or chopped"} == {"hot"}
    assert {row.pack for row in rows_for(food)} == {"hot", "raw"}


def test_sausage_is_ground_meat_and_not_strips() -> None:
    assert [(row.pack, row.jar.value, row.minutes) for row in rows_for("sausage")] == [
        ("hot", "pint", (75,)),
        ("hot", "quart", (90,)),
    ]


def test_no_mashed_or_pureed_low_acid_row() -> None:
    for row in rows():
        if row.is_pressure and row.food not in {"fruit puree"}:
            assert not any(word in f"{row.food} {row.form}" for word in ("mash", "puree", "purée")), row.key


def test_no_low_acid_food_in_boiling_water() -> None:
    """“Water bath 2 to 4 hours” for vegetables, meat or fish: no boiling-water time is longer than 100 min."""
    assert max(row.minutes[-1] for row in rows() if not row.is_pressure) == 100


@pytest.mark.parametrize(
    ("food", "form", "jar"),
    [
        ("tomatoes", "crushed, no added liquid", "pint"),
        ("tomatoes", "crushed, no added liquid", "quart"),
        ("tomato juice", "plain juice", "quart"),
    ],
)
def test_trap_1_tomato_lines_are_alternatives_for_each_jar(food: str, form: str, jar: str) -> None:
    """20 min at 6 lb dial, 15 at 11, 10 at 15 lb weighted: every line for pints and for quarts."""
    lines = {
        (row.dial_psi[0] or row.weighted_psi[0], row.minutes[0])
        for row in rows_for(food)
        if row.is_pressure and row.form == form and row.jar == jar
    }
    assert lines == {(6, 20), (11, 15), (15, 10)}


@pytest.mark.parametrize(("food", "pint", "quart"), [("pineapple", 15, 20), ("apple rings", 10, None)])
def test_trap_2_the_sea_level_time_is_not_that_of_a_high_state(food: str, pint: int, quart: int | None) -> None:
    """Minnesota pages print 20/25 and 15, the figures for 1,001-3,000 ft."""
    assert {found[0] for found in minutes(food, "pint")} == {pint}
    if quart is not None:
        assert {found[0] for found in minutes(food, "quart")} == {quart}


def test_trap_3_no_band_is_a_flat_rule_of_thumb() -> None:
    """Appliance leaflets add 1 min per 1,000 ft; the guide's steps are whole fives."""
    assert {m % 5 for row in rows() if not row.is_pressure for m in row.minutes} == {0}


@pytest.mark.parametrize(
    ("food", "jar", "wanted", "right"),
    [
        ("pickled beets", "pint", {"form": "slices or whole small beets"}, (30, 35, 40, 45)),
        ("grapes", "pint", {"pack": "hot"}, (10, 15, 15, 20)),
        ("grapefruit and orange", "pint", {"pack": "raw", "guide_table": ""}, (10, 15, 15, 20)),
        ("cranberry salsa", "pint", {}, (10, 15, 15, 20)),
    ],
)
def test_trap_4_slips_of_reprints(food: str, jar: str, wanted: dict[str, str], right: tuple[int, ...]) -> None:
    """45 for 35, 20/25 for 15/20, a 5 min line, 15/20/25 for 10/15/20."""
    wanted = {key: value for key, value in wanted.items() if value}
    found = {
        row.minutes
        for row in rows_for(food)
        if not row.is_pressure and row.jar == jar and all(getattr(row, k) == v for k, v in wanted.items())
    }
    assert found == {right}


def test_trap_4_slips_in_tomato_pressure_lines() -> None:
    """EDIS FCS8186: sauce 15 (not 10) min at 11 lb; Missouri GH1456: water pack 15 (not 20) min at 6 lb."""
    sauce = {row.minutes for row in rows_for("tomato sauce") if row.dial_psi[:1] == (11,)}
    assert sauce == {(15,)}
    water = {
        row.minutes
        for row in rows_for("tomatoes")
        if row.form == "whole or halved in water" and row.dial_psi[:1] == (6,)
    }
    assert water == {(15,)}


@pytest.mark.parametrize(
    "fruit",
    ["banana", "fig", "asian pear", "tomato", "cantaloupe", "papaya", "mango", "coconut", "date", "white peach"],
)
def test_trap_5_fruit_that_is_not_acid_enough_for_a_puree(fruit: str) -> None:
    """NCHFP, Fruit Purees; Kansas State 2022."""
    key = hear(fruit).food.key
    assert any(key in entry.foods and "puree" in entry.preparation for entry in no_process())
    assert hear(fruit).food.process_food != "fruit puree"


@pytest.mark.parametrize(
    ("food", "preparation"),
    [
        ("pumpkin", "mashed or pureed"),
        ("sweet potato", "mashed, pureed or packed dry"),
        ("zucchini", ""),
        ("broccoli", ""),
        ("cabbage", "plain or in soup"),
        ("wild mushroom", ""),
        ("bacon", "cured, brined or corned"),
        ("pickled egg", "plain or pickled, for the shelf"),
        ("herbs in oil", "in oil, for the shelf"),
        ("bread or cake in a jar", "baked in a jar"),
        ("smoked shellfish", "smoked"),
        ("pork liver", ""),
    ],
)
def test_foods_that_are_never_offered_a_jar(food: str, preparation: str) -> None:
    assert any(food in e.foods and e.preparation == preparation and e.methods == "all" for e in no_process())


@pytest.mark.parametrize("food", ["spaghetti sauce", "mexican tomato sauce", "tomatoes with okra or zucchini"])
def test_low_acid_tomato_mixtures_are_for_pressure_only(food: str) -> None:
    assert all(row.is_pressure and row.dial_psi == (11, 12, 13, 14) for row in rows_for(food))
    assert any(food in entry.foods and entry.methods == "boiling water" for entry in no_process())
