"""Two foods in one canner load: only where one process serves both whole, and always the longer one."""

from dataclasses import replace
from datetime import date, time

import pytest

from stillroom.model.kitchen import Canner, Freezer, JarKind, Kitchen, Person, Presence
from stillroom.model.process import CannerKind, JarSize
from stillroom.model.recipe import Recipe, Use
from stillroom.model.work import Attention
from stillroom.planning.shared_loads import with_shared_loads
from stillroom.planning.tasks import Batch, timetable_problem
from stillroom.planning.variants import variants
from stillroom.process.capacity import fit_in_one_load
from stillroom.recipes.reader import all_recipes
from stillroom.timetable.check import check
from stillroom.timetable.solve import solve

START = date(2027, 4, 9)
HOURS = (Presence(START, time(8), time(13)),)
QUART = JarKind("quart", JarSize.QUART.volume_ml, 99, 175, 14, 12)
PINT = JarKind("pint", JarSize.PINT.volume_ml, 81, 127, 14, 12)
POT = Canner("pot", CannerKind.BOILING_WATER, 318, 275)
PRESSURE = Canner("big", CannerKind.DIAL, 318, 275, 0.0, date(2027, 2, 1))
KITCHEN = Kitchen(
    altitude_m=0,
    people=(Person("cook", HOURS), Person("other", HOURS)),
    canners=(POT, PRESSURE),
    burners=4,
    oven_trays=2,
    freezer=Freezer(200, 150),
    fridge_free_l=50,
    dryer_trays=6,
    has_mixer=False,
    jars=(QUART, PINT),
)
RECIPES = {recipe.key: recipe for recipe in all_recipes()}


def load(recipe: str, jars: int, jar: JarKind = QUART, day: int = 0) -> Batch:
    kitchen = replace(KITCHEN, jars=(jar,))
    variant = next(v for v in variants([RECIPES[recipe]], kitchen, [], START)[0] if v.jar_work is not None)
    assert variant.jar_work is not None
    return Batch(recipe, (variant.key, day), day, jars / variant.jar_work.jars_per_unit, variant)


def minutes(batch: Batch) -> int:
    assert batch.variant.jar_work is not None
    return batch.variant.jar_work.card.minutes


def test_two_fruits_share_the_longer_time() -> None:
    """Pears 25 min and apple slices 20 min in quarts in boiling water at sea level (USDA guide 2)."""
    pears, apples = load("pears_jarred", 4), load("apple_slices_jarred", 3)
    assert (minutes(pears), minutes(apples)) == (25, 20)
    host, guest = with_shared_loads([apples, pears])
    assert (host.key, guest.key, guest.host) == ("pears_jarred", "apple_slices_jarred", "pears_jarred")
    problem, _ = timetable_problem([host, guest], KITCHEN, [], START, 1)
    heats = [task for task in problem.tasks if task.label.startswith("pot: ") and task.attention is Attention.NEAR]
    assert len(heats) == 1
    assert heats[0].modes[0].minutes >= 25 + 15
    assert "4 jars and 3 of Apple slices in jars" in heats[0].label
    assert "25 min" in heats[0].label
    assert "alone Apple slices in jars needs 20 min" in heats[0].label
    found = solve(problem, seconds=3.0, workers=1)
    assert check(problem, found) == ()
    at = {placed.task: placed for placed in found.placed}
    for batch in (host, guest):
        fills = [lag for lag in problem.lags if lag.after == heats[0].key and lag.before.startswith(f"{batch.key}:")]
        assert fills  # each food's filled jars keep their own short wait
        assert all(at[heats[0].key].start - at[lag.before].end <= 10 for lag in fills)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (load("pears_jarred", 4), load("apple_slices_jarred", 4)),  # eight quarts: more than the pot holds
        (load("pears_jarred", 4), load("apple_slices_jarred", 3, day=1)),
        (load("pears_jarred", 4), load("apple_slices_jarred", 3, PINT)),  # two layers are higher than the pot
        (load("pears_jarred", 4), load("beef_cubes_raw_jarred", 3)),  # another canner
        (load("pears_jarred", 3), replace(load("pears_jarred", 3), key="more")),  # one food: the split's business
        (load("fish_raw_jarred", 3, PINT), load("beef_cubes_raw_jarred", 3, PINT)),
        (
            load("beef_cubes_raw_jarred", 3, PINT),
            load("carrots_jarred", 3, PINT),
        ),  # 75 and 25 min
    ],
)
def test_what_may_not_share_does_not(first: Batch, second: Batch) -> None:
    assert all(not batch.host and batch.guest is None for batch in with_shared_loads([first, second]))


def test_no_shared_load_gives_any_food_less_than_its_own_process() -> None:
    """All pairs of jar recipes in this kitchen, pints and quarts."""
    jarred: list[Recipe] = [recipe for recipe in RECIPES.values() if recipe.use is Use.JAR]
    found, _ = variants(jarred, KITCHEN, [], START)
    loads = [Batch(v.key, (v.key, 0), 0, 2 / v.jar_work.jars_per_unit, v) for v in found if v.jar_work is not None]
    shared = 0
    for place, one in enumerate(loads):
        for other in loads[place + 1 :]:
            host, *rest = with_shared_loads([one, other])
            if host.guest is None:
                continue
            (guest,), a, b = rest, host.variant.jar_work, host.guest.variant.jar_work
            assert a is not None
            assert b is not None
            shared += 1
            assert guest.host == host.key
            assert a.card.minutes >= b.card.minutes
            assert a.card.pressure_psi == b.card.pressure_psi
            assert a.canner == b.canner
            assert "fish" not in a.card.row.food + b.card.row.food
    assert shared > 20


def test_layers_of_unlike_jars_add_up() -> None:
    """A pot of 275 mm: 25 mm of water over the lids and 25 mm to boil leave one layer of quarts or of pints."""
    assert fit_in_one_load(POT, ((QUART, 4), (QUART, 3)))
    assert not fit_in_one_load(POT, ((QUART, 4), (PINT, 3)))
    tall = replace(POT, inside_height_mm=400)
    assert fit_in_one_load(tall, ((QUART, 4), (PINT, 3)))
    assert not fit_in_one_load(tall, ((QUART, 4), (QUART, 4), (PINT, 3)))
    assert not fit_in_one_load(replace(POT, inside_diameter_mm=80), ((QUART, 1),))
