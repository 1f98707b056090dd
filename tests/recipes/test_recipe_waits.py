"""No recipe lets food wait longer than is safe. Figures typed again from the rules table."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from stillroom.model.household import Place
from stillroom.model.recipe import After, Recipe, Use
from stillroom.model.work import Attention
from stillroom.recipes.reader import all_recipes
from stillroom.recipes.step_text import is_cold
from stillroom.tables import vocabulary

RECIPES = {recipe.key: recipe for recipe in all_recipes()}
PERISHABLE = {"pork", "beef", "lamb and game", "poultry", "fish", "dairy", "eggs", "stock and soup", "dish"}
FAT = {"butter, unsalted", "butter, salted", "lard"}  # in a dough or a pan, not what can spoil in hours
TWO_HOURS_MIN = 120  # R103: perishables out of the cold at most 2 h
COOLING_STARTS_MIN = 30  # R095 allows 2 h to 21 °C: the ice bath starts well within it
RAW_IN_FRIDGE_MIN = 2 * 1440  # R122: ground meat and poultry 2 days


def perishable(recipe: Recipe) -> bool:
    foods = {food for i in recipe.ingredients for food in i.foods[:1] if not i.optional} - FAT
    return any(vocabulary.food(food).group in PERISHABLE for food in foods)


def waits(recipe: Recipe) -> Iterator[After]:
    return (after for step in recipe.steps for after in step.after)


def too_long(recipe: Recipe) -> list[str]:
    """Waits of perishable food beyond the two-hour rule, or beyond two days in the cold."""
    found = []
    for after in waits(recipe):
        limit = RAW_IN_FRIDGE_MIN if is_cold(after.hold, after.hold_c) else TWO_HOURS_MIN
        if after.hold == "dryer closed":
            continue  # dry by then
        if after.max_lag_min is None or after.max_lag_min > limit:
            found.append(f"{recipe.key}: after {after.step}")
    return found


@pytest.mark.parametrize("key", [key for key, recipe in RECIPES.items() if perishable(recipe)])
def test_perishable_food_never_waits_beyond_the_two_hour_rule(key: str) -> None:
    assert not too_long(RECIPES[key])


def test_the_check_itself_sees_an_endless_and_a_warm_wait() -> None:
    stew = RECIPES["stew_frozen"]
    pack = stew.steps[-1]
    endless = replace(pack.after[0], max_lag_min=None)
    warm = replace(pack.after[0], hold="room", hold_c=20.0)
    for after in (endless, warm):
        assert too_long(replace(stew, steps=(*stew.steps[:-1], replace(pack, after=(after,)))))


def test_perishable_is_told_by_the_food() -> None:
    assert perishable(RECIPES["meat_stew"])
    assert perishable(RECIPES["milk_loaf_overnight"])
    assert not perishable(RECIPES["bread_overnight"])
    assert not perishable(RECIPES["roast_roots"])


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda r: r.key)
def test_every_wait_out_of_the_cold_ends_and_says_why(recipe: Recipe) -> None:
    for after in waits(recipe):
        assert after.max_lag_min is not None
        assert after.reason or recipe.use is Use.JAR
        if after.hold == "hot":
            assert after.max_lag_min <= 60


@pytest.mark.parametrize(
    "key",
    [
        "stew_frozen",
        "pork_stock_frozen",
        "beef_stock_frozen",
        "chicken_stock_frozen",
        "chicken_stock_fresh",
        "chicken_stock_jarred",
        "beef_stock_jarred",
    ],
)
def test_big_pots_are_cooled_in_ice_at_once_then_chilled(key: str) -> None:
    """R095: 57 to 21 °C within 2 h, to 5 °C within 6 h in all; R105: shallow pans, ice bath, stirring."""
    recipe = RECIPES[key]
    (cool,) = [step for step in recipe.steps if step.key == "cool"]
    assert cool.attention is not Attention.FREE
    assert [need.equipment for need in cool.needs] == ["ice bath"]
    (after,) = cool.after
    assert after.hold == "hot"
    assert after.max_lag_min is not None
    assert after.max_lag_min <= COOLING_STARTS_MIN
    assert cool.fixed_min + cool.per_unit_min * recipe.largest + after.max_lag_min <= TWO_HOURS_MIN
    assert all(after.hold == "fridge" for after in waits(recipe) if after.step == "cool")


def test_no_other_recipe_keeps_a_big_pot_of_meat_or_bones_without_cooling_it() -> None:
    cooked = [
        recipe
        for recipe in RECIPES.values()
        if recipe.use in (Use.FREEZE, Use.STOCK)
        and perishable(recipe)
        and any(step.attention is Attention.NEAR for step in recipe.steps)
    ]
    assert cooked
    for recipe in cooked:
        assert any(step.key == "cool" for step in recipe.steps) or recipe.key == "lard_rendered", recipe.key


@pytest.mark.parametrize("recipe", [r for r in RECIPES.values() if r.process], ids=lambda r: r.key)
def test_jars_go_hot_or_cold_into_the_canner_without_delay(recipe: Recipe) -> None:
    assert recipe.process
    steps = {step.key: step for step in recipe.steps}
    (cycle,) = [step for step in recipe.steps if step.is_canner_cycle]
    (to_canner,) = cycle.after
    fill = steps[to_canner.step]
    assert fill.repeat_per_load
    assert fill.attention is Attention.HANDS
    assert to_canner.max_lag_min is not None
    assert to_canner.max_lag_min <= 10
    (to_fill,) = fill.after
    assert to_fill.max_lag_min is not None
    if recipe.process.pack == "hot":
        assert to_fill.hold == "hot"
        assert to_fill.max_lag_min <= 20
    elif is_cold(to_fill.hold, to_fill.hold_c):  # raw meat: out of the fridge while it is packed and carried over
        assert fill.fixed_min + to_canner.max_lag_min <= 60
    (unload,) = [step for step in recipe.steps if any(after.step == cycle.key for after in step.after)]
    assert unload.repeat_per_load
    assert unload.fixed_min <= 10


def test_dry_beans_are_soaked_twelve_to_eighteen_hours_and_boiled_half_an_hour() -> None:
    """Guide 4: soak 12-18 h, boil 30 min."""
    recipe = RECIPES["beans_dried_jarred"]
    boil = next(step for step in recipe.steps if step.key == "boil")
    assert (boil.after[0].min_lag_min, boil.after[0].max_lag_min) == (720, 1080)
    assert "boil 30 minutes" in boil.text
    assert boil.fixed_min >= 30


@pytest.mark.parametrize("recipe", [r for r in RECIPES.values() if r.use is Use.DRY], ids=lambda r: r.key)
def test_drying_is_one_step_without_a_break(recipe: Recipe) -> None:
    """R157: never interrupt drying."""
    (dry,) = [step for step in recipe.steps if any(need.equipment == "dryer" for need in step.needs)]
    assert dry.attention is Attention.FREE
    assert dry.fixed_min >= 180
    assert dry.per_unit_min == 0


def test_jerky_is_heated_to_71_degrees_before_it_is_dried() -> None:
    """R173: 160 °F (71 °C) inside, wet heat, before drying; R121: marinade in the fridge."""
    heat, dry = (next(s for s in RECIPES["jerky_dried"].steps if s.key == key) for key in ("heat", "dry"))
    assert "71 °C" in heat.text
    assert [after.step for after in dry.after] == ["heat"]
    assert is_cold(heat.after[0].hold, heat.after[0].hold_c)


@pytest.mark.parametrize("recipe", [r for r in RECIPES.values() if perishable(r)], ids=lambda r: r.key)
def test_nothing_perishable_is_left_on_the_counter(recipe: Recipe) -> None:
    for product in recipe.products:
        if product.place is Place.COUNTER:
            assert product.container == "plate" or recipe.use is Use.BAKE
