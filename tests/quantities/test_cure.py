"""Cures against the worked examples of the rules (R195 to R197), the printed limits, and by property."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError, Refusal
from stillroom.quantities.cure import CureAmounts, CureOrder, Mix, amounts, ppm
from stillroom.quantities.cure_advice import cautions, days
from stillroom.quantities.curing_limits import CuredProduct, CureMethod, limit, limits

US_MIX = Mix(0.0625)


def order(product: str, method: str, meat_g: float = 1000, salt: float = 0.025, mix: Mix = US_MIX) -> CureOrder:
    wet = method in ("brine", "pumped")
    return CureOrder(
        CuredProduct(product),
        CureMethod(method),
        meat_g,
        mix,
        salt,
        brine_g=meat_g if wet else 0.0,
        pump_fraction=0.1 if method == "pumped" else 0.0,
    )


def test_worked_example_a_dry_belly() -> None:
    """R195: belly 4.00 kg, 120 ppm: 0.480 g nitrite, 7.68 g of 6.25 % mix; salt 100 g, 7.2 g of it in the mix."""
    weighed = amounts(order("bacon", "dry", 4000), 120)
    assert weighed.nitrite_g == pytest.approx(0.480)
    assert weighed.mix_g == pytest.approx(7.68)
    assert weighed.salt_total_g == pytest.approx(100)
    assert weighed.salt_in_mix_g == pytest.approx(7.2)
    assert weighed.plain_salt_g == pytest.approx(92.8)
    assert weighed.mix_bench_g == 7.6  # never more than 7.68 on a 0.1 g scale


def test_worked_example_b_pumped() -> None:
    """R196: 1000 water, 110 salt, 124 sugar, 32 of a 5.88 % mix = 1266 g; 10 % pump gives 148.6 ppm; salt 11.07 %."""
    salt_share = (110 + 32 * (1 - 0.0588)) / 1266
    assert salt_share == pytest.approx(0.1107, abs=5e-5)
    pumped = CureOrder(
        CuredProduct.WHOLE_MUSCLE,
        CureMethod.PUMPED,
        5000,
        Mix(0.0588),
        salt_share * 0.1,
        sugar_fraction=124 / 1266 * 0.1,
        brine_g=1266,
        pump_fraction=0.10,
    )
    assert ppm(pumped, 32) == pytest.approx(148.6, abs=0.05)
    weighed = amounts(pumped, ppm(pumped, 32))
    assert weighed.nitrite_g == pytest.approx(1.8816)
    assert weighed.plain_salt_g == pytest.approx(110)
    assert weighed.sugar_g == pytest.approx(124)
    assert weighed.water_g == pytest.approx(1000)


def test_worked_example_c_brine_to_equilibrium() -> None:
    """R197: 3.00 kg pork + 3.00 kg brine, 150 ppm: 0.900 g nitrite, 14.4 g mix; salt 120 g less 13.5 g in the mix."""
    brined = CureOrder(CuredProduct.WHOLE_MUSCLE, CureMethod.BRINE, 3000, US_MIX, 0.02, brine_g=3000)
    weighed = amounts(brined, 150)
    assert weighed.nitrite_g == pytest.approx(0.900)
    assert weighed.mix_g == pytest.approx(14.4)
    assert weighed.salt_total_g == pytest.approx(120)
    assert weighed.salt_in_mix_g == pytest.approx(13.5)
    assert weighed.plain_salt_g == pytest.approx(106.5)
    assert weighed.water_g + weighed.plain_salt_g + weighed.mix_g == pytest.approx(3000)


@pytest.mark.parametrize(("nitrite_ppm", "share"), [(120, 0.00192), (156, 0.00250), (200, 0.00320), (625, 0.0100)])
def test_mix_as_share_of_meat(nitrite_ppm: float, share: float) -> None:
    """R189, for the 6.25 % mix: 120 ppm is 0.192 % of the meat, 156: 0.250, 200: 0.320, 625: 1.00."""
    weighed = amounts(order("dry-aged whole muscle", "dry", 1000, 0.03), nitrite_ppm)
    assert weighed.mix_g / 1000 == pytest.approx(share, rel=0.003)


@pytest.mark.parametrize(
    ("product", "method", "most"),
    [
        ("sausage", "ground", 156),  # R179
        ("dry sausage", "ground", 156),  # R179
        ("whole muscle", "pumped", 200),  # R180
        ("whole muscle", "brine", 200),  # R180
        ("dry-aged whole muscle", "dry", 625),  # R181
        ("bacon", "pumped", 120),  # R182
        ("bacon", "brine", 120),  # R182
        ("bacon", "dry", 200),  # R183
        ("whole muscle", "dry", 200),  # R184, household mixes
    ],
)
def test_limits_as_printed(product: str, method: str, most: float) -> None:
    assert limit(CuredProduct(product), CureMethod(method)).nitrite_ppm == most
    made = order(product, method)
    assert amounts(made, most).ppm == most
    with pytest.raises(Refusal, match=f"limit of {most:g} ppm"):
        amounts(made, most + 0.1)


def test_every_limit_is_covered_above() -> None:
    assert len(limits()) == 9


def test_pumped_bacon_gets_its_ascorbate() -> None:
    """R182: 550 ppm ascorbate or erythorbate go with pumped bacon."""
    weighed = amounts(order("bacon", "pumped", 2000), 120)
    assert weighed.ascorbate_g == pytest.approx(550e-6 * 2000 / 0.1)  # in 2000 g of brine, a tenth of which goes in
    assert amounts(order("bacon", "dry"), 120).ascorbate_g == 0
    assert any("ascorbate" in said for said in cautions(order("bacon", "pumped", 2000), weighed))


@pytest.mark.parametrize("nitrite_fraction", [6.25, 0.000625, 1.0, 0.0, -0.0625, 0.11, float("nan")])
def test_factor_of_a_hundred_is_not_let_in(nitrite_fraction: float) -> None:
    """R193: the handbook writes % where the fraction is meant."""
    with pytest.raises(Refusal, match="read the pack again"):
        Mix(nitrite_fraction)


def test_nitrate_never_in_bacon() -> None:
    """R185; elsewhere at most 500 ppm from a household mix (R184)."""
    two = Mix(0.0625, 0.04)
    with pytest.raises(Refusal, match="nitrate does not go into bacon"):
        amounts(order("bacon", "dry", mix=two), 100)
    with pytest.raises(Refusal, match="nitrate does not go into whole muscle"):
        amounts(order("whole muscle", "dry", mix=two), 100)
    aged = order("dry-aged whole muscle", "dry", salt=0.03, mix=two)
    assert amounts(aged, 156).nitrate_ppm == pytest.approx(156 * 4 / 6.25)
    with pytest.raises(Refusal, match="500 ppm"):
        amounts(order("dry-aged whole muscle", "dry", salt=0.03, mix=Mix(0.0625, 0.09)), 400)
    with pytest.raises(Refusal, match="nitrate"):
        Mix(0.0625, 0.5)


def test_dry_sausage_needs_its_salt() -> None:
    """R200: at least 2.5 % counting the mix."""
    assert amounts(order("dry sausage", "ground", salt=0.025), 150).plain_salt_g > 0
    with pytest.raises(Refusal, match=r"at least 2\.5%"):
        amounts(order("dry sausage", "ground", salt=0.024), 150)


def test_weak_mix_that_brings_too_much_salt() -> None:
    """A European nitrite salt of 0.5 % at 150 ppm is 30 g/kg, nearly all salt: more than 2 %."""
    with pytest.raises(InputError, match=r"alone brings 2\.9[89]% salt"):
        amounts(order("sausage", "ground", salt=0.02, mix=Mix(0.005)), 150)


@pytest.mark.parametrize(
    "changes",
    [
        {"meat_g": 0},
        {"meat_g": float("inf")},
        {"meat_g": float("nan")},
        {"salt_fraction": 0},
        {"salt_fraction": 0.25},
        {"sugar_fraction": -0.1},
        {"sugar_fraction": 0.5},
        {"brine_g": 1000.0},
        {"pump_fraction": 0.1},
        {"method": CureMethod.BRINE},
        {"method": CureMethod.PUMPED, "brine_g": 500.0},
        {"method": CureMethod.PUMPED, "brine_g": 500.0, "pump_fraction": 0.4},
        {"method": CureMethod.PUMPED, "brine_g": 50.0, "pump_fraction": 0.1},
    ],
)
def test_orders_that_are_no_order(changes: dict[str, object]) -> None:
    good: dict[str, object] = {
        "product": CuredProduct.BACON,
        "method": CureMethod.DRY,
        "meat_g": 1000.0,
        "mix": US_MIX,
        "salt_fraction": 0.025,
    }
    with pytest.raises(InputError):
        CureOrder(**{**good, **changes})  # type: ignore[arg-type]


def test_unknown_way_lists_the_known_ones() -> None:
    with pytest.raises(InputError, match="dry, pumped, brine"):
        limit(CuredProduct.BACON, CureMethod.GROUND)


@pytest.mark.parametrize("nitrite_ppm", [0, -5, float("nan"), float("inf")])
def test_no_nitrite_is_no_cure(nitrite_ppm: float) -> None:
    with pytest.raises(InputError, match="more than 0 ppm"):
        amounts(order("bacon", "dry"), nitrite_ppm)


def test_brine_that_would_not_dissolve() -> None:
    with pytest.raises(InputError, match="does not dissolve"):
        amounts(CureOrder(CuredProduct.WHOLE_MUSCLE, CureMethod.BRINE, 5000, US_MIX, 0.04, brine_g=500), 100)


def test_days_by_the_two_rules_of_thumb() -> None:
    """R198: a day per ¼ in and 2 more; R206: 7 days per inch; both memory, so both are said as practice."""
    two_inches = days(50.8)
    assert (two_inches.shorter, two_inches.longer) == (10, 14)
    assert "common practice" in two_inches.note
    for wrong in (0, -1, 151, float("nan")):
        with pytest.raises(InputError):
            days(wrong)


@pytest.mark.parametrize(
    ("made", "nitrite_ppm", "word"),
    [
        (order("bacon", "dry", 5000), 150, "Canada"),  # R187
        (order("bacon", "dry", 5000), 100, "not a full cure"),  # R186
        (order("bacon", "dry", 5000), 30, "no use"),  # R186
        (order("bacon", "dry", 500), 120, "too coarse"),
        (order("dry-aged whole muscle", "dry", 5000, 0.03), 156, "trichinella"),  # R177
        (order("whole muscle", "pumped", 5000), 156, "before and after pumping"),
        (order("whole muscle", "dry", 5000), 156, "2 to 4 °C"),  # R204
    ],
)
def test_cautions(made: CureOrder, nitrite_ppm: float, word: str) -> None:
    assert any(word in said for said in cautions(made, amounts(made, nitrite_ppm)))


@given(
    st.sampled_from([(row.product, row.method) for row in limits()]),
    st.floats(100, 200_000),
    st.floats(0.004, 0.1),
    st.floats(0.005, 0.1),
    st.floats(0.01, 1000),
)
def test_never_above_the_limit_and_salt_adds_up(
    kind: tuple[CuredProduct, CureMethod], meat_g: float, strength: float, salt: float, nitrite_ppm: float
) -> None:
    made = order(kind[0], kind[1], meat_g, salt, Mix(strength))
    most = limit(*kind).nitrite_ppm
    try:
        weighed: CureAmounts = amounts(made, nitrite_ppm)
    except (InputError, Refusal):
        return
    assert ppm(made, weighed.mix_g) == pytest.approx(nitrite_ppm)
    assert ppm(made, weighed.mix_bench_g) <= min(most, nitrite_ppm) * (1 + 1e-6)
    assert weighed.plain_salt_g >= 0
    assert weighed.plain_salt_g + weighed.mix_g * (1 - strength) == pytest.approx(salt * made.basis_g)
    if made.brine_g:
        poured = weighed.water_g + weighed.plain_salt_g + weighed.mix_g + weighed.sugar_g + weighed.ascorbate_g
        assert poured == pytest.approx(made.brine_g)


@given(st.floats(200.001, 1e6))
def test_above_the_limit_is_always_refused(nitrite_ppm: float) -> None:
    with pytest.raises(Refusal):
        amounts(order("bacon", "dry", salt=0.1), nitrite_ppm)
