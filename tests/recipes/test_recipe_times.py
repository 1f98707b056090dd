"""Times that a text names are times that the plan keeps; jars low in acid boil long enough at any height."""

import math
import re

import pytest

from stillroom.model.household import Place
from stillroom.model.process import CannerKind
from stillroom.model.recipe import Recipe, Step, Use
from stillroom.recipes.reader import all_recipes
from stillroom.tables import vocabulary

RECIPES = all_recipes()
HIGHEST_M = 2438.4  # 8,000 ft, the last band of the process tables
BOIL = "boil 10 minutes, and 1 minute more for every 300 m above 300 m, before tasting"
LONGEST_BOIL_MIN = 10 + math.ceil((HIGHEST_M - 300) / 300)
HEATING_MIN = 8  # a pot from the shelf to the boil: common practice, no source
ACID = {
    food
    for recipe in RECIPES
    if recipe.process and CannerKind.BOILING_WATER in recipe.process.canners
    for food in [product.food for product in recipe.products]
}
ACID_GROUPS = {"fruit", "fruit product", "sugar and sweet"}
BOUGHT_ACID = {"sauerkraut", "tomato, canned", "tomato, crushed canned"}


def is_acid(food: str) -> bool:
    return food in ACID | BOUGHT_ACID or vocabulary.food(food).group in ACID_GROUPS


def jarred(recipe: Recipe) -> set[str]:
    return {food for line in recipe.ingredients if line.main and "jarred" in line.states for food in line.foods}


JARRED = [recipe for recipe in RECIPES if recipe.use is Use.EAT_NOW and jarred(recipe)]
LOW_ACID = [recipe for recipe in JARRED if not all(is_acid(food) for food in jarred(recipe))]


def test_low_acid_dishes_are_told_from_acid_ones() -> None:
    names = {recipe.key for recipe in LOW_ACID}
    assert {"jarred_vegetable_side", "jarred_meat_hash", "jarred_soup_supper", "stock_vegetable_soup"} <= names
    assert not names & {"fruit_from_the_shelf", "pickle_plate", "salsa_rice", "sauerkraut_side", "tomato_juice_soup"}


@pytest.mark.parametrize("recipe", LOW_ACID, ids=lambda recipe: recipe.key)
def test_low_acid_jars_boil_long_enough_at_every_height(recipe: Recipe) -> None:
    """R081: 10 minutes below 1,000 ft and a minute for each further 1,000 ft, before tasting."""
    (step,) = (step for step in recipe.steps if BOIL in step.text)
    assert step.fixed_min >= LONGEST_BOIL_MIN + HEATING_MIN
    assert any(BOIL in caution for caution in recipe.cautions)


@pytest.mark.parametrize("recipe", LOW_ACID, ids=lambda recipe: recipe.key)
def test_nobody_is_told_a_shorter_boil_of_a_jar(recipe: Recipe) -> None:
    for step in recipe.steps:
        assert not re.search(r"\bten minutes\b|10 minutes and more", step.text)


PARTS = {"": 0.0, "¼": 0.25, "½": 0.5, "¾": 0.75}
WORDS = {"an": 1, "one": 1, "two": 2, "three": 3, "five": 5, "ten": 10, "fifteen": 15, "twenty": 20, "thirty": 30}
NUMBER = rf"(?:\d+[¼½¾]?|[¼½¾]|half an|{'|'.join(WORDS)})"
DURATION = re.compile(rf"\b({NUMBER})(?:(?: to | or |–|-)({NUMBER}))? (minutes?|hours?)\b")
# Not the time of the step: a limit, a stretch of it, now and then in between, for each piece, or only where needed.
NOT_ITS_TIME = re.compile(r"within|the last|a side|if there are|over an hour")


def number(written: str) -> float:
    if written == "half an":
        return 0.5
    return (
        WORDS[written] if written in WORDS else float(written.rstrip("¼½¾") or 0) + PARTS[written.lstrip("0123456789")]
    )


def durations_min(text: str) -> list[tuple[float, float]]:
    """(shortest, longest) [min] of each duration that the text names."""
    found = []
    for low, high, unit in DURATION.findall(text):
        factor = 60 if unit.startswith("hour") else 1
        found.append((number(low) * factor, number(high or low) * factor))
    return found


def test_durations_are_read() -> None:
    assert durations_min("Simmer 2½ hours.") == [(150, 150)]
    assert durations_min("Boil 25 to 30 minutes, cool half an hour, ¾ hour.") == [(25, 30), (30, 30), (45, 45)]
    assert durations_min("Boil ten minutes, heat to 74 °C.") == [(10, 10)]


def waits_after(recipe: Recipe, step: Step) -> float:
    return max((a.min_lag_min for s in recipe.steps for a in s.after if a.step == step.key), default=0)


TIMED = [
    (recipe, step, durations_min(step.text)[0])
    for recipe in RECIPES
    for step in recipe.steps
    if len(durations_min(step.text)) == 1 and not NOT_ITS_TIME.search(step.text)
]


@pytest.mark.parametrize(("recipe", "step", "named"), TIMED, ids=[f"{r.key}-{s.key}" for r, s, _ in TIMED])
def test_a_step_takes_the_time_its_text_names(recipe: Recipe, step: Step, named: tuple[float, float]) -> None:
    """Never shorter; an hour and more not above a quarter longer (below, most of it is bringing to the boil)."""
    shortest, longest = named
    if waits_after(recipe, step) >= shortest:
        return  # the food waits, nobody works
    assert step.fixed_min + recipe.smallest * step.per_unit_min >= shortest
    if longest >= 60:
        assert step.fixed_min <= 1.25 * longest


def test_many_steps_name_their_time() -> None:
    assert len(TIMED) > 40


@pytest.mark.parametrize("key", ["sauerkraut", "dill_cucumbers_fermented"])
def test_ferments_are_planned_for_a_cool_room(key: str) -> None:
    """Fermentation table: 3 to 4 weeks at 70 to 75 °F, 5 to 6 at 60 (dills: 55) to 65 °F."""
    (recipe,) = (recipe for recipe in RECIPES if recipe.key == key)
    (product,) = recipe.products
    assert product.ready_day == 6 * 7
    text = " ".join(step.text for step in recipe.steps)
    assert "on the counter" in text
    assert "into the fridge" in text
    assert "taste from week 3 when warm (21-24 °C)" in text
    assert any("24 °C while" in caution for caution in recipe.cautions)


@pytest.mark.parametrize("food", ["stew", "soup", "casserole", "curry", "meat soup", "leftovers"])
def test_cooked_dishes_of_the_fridge_are_heated_to_74_degrees(food: str) -> None:
    """R106: 165 °F."""
    dishes = [
        recipe
        for recipe in RECIPES
        for line in recipe.ingredients
        if recipe.use is Use.EAT_NOW and line.main and food in line.foods and "fresh" in line.states
    ]
    assert dishes
    for recipe in dishes:
        assert "74 °C" in recipe.steps[-1].text
        assert recipe.products[0].place is Place.COUNTER
