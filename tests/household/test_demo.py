"""The demo household has what makes a week tight, says that it is invented, and can be fed by our recipes."""

from datetime import timedelta
from pathlib import Path

import pytest

from stillroom import units
from stillroom.household.folder import Folder, read_folder, warnings
from stillroom.model.process import CannerKind, JarSize
from stillroom.recipes.reader import all_recipes

DEMO = Path(__file__).parents[2] / "examples" / "demo"


@pytest.fixture(scope="module")
def demo() -> Folder:
    return read_folder(DEMO)


def mass_kg(demo: Folder, food: str) -> float:
    return sum(arrival.mass_g for arrival in demo.arrivals if arrival.food == food) / 1000


def test_every_file_says_that_it_is_invented(demo: Folder) -> None:
    assert demo.household.invented
    files = [file for file in DEMO.rglob("*") if file.is_file()]
    assert len(files) >= 5
    for file in files:
        assert "invented" in file.read_text(encoding="utf-8").lower(), file.name


def test_the_week_starts_on_a_friday(demo: Folder) -> None:
    assert (demo.start.isoformat(), demo.start.weekday(), demo.days) == ("2027-04-09", 4, 7)


def test_lumps_come_in_on_several_days(demo: Folder) -> None:
    assert len(demo.arrivals) >= 8
    assert len({arrival.day for arrival in demo.arrivals}) >= 3
    assert 34 <= mass_kg(demo, "pork carcass") <= 38
    assert mass_kg(demo, "tomato") == 24
    assert mass_kg(demo, "green bean") == 12
    assert mass_kg(demo, "cabbage") == 8
    tomato = next(arrival for arrival in demo.arrivals if arrival.food == "tomato")
    assert tomato.keep_days <= 3
    birds = next(arrival for arrival in demo.arrivals if arrival.food == "chicken, whole")
    assert birds.keep_days <= 2
    pumpkin = next(arrival for arrival in demo.arrivals if arrival.food == "pumpkin")
    assert pumpkin.keep_days > demo.days  # it can wait


def test_the_freezer_and_the_lids_are_tight(demo: Folder) -> None:
    freezer = demo.kitchen.freezer
    assert freezer.capacity_l == 220
    assert 2 / 3 <= freezer.used_l / freezer.capacity_l <= 0.85
    assert any(jar.lids < jar.count for jar in demo.kitchen.jars)
    assert any(jar.volume_ml > JarSize.QUART.volume_ml for jar in demo.kitchen.jars)  # no process may be used


def test_the_kitchen_is_the_one_described(demo: Folder) -> None:
    kitchen = demo.kitchen
    assert 2000 < units.feet(kitchen.altitude_m) < 4000  # the second band of a dial gauge
    assert (kitchen.burners, kitchen.oven_trays) == (4, 2)
    dial = next(canner for canner in kitchen.canners if canner.kind is CannerKind.DIAL)
    assert dial.gauge_error_psi == 0.5
    assert dial.gauge_tested_on is not None
    assert dial.gauge_tested_on.year == demo.start.year
    assert any(canner.kind is CannerKind.BOILING_WATER for canner in kitchen.canners)


def test_the_adults_keep_different_hours(demo: Folder) -> None:
    adults = [person for person in demo.kitchen.people if not person.is_child]
    assert len(adults) == 2
    assert adults[0].presence != adults[1].presence
    weekday = demo.start + timedelta(days=3)
    first_hours = [min(span.start for span in person.presence if span.day == weekday) for person in adults]
    assert max(first_hours).hour >= 16  # one works away until late in the afternoon
    assert sum(eater.portion < 1 for eater in demo.household.eaters) >= 2


def test_each_day_has_dinner_and_each_second_day_bread(demo: Folder) -> None:
    by_role = {
        role: [(meal.day - demo.start).days for meal in demo.household.meals if role in meal.roles]
        for role in ("main", "bread")
    }
    assert set(by_role["main"]) == set(range(7))
    assert len(by_role["bread"]) >= 3
    assert all(later - earlier == 2 for earlier, later in zip(by_role["bread"], by_role["bread"][1:], strict=False))


def test_somebody_is_there_to_cook(demo: Folder) -> None:
    assert not [caution for caution in warnings(demo) if "No adult" in caution]


def test_recipes_know_what_to_do_with_every_food(demo: Folder) -> None:
    mains = {food for recipe in all_recipes() for line in recipe.ingredients if line.main for food in line.foods}
    assert {arrival.food for arrival in demo.arrivals} <= mains
    assert {lot.food for lot in demo.larder} <= mains
    assert {target.food for target in demo.household.targets} <= mains
