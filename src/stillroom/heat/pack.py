"""What stands in the jar, as the physics sees it: a solid, a liquid that turns over, or both where nobody knows.

Every figure without a source here is a judgement and stands with its range; the range goes into the band.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom import units
from stillroom.heat.diffusivity import diffusivity
from stillroom.heat.heating_kind import HeatingKind, heating_kind
from stillroom.model.process import CannerKind, ProcessCard
from stillroom.physics.conduction import overall_w_m2k
from stillroom.physics.jars import JarGeometry, jar_from_outside, jar_from_volume, measured_jar
from stillroom.physics.uncertainty import ConductionFood, ConvectionFood, Spread
from stillroom.quantities.waiting import COOLEST_HOT_FILL_C
from stillroom.tables.jars import jars

STEAM_FILM_W_M2K, WATER_FILM_W_M2K = 5000.0, 1500.0  # condensing steam, boiling water: textbooks, from memory
RACK_SHARE = 0.5  # of the film under a jar that stands on a rack: judgement
LID_W_M2K = 0.0  # insulated: cautious, as a lid that passes heat lets the food under it cool sooner (tests)
INSIDE_FILM_W_M2K = Spread(150.0, 300.0, 600.0)  # liquid that turns over in a jar: from memory, no source
LAG_FACTOR = Spread(0.9, 1.1, 1.5)  # jh of loose packs, pieces included: from memory, no source
HEAT_CAPACITY_J_M3K = 4.0e6  # of a watery pack: water 4.1e6 near 90 °C (Choi & Okos), pieces a little less
HOW = {
    HeatingKind.CONDUCTION: "as a solid",
    HeatingKind.CONVECTION: "by liquid that turns over",
    HeatingKind.BETWEEN: "as a solid or by liquid that turns over",
}
LOOSE_BASIS = "heat through glass and liquid estimated; no measured figure for glass jars could be read"
HEADSPACE_ERROR_MM = 6.0  # a quarter of an inch either way: judgement
SAME_JAR_ML = 3.0
SEEN = {
    "seen": "pages disagree: measure yours",
    "assumed": "common proportions: measure yours",
    "measured": "as measured",
}
# Boiled and filled at once, on the kitchen table: judgement, no source.
HOT_FILL_C = Spread(COOLEST_HOT_FILL_C, 85.0, 95.0)
RAW_FILL_C = {  # judgement, no source: boiling liquid over raw pieces; raw food as it comes; either
    HeatingKind.CONVECTION: Spread(30.0, 50.0, 65.0),
    HeatingKind.CONDUCTION: Spread(5.0, 15.0, 25.0),
    HeatingKind.BETWEEN: Spread(5.0, 35.0, 65.0),
}


@dataclass(frozen=True, slots=True)
class Pack:
    """One or two ways in which the jar may heat, and the words for what was assumed."""

    ways: tuple[ConductionFood | ConvectionFood, ...]
    jar_ml: float
    fill_temp_c: Spread
    heats: str  # "as a solid: raw meat without added liquid"
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Filling:
    """What is put into which jar."""

    food: str  # vocabulary key
    process_food: str
    form: str
    pack: str
    jar_ml: float
    headspace_in: float
    is_in_steam: bool
    inside_diameter_mm: float | None = None  # where the household measured its jar


def filling_of(
    card: ProcessCard, jar_ml: float, canner: CannerKind, *, inside_diameter_mm: float | None = None
) -> Filling:
    """What the card puts into a jar of that volume [ml], in that canner."""
    return Filling(
        food=card.food,
        process_food=card.row.food,
        form=card.row.form,
        pack=card.pack,
        jar_ml=jar_ml,
        headspace_in=card.headspace_in,
        is_in_steam=canner is not CannerKind.BOILING_WATER,
        inside_diameter_mm=inside_diameter_mm,
    )


def pack_of(filling: Filling) -> Pack:
    """The jar as the physics takes it."""
    kind, because = heating_kind(filling.process_food, filling.form, filling.pack)
    jar = jar_geometry(filling.jar_ml, filling.inside_diameter_mm)
    solid, basis = _solid(filling, jar)
    loose = _loose(filling, jar)
    ways: tuple[ConductionFood | ConvectionFood, ...] = (solid, loose)
    if kind is HeatingKind.CONDUCTION:
        ways = (solid,)
    elif kind is HeatingKind.CONVECTION:
        ways, basis = (loose,), LOOSE_BASIS
    fill = HOT_FILL_C if filling.pack == "hot" else RAW_FILL_C[kind]
    radii = f"inside radius {jar.min_radius_mm:.0f} to {jar.max_radius_mm:.0f} mm ({SEEN[jar.evidence]})"
    assumed = (f"jar of {jar.nominal_ml:.0f} ml, {radii}", f"filled at {fill.low:.0f} to {fill.high:.0f} °C", basis)
    return Pack(ways, filling.jar_ml, fill, f"{HOW[kind]}: {because}", assumed)


def jar_geometry(volume_ml: float, inside_diameter_mm: float | None = None) -> JarGeometry:
    """The jar of that nominal volume [ml]: as measured, else with the printed range of radii, else as jars are."""
    if inside_diameter_mm is not None:
        return measured_jar(f"{volume_ml:.0f} ml", volume_ml, inside_diameter_mm)
    for jar in jars():
        if abs(jar.volume_ml - volume_ml) <= SAME_JAR_ML:
            return jar_from_outside(jar.name, jar.volume_ml, jar.min_diameter_in, jar.max_diameter_in)
    return jar_from_volume(f"{volume_ml:.0f} ml", volume_ml)


def _film_w_m2k(filling: Filling) -> float:
    return STEAM_FILM_W_M2K if filling.is_in_steam else WATER_FILM_W_M2K


def _headspace_mm(filling: Filling) -> Spread:
    likely_mm = filling.headspace_in * units.MM_PER_IN
    return Spread(max(0.0, likely_mm - HEADSPACE_ERROR_MM), likely_mm, likely_mm + HEADSPACE_ERROR_MM)


def _solid(filling: Filling, jar: JarGeometry) -> tuple[ConductionFood, str]:
    heat = diffusivity(filling.food)
    film_w_m2k = _film_w_m2k(filling)
    found = ConductionFood(
        diffusivity_m2_s=heat.spread_m2_s,
        radius_mm=Spread(jar.min_radius_mm, jar.radius_mm, jar.max_radius_mm),
        headspace_mm=_headspace_mm(filling),
        inside_height_mm=jar.height_mm,
        conductivity_w_mk=heat.conductivity_w_mk,
        side_w_m2k=float(overall_w_m2k(film_w_m2k, jar.wall_mm)),
        base_w_m2k=float(overall_w_m2k(film_w_m2k * RACK_SHARE, jar.wall_mm)),
        top_w_m2k=LID_W_M2K,
    )
    low, high = (value * 1e7 for value in (heat.spread_m2_s.low, heat.spread_m2_s.high))
    return found, f"diffusivity {low:.2f} to {high:.2f} × 10⁻⁷ m²/s ({heat.basis})"


def _loose(filling: Filling, jar: JarGeometry) -> ConvectionFood:
    """fh of a stirred liquid behind glass:  fh = ln 10 · ρ cp V / (U A),  heated through side and base."""
    column_mm = max(jar.height_mm - filling.headspace_in * units.MM_PER_IN, jar.radius_mm)

    def fh_min(inside_w_m2k: float, radius_mm: float) -> float:
        depth_m = radius_mm / (2 + radius_mm / column_mm) / 1000  # volume by heated surface
        overall = 1 / (1 / inside_w_m2k + 1 / float(overall_w_m2k(_film_w_m2k(filling), jar.wall_mm)))
        return math.log(10) * HEAT_CAPACITY_J_M3K * depth_m / overall / 60

    fh = Spread(
        fh_min(INSIDE_FILM_W_M2K.high, jar.min_radius_mm),
        fh_min(INSIDE_FILM_W_M2K.likely, jar.radius_mm),
        fh_min(INSIDE_FILM_W_M2K.low, jar.max_radius_mm),
    )
    return ConvectionFood(fh, LAG_FACTOR)
