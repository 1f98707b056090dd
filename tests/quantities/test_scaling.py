"""Scaling: even batches within the limits, nothing lost, acid never rounded down, cure never up."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.model.household import Place
from stillroom.model.recipe import Ingredient, Product, Recipe, Step, Use
from stillroom.model.work import Attention
from stillroom.quantities.bench import STEPS_G, Rounding, bench_g, mass_text, rounding_of
from stillroom.quantities.scaling import batches_for, scale, units_for

KRAUT = Recipe(
    key="kraut",
    name="Kraut",
    use=Use.FERMENT,
    summary="invented for this test",
    unit="1 kg of cabbage",
    ingredients=(
        Ingredient(("salt",), 20.0, "20 g salt"),
        Ingredient(("cabbage", "red cabbage"), 1000.0, "1 kg cabbage", main=True),
    ),
    smallest=2,
    largest=12,
    batch_reason="what fits one crock",
    steps=(Step("shred", "Shred.", 5, 4, Attention.HANDS), Step("wait", "Wait.", 20_000, 0, Attention.FREE)),
    products=(Product("kraut", "crock", Place.CELLAR, 950.0, 180, "invented"),),
)


def test_units_from_what_arrived() -> None:
    assert units_for(KRAUT, 9000) == 9
    assert units_for(KRAUT, 9000, "red cabbage") == 9
    assert units_for(KRAUT, 60, "salt") == 3
    with pytest.raises(InputError, match="it holds: salt, cabbage"):
        units_for(KRAUT, 60, "beef")


def test_without_a_main_ingredient_the_first_counts() -> None:
    bread = replace(KRAUT, ingredients=(Ingredient(("wheat flour, bread",), 500.0, "500 g flour"),))
    assert units_for(bread, 1500) == 3


@pytest.mark.parametrize("available_g", [0, -1, float("nan"), float("inf")])
def test_no_food_no_units(available_g: float) -> None:
    with pytest.raises(InputError):
        units_for(KRAUT, available_g)


def test_an_ingredient_without_mass_cannot_lead() -> None:
    weightless = replace(KRAUT, ingredients=(Ingredient(("salt",), 0.0, "to taste"),))
    with pytest.raises(InputError, match="gives no mass"):
        units_for(weightless, 60)


@pytest.mark.parametrize(
    ("units", "count", "each", "left"),
    [(2, 1, 2, 0), (12, 1, 12, 0), (12.5, 2, 6.25, 0), (24, 2, 12, 0), (25, 3, 25 / 3, 0), (36.0, 3, 12, 0)],
)
def test_even_batches(units: float, count: int, each: float, left: float) -> None:
    found = batches_for(KRAUT, units)
    assert (found.count, found.units, found.left_over_units) == pytest.approx((count, each, left))


def test_too_little_is_said_with_the_reason() -> None:
    with pytest.raises(InputError, match="what fits one crock"):
        batches_for(KRAUT, 1.9)


def test_a_gap_between_one_and_two_batches_leaves_food_over() -> None:
    """Limits 3 to 4: 5 units are too much for one batch and too little for two."""
    narrow = replace(KRAUT, smallest=3, largest=4)
    found = batches_for(narrow, 5)
    assert (found.count, found.units, found.left_over_units) == (1, 4, 1)
    assert any("1 kg is left over" in said for said in scale(narrow, 5).unscaled)
    no_main = replace(narrow, ingredients=(KRAUT.ingredients[0],))
    assert any("1 × 1 kg of cabbage is left over" in said for said in scale(no_main, 5).unscaled)


def test_a_scaled_recipe() -> None:
    made = scale(KRAUT, 18)
    assert made.batches.count == 2
    assert [line.mass_g for line in made.ingredients] == [180, 9000]
    assert [step.minutes for step in made.steps] == [41, 20_000]  # 5 + 4 × 9; waiting does not grow
    assert made.products_g == (("kraut", pytest.approx(8550)),)


def test_what_does_not_grow_is_said_for_jars() -> None:
    jarred = replace(KRAUT, use=Use.JAR)
    said = " ".join(scale(jarred, 9).unscaled)
    assert "process time" in said
    assert "per jar" not in said
    soured = replace(jarred, ingredients=(*KRAUT.ingredients, Ingredient(("lemon juice",), 15.0, "1 tbsp")))
    assert "per jar" in " ".join(scale(soured, 9).unscaled)


@given(st.floats(1, 10), st.floats(1, 8), st.floats(0.5, 500))
def test_nothing_is_lost_and_every_batch_is_sensible(smallest: float, ratio: float, units: float) -> None:
    recipe = replace(KRAUT, smallest=smallest, largest=smallest * ratio)
    if units < smallest * 0.999999:
        with pytest.raises(InputError):
            batches_for(recipe, units)
        return
    found = batches_for(recipe, max(units, smallest))
    assert found.count * found.units + found.left_over_units == pytest.approx(max(units, smallest))
    assert smallest * 0.999 <= found.units <= recipe.largest * 1.001
    assert found.left_over_units <= recipe.largest
    assert found.count >= 1


@given(st.floats(2, 200), st.floats(1, 50))
def test_scale_then_unscale(units: float, factor: float) -> None:
    one = {
        line.ingredient.foods[0]: line.mass_g * scale(KRAUT, units).batches.count
        for line in scale(KRAUT, units).ingredients
    }
    big = scale(KRAUT, units * factor)
    for line in big.ingredients:
        whole = line.mass_g * big.batches.count
        assert whole / factor == pytest.approx(one[line.ingredient.foods[0]])


@given(st.floats(0.01, 1e5))
def test_rounding_for_the_bench(mass_g: float) -> None:
    assert bench_g(mass_g, Rounding.UP) >= mass_g * (1 - 1e-7)
    assert bench_g(mass_g, Rounding.DOWN) <= mass_g * (1 + 1e-7)
    if mass_g >= 0.5:
        assert bench_g(mass_g) == pytest.approx(mass_g, rel=0.051)
    assert bench_g(mass_g) > 0
    assert bench_g(bench_g(mass_g)) == bench_g(mass_g)


def test_steps_get_coarser_with_mass() -> None:
    assert [step for _, step in STEPS_G] == sorted(step for _, step in STEPS_G)
    assert bench_g(0.001) == 0.001
    assert bench_g(0) == 0
    with pytest.raises(ValueError, match="finite"):
        bench_g(float("nan"))


@pytest.mark.parametrize(
    ("food", "rounding"),
    [
        ("lemon juice, bottled", Rounding.UP),
        ("vinegar, distilled", Rounding.UP),
        ("citric acid", Rounding.UP),
        ("curing salt", Rounding.DOWN),
        ("salt", Rounding.NEAREST),
        ("cabbage", Rounding.NEAREST),
    ],
)
def test_to_which_side(food: str, rounding: Rounding) -> None:
    assert rounding_of(food) is rounding


def test_masses_in_words() -> None:
    assert mass_text(7.6) == "7.6 g"
    assert mass_text(12_350) == "12.35 kg"
