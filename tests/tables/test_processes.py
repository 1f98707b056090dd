"""The printed process tables: whole, plausible, monotone where nature is, and in the patterns of the publication."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise

import pytest

from stillroom.model.process import Evidence, JarSize, ProcessRow
from stillroom.tables.no_process import no_process
from stillroom.tables.processes import rows, rows_for
from stillroom.tables.vocabulary import foods

SIZES = list(JarSize)


def table(row: ProcessRow) -> str:
    return row.key.partition(":")[0]


LOW_ACID = [row for row in rows() if table(row) == "low_acid"]
BOILING_WATER = [row for row in rows() if table(row) == "acid_boiling_water"]
ACID_PRESSURE = [row for row in rows() if table(row) == "acid_pressure"]


def test_all_three_tables_are_there() -> None:
    """Lines counted in the raw tables: 141, 218 of which 8 have no jar, 119."""
    assert (len(LOW_ACID), len(BOILING_WATER), len(ACID_PRESSURE)) == (141, 210, 119)


def test_keys_are_unique_and_so_is_what_they_stand_for() -> None:
    assert len({row.key for row in rows()}) == len(rows())
    asked = {(table(r), r.food, r.form, r.pack, r.jar, r.dial_psi, r.weighted_psi) for r in rows()}
    assert len(asked) == len(rows())


def test_rows_are_found_by_their_food() -> None:
    assert {row.food for row in rows_for("snap beans")} == {"snap beans"}
    assert len(rows_for("snap beans")) == 4
    assert rows_for("unicorn") == ()
    assert sum(len(rows_for(food)) for food in {row.food for row in rows()}) == len(rows())


def test_every_row_has_source_evidence_and_a_plausible_headspace() -> None:
    for row in rows():
        assert row.source and row.guide_table and row.form
        assert row.headspace_in in {0.125, 0.25, 0.5, 1, 1.25, 1.5}, row.key
        if row.evidence is not Evidence.MEMORY:
            assert row.url or "angelfire" in row.source, row.key


def test_low_acid_pressures_follow_the_one_pattern_of_the_guides() -> None:
    """PNW 421 and every Guide 4 and 5 table: 11/12/13/14 dial, 10/15 weighted, whatever the food."""
    for row in LOW_ACID:
        assert (row.dial_psi, row.weighted_psi) == ((11, 12, 13, 14), (10, 15)), row.key
        assert len(row.minutes) == 1
        assert 20 <= row.minutes[0] <= 160, row.key


def test_acid_pressures_are_one_of_three_lines() -> None:
    """Guides 2 and 3: 6/7/8/9 with 5/10, 11/12/13/14 with 10/15, or 15 weighted up to 1,000 ft only."""
    lines = {((6, 7, 8, 9), (5, 10)), ((11, 12, 13, 14), (10, 15)), ((None,) * 4, (15, None))}
    for row in ACID_PRESSURE:
        assert (row.dial_psi, row.weighted_psi) in lines, row.key
        assert len(row.minutes) == 1


def test_boiling_water_bands_follow_the_pattern_of_the_guides() -> None:
    """Under 20 min at sea level +5, +5, +10; from 20 min +5, +10, +15; true of every printed row."""
    for row in BOILING_WATER:
        sea = row.minutes[0]
        added = (5, 5, 10) if sea < 20 else (5, 10, 15)
        assert row.minutes[1:] == tuple(sea + more for more in added), row.key
        assert 5 <= sea <= 85
        assert (row.dial_psi, row.weighted_psi, row.is_pressure) == ((), (), False)


def test_time_never_falls_with_altitude_and_pressure_rises() -> None:
    for row in rows():
        assert all(low <= high for low, high in pairwise(row.minutes)), row.key
        known = [psi for psi in row.dial_psi if psi is not None]
        assert all(low < high for low, high in pairwise(known)), row.key


def test_a_larger_jar_is_never_shorter() -> None:
    alike: dict[tuple[object, ...], list[ProcessRow]] = defaultdict(list)
    for row in rows():
        alike[(table(row), row.food, row.form, row.pack, row.dial_psi, row.weighted_psi)].append(row)
    compared = 0
    for same in alike.values():
        same.sort(key=lambda row: SIZES.index(row.jar))
        for small, large in pairwise(same):
            compared += 1
            assert all(a <= b for a, b in zip(small.minutes, large.minutes, strict=True)), large.key
    assert compared > 150


def test_more_pressure_is_never_longer() -> None:
    """The tomato tables offer long and low, or short and high, for the same jar: each line a full process."""
    alike: dict[tuple[str, ...], dict[int, int]] = defaultdict(dict)
    for row in ACID_PRESSURE:
        psi = row.dial_psi[0] or row.weighted_psi[0]
        assert psi is not None
        alike[(row.food, row.form, row.pack, row.jar)][psi] = row.minutes[0]
    several = [lines for lines in alike.values() if len(lines) > 1]
    assert len(several) == 24
    for lines in several:
        assert set(lines) == {6, 11, 15}
        assert lines[6] > lines[11] > lines[15]


def test_low_acid_food_has_no_boiling_water_row_and_acid_is_named_in_every_acid_row() -> None:
    assert not {row.food for row in LOW_ACID} & {row.food for row in BOILING_WATER}
    for row in BOILING_WATER:
        assert row.acidification, row.key
    for row in LOW_ACID:
        assert bool(row.acidification) == (row.food == "crab"), row.key


@pytest.mark.parametrize("food", ["tomatoes", "tomato juice", "tomato sauce", "tomatillos"])
def test_tomatoes_need_acid_also_under_pressure(food: str) -> None:
    """Univ. of Missouri GH1456 and NCHFP 2015."""
    for row in rows_for(food):
        assert "bottled lemon juice 1 tbsp per pint or 2 tbsp per quart" in row.acidification


def test_half_gallons_are_for_apple_and_grape_juice_only() -> None:
    assert {row.food for row in rows() if row.jar is JarSize.HALF_GALLON} == {"apple juice", "grape juice"}


def test_poultry_without_bones_takes_longer() -> None:
    """Guide 5: 75/90 without bones, 65/75 with."""
    for food in ("chicken", "rabbit", "turkey, duck, goose or game birds"):
        minutes = {(row.form, row.jar.value): row.minutes[0] for row in rows_for(food)}
        assert minutes == {
            ("pieces without bones", "pint"): 75,
            ("pieces without bones", "quart"): 90,
            ("pieces with bones", "pint"): 65,
            ("pieces with bones", "quart"): 75,
        }
        assert {row.headspace_in for row in rows_for(food)} == {1.25}


def test_no_process_names_known_foods_and_reasons() -> None:
    keys = {known.key for known in foods()}
    for entry in no_process():
        assert set(entry.foods) <= keys, entry.foods
        assert entry.reason and entry.instead and entry.source
        assert entry.evidence in {"page", "memory"}
        assert entry.methods in {"all", "boiling water"}
        if entry.methods == "boiling water":
            for food in entry.foods:
                forms = [row for row in rows_for(food) if row.form == entry.preparation]
                assert forms and all(row.is_pressure for row in forms), food


def test_a_food_that_may_never_be_jarred_has_no_row() -> None:
    """An entry for the food however prepared goes with a food that reaches no process."""
    by_key = {known.key: known for known in foods()}
    for entry in no_process():
        if entry.methods == "all" and not entry.preparation:
            assert all(by_key[food].process_food is None for food in entry.foods), entry.foods
