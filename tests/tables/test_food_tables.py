"""Composition, measures, yields, keeping times and portions: plausible, and about foods we know."""

from __future__ import annotations

import pytest

from stillroom.errors import InputError, SourceError
from stillroom.tables import composition, densities, keeping, portions, processes, yields
from stillroom.tables.csv_rows import CsvRow
from stillroom.tables.vocabulary import foods

ALL_KEEPING = [row for found in keeping._by_food().values() for row in found]
KEYS = [known.key for known in foods()]
UNCOUNTED = {  # acetic acid, alcohol, carbon dioxide are not in the five figures
    *("vinegar, distilled", "vinegar, cider", "vinegar, red wine", "vinegar, balsamic"),
    *("white wine", "red wine", "black pepper", "baking soda"),
}

SPICES = {known.key for known in foods() if known.group in {"seasoning and acid", "herb"}} | {
    "cocoa powder",
    "wheat bran",
}


def test_compositions_add_up() -> None:
    """Water, protein, fat, carbohydrate and ash make 95 to 105 g, but for acid, alcohol and gas."""
    off = set()
    for row in composition.compositions():
        total = row.water_g + row.protein_g + row.fat_g + row.carb_g + row.ash_g
        if not 95 <= total <= 105:
            off.add(row.food)
        assert min(row.water_g, row.protein_g, row.fat_g, row.carb_g, row.ash_g) >= 0, row.food
    assert off <= UNCOUNTED
    assert {"white wine", "baking soda"} <= off


def test_compositions_are_plausible() -> None:
    for row in composition.compositions():
        assert row.fibre_g is None or 0 <= row.fibre_g <= row.carb_g + 1, row.food
        assert row.sugar_g is None or 0 <= row.sugar_g <= row.carb_g + 1, row.food
        assert row.sodium_mg is None or 0 <= row.sodium_mg <= 40_000, row.food
        assert 0 <= row.energy_kj <= 3_780, row.food


def test_energy_follows_from_fat_protein_and_carbohydrate() -> None:
    """Atwater: 17 kJ per g of protein and digestible carbohydrate, 8 of fibre, 37 of fat; within a quarter for food."""
    for row in composition.compositions():
        fibre = row.fibre_g or 0
        atwater = 17 * (row.protein_g + row.carb_g - fibre) + 8 * fibre + 37 * row.fat_g
        if row.energy_kj > 400 and row.food not in SPICES:
            assert atwater == pytest.approx(row.energy_kj, rel=0.25), row.food


def test_a_known_composition_and_an_unknown_one() -> None:
    """USDA SR28 NDB 11124, carrots, raw: water 88.29, protein 0.93, fat 0.24, carbohydrate 9.58, ash 0.97."""
    carrot = composition.of("carrot")
    assert (carrot.water_g, carrot.protein_g, carrot.fat_g, carrot.carb_g) == (88.29, 0.93, 0.24, 9.58)
    with pytest.raises(InputError, match="No composition is published for “soup”"):
        composition.of("soup")


def test_measures_are_plausible() -> None:
    counted = 0
    for key in KEYS:
        for row in densities.measures(key):
            counted += 1
            assert 0 < row.grams < 30_000, (key, row)
            assert row.g_per_ml is None or 0.02 < row.g_per_ml < 2.3, (key, row)
    assert counted == 1107
    assert densities.measures("soup") == ()


def test_volumes_give_known_densities() -> None:
    """Water 1.0, white sugar 0.85, honey 1.42 g/ml: handbook values within some percent."""
    for food, density in (("water", 1.0), ("sugar, white", 0.85), ("honey", 1.43), ("milk, whole", 1.03)):
        found = [row.g_per_ml for row in densities.measures(food) if row.g_per_ml is not None]
        assert found
        assert all(value == pytest.approx(density, rel=0.03) for value in found), (food, found)


def test_a_bushel_of_cranberries_is_not_a_barrel() -> None:
    """One copied chart gives 100 lb, the weight of a barrel; a bushel of 35.2 l cannot weigh 45 kg of berries."""
    assert not any(row.measure == "bushel" for row in densities.measures("cranberry"))


def test_bushels_of_extension_tables() -> None:
    """NCHFP averages: a bushel of apples 48 lb, of pears 50 lb."""
    for key, pounds in (("apple", 48), ("pear", 50)):
        bushels = [row.grams / 453.59237 for row in densities.measures(key) if "bushel" in row.measure]
        assert any(weight == pytest.approx(pounds, rel=0.03) for weight in bushels), (key, bushels)


def test_yields_are_shares_and_derived_ones_say_so() -> None:
    counted = 0
    for key in KEYS:
        for row in yields.yields(key):
            counted += 1
            assert row.fraction is None or 0 < row.fraction <= 1.06 or row.kind == "cook", row
            assert row.fraction is not None or row.value, row
            if row.kind == "trim" and row.fraction is not None:
                assert row.fraction <= 1, row
    assert counted == 537
    assert yields.yields("soup") == ()


def test_drying_leaves_the_solids() -> None:
    """W_dry = W_fresh · (1 − m_fresh)/(1 − m_dry): apple flesh 85 % to 20 % gives 19 % (rule R166)."""
    apple = [row.fraction for row in yields.yields("apple") if row.kind == "dry"]
    assert any(fraction == pytest.approx(0.19, abs=0.03) for fraction in apple)


def test_a_yield_without_a_figure_is_an_error_of_ours() -> None:
    cells = dict.fromkeys(yields.COLUMNS, "x") | {"yield_fraction": "", "value": ""}
    with pytest.raises(SourceError, match=r"yields\.csv, row 3, column yield_fraction: is empty and so is value"):
        yields._yield(CsvRow("yields.csv", 3, cells))


def test_produce_per_load_is_about_printed_foods_and_fits_together() -> None:
    """Seven quarts take seven times one quart, within what the guide rounds."""
    printed = {(row.food, form) for row in processes.rows() for form in (row.form, "")}
    for food, amounts in yields.produce_per_load().items():
        for amount in amounts:
            assert (food, amount.form) in printed
            assert amount.lb_per_7_quarts or amount.lb_per_9_pints
            if amount.lb_per_7_quarts and amount.lb_per_quart:
                assert amount.lb_per_7_quarts / 7 == pytest.approx(amount.lb_per_quart, rel=0.15), food
            if amount.lb_per_7_quarts and amount.lb_per_9_pints and food != "grapefruit and orange":
                assert amount.lb_per_9_pints / amount.lb_per_7_quarts == pytest.approx(9 / 14, rel=0.1), food


@pytest.mark.parametrize(
    ("food", "quarts", "pints", "quart"),
    [("snap beans", 14, 9, 2), ("asparagus", 24.5, 16, 3.5), ("peaches", 17.5, 11, 2.5), ("berries", 12, 8, 1.75)],
)
def test_produce_per_load_of_the_guide(food: str, quarts: float, pints: float, quart: float) -> None:
    """Michigan State Univ. files 01600883, 01600038; guide averages for fruit.

    A copy that gives snap beans 4 lb a quart contradicts its own 14 lb for seven.
    """
    (amount,) = yields.produce_per_load()[food]
    assert (amount.lb_per_7_quarts, amount.lb_per_9_pints, amount.lb_per_quart) == (quarts, pints, quart)


def test_keeping_times_are_plausible() -> None:
    for row in ALL_KEEPING:
        low, high = row.min_days, row.max_days
        assert low is None or high is None or 0 <= low <= high <= 3650, row
        assert row.place in {"pantry", "refrigerator", "freezer"}, row
    assert len(ALL_KEEPING) == 950


def test_zero_days_means_not_recommended() -> None:
    zero = [row for row in ALL_KEEPING if row.max_days == 0]
    assert zero
    assert all(row.min_days == 0 and "not recommended" in row.evidence for row in zero)


def test_raw_poultry_and_ground_meat_keep_a_day_or_two_in_the_refrigerator() -> None:
    """USDA FSIS: 1-2 days, as rule R122 says."""
    for food in ("chicken, whole", "pork, ground"):
        found = keeping.keeping(food, "raw", "refrigerator")
        assert found
        assert {(row.min_days, row.max_days) for row in found} == {(1, 2)}
    assert keeping.keeping("unicorn", "raw", "refrigerator") == ()
    assert keeping.keeping("carrot", "raw", "attic") == ()


def test_every_disagreement_about_fresh_ham_is_kept() -> None:
    found = keeping.keeping("pork leg", "raw", "refrigerator")
    assert {row.max_days for row in found} == {5, 7}
    assert all("disagrees" in row.evidence.lower() for row in found)


def test_portions_are_plausible_and_child_factors_grow() -> None:
    factors = []
    for row in portions.portions():
        assert 0 < row.low <= row.high, row
        if row.kind == "child_factor" and row.eater.startswith("age "):
            factors.append((int(row.eater[4:]), row.low))
        if row.unit in {"g", "ml"}:
            assert 15 <= row.low <= row.high <= 500, row
    assert [age for age, _ in sorted(factors)] == list(range(2, 19))
    assert [share for _, share in sorted(factors)] == sorted(share for _, share in factors)


def test_adult_serves_of_the_australian_guidelines() -> None:
    """NHMRC 2013: 75 g of vegetables, 150 g of fruit, 65 g of cooked red meat."""
    adult = {
        (row.food_group, row.low)
        for row in portions.portions()
        if row.kind == "serve" and row.eater == "adult standard serve"
    }
    assert {("vegetable", 75), ("fruit", 150), ("red meat", 65)} <= adult
