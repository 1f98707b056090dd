"""Inside sizes of jars as plain cylinders. Makers differ by half an inch: measure the jar where it matters.

No maker's drawing could be read. US jars: outside diameters of general web pages (low quality, mutually inconsistent),
less two walls; metric jars: proportions assumed. The height is the one that holds the nominal volume, so that radius
and height always fit together.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from stillroom import units
from stillroom.errors import InputError

WALL_MM = 3.0  # glass handbooks give 2.5 to 4 mm for jar walls; from memory
HEIGHTS_PER_RADIUS = 3.0  # metric jars: between the 2.3 of the half pint and the 3.7 of the quart; assumed, no source
METRIC_SPREAD = 0.08  # of the radius; assumed, no source
MEASURE = "measure the jar"
FLATTEST, SLENDEREST = 1.0, 10.0  # heights per radius of anything sold as a jar: judgement
PAGES = "Four general web pages on preserving-jar specifications (low quality, mutually inconsistent)"


@dataclass(frozen=True)
class JarGeometry:
    """A jar as a cylinder of its nominal volume; the radius lies between `min_radius_mm` and `max_radius_mm`.

    evidence: "seen" (outside diameter on a page), "assumed" (proportions), or "measured" (by the household).
    """

    name: str
    nominal_ml: float
    radius_mm: float
    min_radius_mm: float
    max_radius_mm: float
    wall_mm: float
    source: str
    evidence: str

    def __post_init__(self) -> None:
        if not 0 < self.min_radius_mm <= self.radius_mm <= self.max_radius_mm or self.nominal_ml <= 0:
            raise ValueError(f"{self.name}: radii must rise from lowest to highest and the volume be positive.")

    @property
    def height_mm(self) -> float:
        """Inside height that holds the nominal volume at the likely radius [mm]."""
        return height_mm(self.nominal_ml, self.radius_mm)


def height_mm(nominal_ml: float, radius_mm: float) -> float:
    """Height of a cylinder of that volume and radius [mm]."""
    return nominal_ml * 1000 / (pi * radius_mm**2)


def jar_from_outside(name: str, nominal_ml: float, min_in: float, max_in: float, *, source: str = PAGES) -> JarGeometry:
    """A jar from the range of its outside diameters [in]; a single one counts as ±0.1 in."""
    if min_in == max_in:
        min_in, max_in = min_in - 0.1, max_in + 0.1
    low, high = (diameter * units.MM_PER_IN / 2 - WALL_MM for diameter in (min_in, max_in))
    return JarGeometry(name, nominal_ml, (low + high) / 2, low, high, WALL_MM, f"{source}: {MEASURE}", "seen")


def jar_from_volume(name: str, nominal_ml: float) -> JarGeometry:
    """A jar of which only the volume is known [ml]: height three times the radius."""
    radius_mm = (nominal_ml * 1000 / (pi * HEIGHTS_PER_RADIUS)) ** (1 / 3)
    low, high = radius_mm * (1 - METRIC_SPREAD), radius_mm * (1 + METRIC_SPREAD)
    source = f"height three times the radius, no source: {MEASURE}"
    return JarGeometry(name, nominal_ml, radius_mm, low, high, WALL_MM, source, "assumed")


def measured_jar(name: str, nominal_ml: float, inside_diameter_mm: float, *, wall_mm: float = WALL_MM) -> JarGeometry:
    """The household's own jar; a ruler is good to 1 mm of radius.

    InputError where no jar of that volume could be so wide or so narrow.
    """
    radius_mm = inside_diameter_mm / 2
    if not radius_mm > 1 or not FLATTEST <= height_mm(nominal_ml, radius_mm) / radius_mm <= SLENDEREST:
        raise InputError(
            f"No jar of {nominal_ml:.0f} ml measures {inside_diameter_mm:g} mm across the inside; measure it again."
        )
    return JarGeometry(
        name, nominal_ml, radius_mm, radius_mm - 1, radius_mm + 1, wall_mm, "measured by the household", "measured"
    )
