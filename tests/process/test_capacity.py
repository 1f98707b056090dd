"""Jars in a canner, against the published capacities (R037) and against a plain count of circles."""

from __future__ import annotations

import math

import pytest

from stillroom.errors import Refusal
from stillroom.model.kitchen import Canner, JarKind
from stillroom.model.process import CannerKind
from stillroom.process.capacity import capacity, hexagonal_count, loads, per_layer

# The pots are named by their volume only. Inside diameter 12 in is common practice, no source; the height follows from
# the volume: 16 US quarts in a 12 in cylinder are 208 mm high, 22.5 quarts 292 mm.
INSIDE_MM = 304.8
QUART_JAR = JarKind("quart", 946.0, 95.0, 172.0, 0, 0)  # 3.75 in by 6.75 in, within the published measures
PINT_JAR = JarKind("pint", 473.0, 81.0, 128.0, 0, 0)  # 3.2 in by 5.05 in, within the published measures


def pot(quarts: float, kind: CannerKind = CannerKind.DIAL, inside_mm: float = INSIDE_MM) -> Canner:
    height_mm = quarts * 946_352.946 / (math.pi * (inside_mm / 2) ** 2)
    return Canner(f"{quarts:g}-quart canner", kind, inside_mm, height_mm)


def test_a_16_quart_canner_holds_7_quarts_or_8_to_9_pints_in_one_layer() -> None:
    """R037: Clemson HGIC; Michigan State 01600948."""
    quarts, pints = capacity(pot(16), QUART_JAR), capacity(pot(16), PINT_JAR)
    assert (quarts.jars, quarts.layers) == (7, 1)
    assert (pints.jars in (8, 9), pints.layers) == (True, 1)


def test_a_22_quart_canner_holds_7_quarts_or_up_to_18_pints_in_two_layers() -> None:
    """R037: NCHFP FAQ as reprinted."""
    quarts, pints = capacity(pot(22.5), QUART_JAR), capacity(pot(22.5), PINT_JAR)
    assert (quarts.jars, quarts.layers) == (7, 1)
    assert pints.layers == 2
    assert 16 <= pints.jars <= 18


def test_boiling_water_needs_an_inch_over_the_lids_and_room_to_boil() -> None:
    just = JarKind("jar", 500.0, 80.0, 208 - 10 - 50.8, 0, 0)
    taller = JarKind("jar", 500.0, 80.0, 208 - 10 - 50.0, 0, 0)
    boiler = Canner("boiler", CannerKind.BOILING_WATER, INSIDE_MM, 208.0)
    assert capacity(boiler, just).layers == 1
    assert capacity(boiler, taller).jars == 0
    assert capacity(Canner("pressure", CannerKind.DIAL, INSIDE_MM, 208.0), taller).layers == 1


def test_no_third_layer_and_no_jar_that_does_not_fit() -> None:
    low = JarKind("low", 100.0, 70.0, 40.0, 0, 0)
    assert capacity(pot(22.5), low).layers == 2
    wide = JarKind("wide", 5000.0, 400.0, 100.0, 0, 0)
    assert (capacity(pot(16), wide).jars, capacity(pot(16), wide).layers) == (0, 0)


def test_a_pot_that_does_not_hold_four_quarts_is_no_pressure_canner() -> None:
    """R033: NCHFP; Clemson HGIC."""
    with pytest.raises(Refusal, match="4 quart jars"):
        capacity(pot(6, inside_mm=200), PINT_JAR)
    assert capacity(pot(8, CannerKind.BOILING_WATER, inside_mm=200), PINT_JAR).jars > 0


@pytest.mark.parametrize(("n", "ratio"), [(1, 1.0), (2, 2.0), (3, 1 + 2 / 3**0.5), (4, 1 + 2**0.5), (7, 3.0)])
def test_one_layer_by_closed_forms(n: int, ratio: float) -> None:
    """Jars touch at R/r; each jar has 1 mm of clearance around it."""
    jar_mm = 80.0
    inside_mm = 2 * ratio * (jar_mm / 2 + 1)
    assert per_layer(inside_mm + 0.05, jar_mm) >= n
    assert per_layer(inside_mm - 0.2, jar_mm) < n


@pytest.mark.parametrize("ratio", [0.5, 1.0, 3.0, 5.0, 5.2, 7.0, 9.5])
def test_the_hexagonal_count_is_a_packing_that_can_be_built(ratio: float) -> None:
    """Never more area than the pot has at the densest packing, and exactly 1, 7 and 19 at ratios 1, 3 and 5."""
    counted = hexagonal_count(ratio)
    assert counted <= ratio**2 * math.pi / math.sqrt(12) + 1e-9 or counted <= 1
    assert {1.0: 1, 3.0: 7, 5.0: 19}.get(ratio, counted) == counted
    assert hexagonal_count(ratio + 1) >= counted


def test_many_small_jars() -> None:
    assert per_layer(304.8, 40.0) > 20


@pytest.mark.parametrize(
    ("jars", "held", "expected"),
    [(0, 7, (0, 0, 0)), (1, 7, (1, 1, 6)), (7, 7, (1, 7, 0)), (8, 7, (2, 1, 6)), (20, 7, (3, 6, 1))],
)
def test_the_last_load_is_filled_with_jars_of_water(jars: int, held: int, expected: tuple[int, int, int]) -> None:
    got = loads(jars, capacity(pot(16), QUART_JAR))
    assert capacity(pot(16), QUART_JAR).jars == held
    assert (got.loads, got.last_load_jars, got.water_jars) == expected


def test_water_fills_the_layer_that_was_begun() -> None:
    two_layers = capacity(pot(22.5), PINT_JAR)
    got = loads(two_layers.per_layer + 2, two_layers)
    assert (got.loads, got.water_jars) == (1, two_layers.per_layer - 2)


@pytest.mark.parametrize("jars", [-1, 3])
def test_nonsense_loads(jars: int) -> None:
    nothing = capacity(pot(16), JarKind("wide", 5000.0, 400.0, 100.0, 0, 0))
    with pytest.raises(ValueError, match="loads"):
        loads(jars, nothing if jars > 0 else capacity(pot(16), QUART_JAR))
