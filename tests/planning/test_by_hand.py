"""Wishes of the cook: kept where they can be, answered where not, and never a way round anything."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.allocation.check import check
from stillroom.allocation.problem import Activity, Allocation, Run
from stillroom.allocation.solve import solve
from stillroom.household.folder import Folder, read_folder
from stillroom.model.recipe import Use
from stillroom.model.wish import GIVE_AWAY, Wish, WishKind
from stillroom.planning.by_hand import wish_words, with_wishes
from stillroom.planning.pipeline import known_recipes, work_out
from stillroom.planning.split import Split, split

DEMO = Path(__file__).parents[2] / "examples" / "demo"
DAYS = 3
BEANS, TOMATO = "green bean", "tomato"


@cache
def folder() -> Folder:
    """Tomatoes and beans of the invented week over three days."""
    whole = read_folder(DEMO, days=DAYS)
    kept = tuple(arrival for arrival in whole.arrivals if arrival.food in (BEANS, TOMATO))
    return replace(whole, arrivals=kept)


@cache
def plain(days: int = DAYS) -> Split:
    return split(folder(), known_recipes(folder()), days)


def day(number: int) -> date:
    return folder().start + timedelta(days=number)


def wished(*wishes: Wish, days: int = DAYS) -> tuple[Split, Allocation]:
    task = with_wishes(plain(days), wishes, folder().start)
    found = solve(task.problem, seconds=20.0)
    assert check(task.problem, found) == ()
    return task, found


def of(task: Split, found: Allocation, recipe: str = "", use: str = "", food: str = "") -> list[tuple[Run, float]]:
    """Runs of a recipe or use with the grams they take of a food."""
    uses = {activity.key: activity.use for activity in task.problem.activities}
    runs = []
    for run in found.runs:
        is_of = run.activity in task.variants and task.variants[run.activity].recipe.key == recipe
        grams = sum(taken.grams for taken in run.taken if not food or taken.item == f"{food}, fresh")
        if (is_of if recipe else uses[run.activity] == use) and grams > 0:
            runs.append((run, grams))
    return runs


def test_it_works() -> None:
    """So much and more is dried, although jars are worth more without the wish."""
    wish = Wish(WishKind.AT_LEAST, food=TOMATO, use=Use.DRY.value, mass_g=4000)
    without = sum(grams for _, grams in of(*wished(), use=Use.DRY.value, food=TOMATO))
    with_it = sum(grams for _, grams in of(*wished(wish), use=Use.DRY.value, food=TOMATO))
    assert with_it >= 4000 > without


def test_nothing_of_a_food_goes_to_a_use() -> None:
    wish = Wish(WishKind.NO_USE, food=BEANS, use=Use.JAR.value)
    assert of(*wished(), use=Use.JAR.value, food=BEANS)
    assert not of(*wished(wish), use=Use.JAR.value, food=BEANS)
    assert of(*wished(wish), use=Use.JAR.value, food=TOMATO)


def test_a_recipe_on_a_day_and_not_on_another() -> None:
    recipe = "beans_green_jarred"
    for number in range(DAYS):
        on = Wish(WishKind.ON, recipe=recipe, day=day(number), mass_g=3000)
        grams = sum(grams for run, grams in of(*wished(on), recipe=recipe) if run.day == number)
        assert grams >= 3000
        off = Wish(WishKind.NOT_ON, recipe=recipe, day=day(number))
        assert not [run for run, _ in of(*wished(off), recipe=recipe) if run.day == number]
    assert not of(*wished(Wish(WishKind.NO_RECIPE, recipe=recipe)), recipe=recipe)


def test_any_amount_on_a_day_will_do() -> None:
    wish = Wish(WishKind.ON, recipe="tomato_sauce_jarred", day=day(2))
    assert [run for run, _ in of(*wished(wish), recipe="tomato_sauce_jarred") if run.day == 2]


def test_given_away_if_somebody_wants_it_so() -> None:
    wish = Wish(WishKind.AT_LEAST, food=TOMATO, use=GIVE_AWAY, mass_g=9000)
    given = of(*wished(wish, days=4), use=GIVE_AWAY, food=TOMATO)  # after three days it would be past its clock
    assert sum(grams for _, grams in given) >= 9000 - 1


def test_a_meal_is_worth_more() -> None:
    """All food wished into jars: dinner is served all the same."""
    wishes = [Wish(WishKind.AT_LEAST, food=food, use=Use.JAR.value, mass_g=12_000) for food in (BEANS, TOMATO)]
    before, after = wished()[1], wished(*wishes)[1]
    assert after.unmet == before.unmet


def test_the_reason_is_told() -> None:
    found = work_out(
        folder(),
        days=DAYS,
        seconds=8.0,
        progress=lambda _: None,
        is_explained=False,
        wishes=[
            Wish(WishKind.AT_LEAST, food=TOMATO, use=Use.DRY.value, mass_g=2000),
            Wish(WishKind.AT_LEAST, food=TOMATO, use=Use.JAR.value, mass_g=90_000),
            Wish(WishKind.AT_LEAST, food=BEANS, use=Use.CURE.value, mass_g=1000),
            Wish(WishKind.ON, recipe="apple_slices_jarred", day=day(1)),
            Wish(WishKind.NO_USE, food=BEANS, use=Use.FREEZE.value),
            Wish(WishKind.AT_LEAST, food=BEANS, use=GIVE_AWAY, mass_g=1000),
        ],
    ).plan
    dried, jarred, cured, apples, frozen, given = found.wishes
    assert dried.is_kept
    assert any("as you wished" in run.reasons for run in found.runs if run.use is Use.DRY)
    assert not jarred.is_kept
    assert jarred.why == "Only 24 kg tomato comes in within this plan."
    assert "No recipe here has green bean cured" in cured.why
    assert not apples.is_kept
    assert "Apple slices in jars" in apples.why
    assert frozen.is_kept
    assert "outlasts this plan" in given.why


RECIPES = sorted({variant.recipe.key for variant in plain().variants.values()})
FOODS = st.sampled_from([BEANS, TOMATO, "pumpkin", "pork leg"])
USES = st.sampled_from([use.value for use in Use] + [GIVE_AWAY])
DATES = st.integers(-1, DAYS).map(day)
WISHES = st.one_of(
    st.builds(Wish, st.just(WishKind.NO_USE), food=FOODS, use=USES),
    st.builds(Wish, st.just(WishKind.AT_LEAST), food=FOODS, use=USES, mass_g=st.floats(1, 50_000)),
    st.builds(Wish, st.just(WishKind.NO_RECIPE), recipe=st.sampled_from(RECIPES)),
    st.builds(Wish, st.just(WishKind.NOT_ON), recipe=st.sampled_from(RECIPES), day=DATES),
    st.builds(Wish, st.just(WishKind.ON), recipe=st.sampled_from(RECIPES), day=DATES, mass_g=st.floats(0, 50_000)),
)


@given(st.lists(WISHES, max_size=5))
@settings(max_examples=60, deadline=None)
def test_a_wish_never_opens_anything(wishes: list[Wish]) -> None:
    """Whatever is wished: every way in the split was there before, with no more days, food or room."""
    before, after = plain(), with_wishes(plain(), wishes, folder().start)
    known = {activity.key: activity for activity in before.problem.activities}
    for activity in after.problem.activities:
        old = known[activity.key.split("/wished ")[0]]
        assert set(activity.days) <= set(old.days)
        assert activity.largest <= old.largest
        for needed, was in zip(activity.inputs, old.inputs, strict=True):
            assert set(needed.items) <= set(was.items)
            assert needed.grams_per_level == was.grams_per_level
        assert _work(activity) == _work(old)
        if activity.key in after.variants:
            assert replace(after.variants[activity.key], key=old.key) == before.variants[old.key]
    rest = replace(after.problem, activities=(), targets=())
    assert rest == replace(before.problem, activities=(), targets=())


def _work(activity: Activity) -> tuple[object, ...]:
    """All that a way asks of kitchen and people."""
    return activity.usages, activity.pools, activity.outputs, activity.smallest, activity.level_step, activity.family


@pytest.mark.parametrize(
    "fields",
    [
        {"kind": WishKind.NO_USE, "food": "tomato"},
        {"kind": WishKind.AT_LEAST, "food": "tomato", "use": "jar"},
        {"kind": WishKind.AT_LEAST, "food": "tomato", "use": "jar", "mass_g": -1},
        {"kind": WishKind.NO_RECIPE},
        {"kind": WishKind.NO_RECIPE, "recipe": "stew", "food": "tomato", "use": "jar"},
        {"kind": WishKind.ON, "recipe": "stew"},
        {"kind": WishKind.NO_RECIPE, "recipe": "stew", "day": date(2027, 4, 9)},
    ],
)
def test_half_a_wish_is_none(fields: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="wish"):
        Wish(**fields)  # type: ignore[arg-type]


def test_wishes_that_can_not_both_hold() -> None:
    no_jars = Wish(WishKind.NO_USE, food=TOMATO, use="jar")
    assert no_jars.contradicts(Wish(WishKind.AT_LEAST, food=TOMATO, use="jar", mass_g=1))
    assert not no_jars.contradicts(Wish(WishKind.AT_LEAST, food=TOMATO, use="dry", mass_g=1))
    on = Wish(WishKind.ON, recipe="stew", day=day(0))
    assert on.contradicts(Wish(WishKind.NOT_ON, recipe="stew", day=day(0)))
    assert not on.contradicts(Wish(WishKind.NOT_ON, recipe="stew", day=day(1)))
    assert on.contradicts(Wish(WishKind.NO_RECIPE, recipe="stew"))
    assert not on.contradicts(no_jars)


def test_words() -> None:
    names = {"stew": "Stew"}
    assert wish_words(Wish(WishKind.NO_USE, food=TOMATO, use="jar"), names) == "no tomato in jars"
    assert wish_words(Wish(WishKind.ON, recipe="stew", day=date(2027, 4, 9)), names) == "Stew on Friday 9 April"
