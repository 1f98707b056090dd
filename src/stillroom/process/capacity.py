"""How many jars of one kind a canner holds, and how many loads that makes.

A layer is a packing of equal circles in a circle; the ratios for up to 20 jars are published, beyond that a hexagonal
arrangement is counted out, which is a safe lower bound because it can be built. Measure your own jars and canner:
published jar measures differ by half an inch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from stillroom import units
from stillroom.errors import Refusal
from stillroom.model.kitchen import Canner, JarKind
from stillroom.model.process import JarSize
from stillroom.tables.circles import circles_that_fit
from stillroom.tables.jars import jars as jar_measures

CLEARANCE_MM = 1.0  # around each jar, so that it can be lifted; common practice, no source
RACK_MM = 10.0  # under every layer; common practice, no source: measure your own
WATER_OVER_LIDS_MM = units.MM_PER_IN  # boiling water: 1 in at least (R073)
BOIL_ROOM_MM = units.MM_PER_IN  # above that, so that it can boil; common practice, no source
MOST_LAYERS = 2  # two layers with a rack between are allowed (R038); nothing is said of three
SMALLEST_QUARTS = 4  # a pot that holds fewer is no pressure canner (R033)


@dataclass(frozen=True, slots=True)
class LoadCapacity:
    """What one load holds."""

    jars: int
    per_layer: int
    layers: int


@dataclass(frozen=True, slots=True)
class Loads:
    """How a number of jars goes through the canner; `water_jars` fill the last layer of the last load (R036)."""

    loads: int
    last_load_jars: int
    water_jars: int


def capacity(canner: Canner, jar: JarKind) -> LoadCapacity:
    """How many jars of this kind fit the canner; 0 when one doesn't.

    Raises Refusal for a pressure pot that doesn't hold four quart jars: no process was tested in one (R033).
    """
    if canner.kind.is_pressure and not _holds_four_quarts(canner):
        raise Refusal(
            f"{canner.name} does not hold {SMALLEST_QUARTS} quart jars upright: so small a pot heats and cools too "
            "fast for any tested process and is no pressure canner."
        )
    return _fit(canner, jar.diameter_mm, jar.height_mm)


def fit_in_one_load(canner: Canner, wanted: Sequence[tuple[JarKind, int]]) -> bool:
    """Whether so many jars of each kind go into one load; jars of two kinds never stand in one layer."""
    counts: dict[JarKind, int] = {}
    for jar, count in wanted:
        counts[jar] = counts.get(jar, 0) + count
    layers, height_mm = 0, 0.0
    for jar, count in counts.items():
        in_layer = per_layer(canner.inside_diameter_mm, jar.diameter_mm)
        if in_layer == 0:
            return False
        many = math.ceil(count / in_layer)
        layers += many
        height_mm += many * (jar.height_mm + RACK_MM)
    return layers <= MOST_LAYERS and height_mm <= _room_mm(canner)


def loads(jars: int, capacity: LoadCapacity) -> Loads:
    """How many loads `jars` jars make, and with how many jars of water the last one is filled up."""
    if jars < 0 or capacity.jars <= 0:
        raise ValueError(f"{jars} jars can't go into loads of {capacity.jars}")
    if jars == 0:
        return Loads(0, 0, 0)
    full, rest = divmod(jars, capacity.jars)
    last = rest or capacity.jars
    water = -last % capacity.per_layer
    return Loads(full + (rest > 0), last, water)


def per_layer(canner_diameter_mm: float, jar_diameter_mm: float) -> int:
    """Jars that stand side by side in one layer, each with its working clearance."""
    ratio = (canner_diameter_mm / 2) / (jar_diameter_mm / 2 + CLEARANCE_MM)
    return max(circles_that_fit(ratio), hexagonal_count(ratio))


def hexagonal_count(ratio: float) -> int:
    """Unit circles of a hexagonal arrangement inside a circle of radius `ratio`, the best of three centres."""
    centres = ((0.0, 0.0), (1.0, 0.0), (1.0, 1 / math.sqrt(3)))
    return max(_lattice_points_within(ratio - 1, x, y) for x, y in centres)


def _lattice_points_within(radius: float, centre_x: float, centre_y: float) -> int:
    if radius < 0:
        return 0
    reach = math.ceil(radius) + 2
    return sum(
        math.hypot(2 * i + j - centre_x, math.sqrt(3) * j - centre_y) <= radius
        for i in range(-2 * reach, 2 * reach + 1)
        for j in range(-reach, reach + 1)
    )


def _fit(canner: Canner, jar_diameter_mm: float, jar_height_mm: float) -> LoadCapacity:
    in_layer = per_layer(canner.inside_diameter_mm, jar_diameter_mm)
    layers = min(MOST_LAYERS, max(0, math.floor(_room_mm(canner) / (jar_height_mm + RACK_MM))))
    return LoadCapacity(in_layer * layers, in_layer if layers else 0, layers if in_layer else 0)


def _room_mm(canner: Canner) -> float:
    """Height that jars may take."""
    if canner.kind.is_pressure:
        return canner.inside_height_mm
    return canner.inside_height_mm - WATER_OVER_LIDS_MM - BOIL_ROOM_MM


def _holds_four_quarts(canner: Canner) -> bool:
    """Measured with the slimmest quart jar that is published, so that only a pot beyond doubt is refused."""
    quart = next(jar for jar in jar_measures() if jar.size is JarSize.QUART)
    slim_mm, low_mm = quart.min_diameter_in * units.MM_PER_IN, quart.min_height_in * units.MM_PER_IN
    return _fit(canner, slim_mm, low_mm).jars >= SMALLEST_QUARTS
