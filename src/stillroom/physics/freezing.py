"""How long a pack takes to freeze: Plank for the heat of freezing alone, Pham with precooling and subcooling.

Plank is always below a full freezing time. Pham's method was tested by its author for Biot numbers of 0.02 to 11 and
agreed with measurements within about 10 % (Singh & Heldman, Introduction to Food Engineering, from memory); a
household's air, thickness and contact are known less well, hence bands.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band
from stillroom.physics.medium import Medium
from stillroom.physics.properties import LATENT_HEAT_J_KG, Fractions, ice_fraction, thermal

S_PER_H = 3600.0
HIGHEST_BIOT = 11.0
METHOD_ERROR = 0.10


class Shape(StrEnum):
    """Bodies of the classic solutions."""

    SLAB = "slab"
    CYLINDER = "cylinder"
    SPHERE = "sphere"


PLANK = {Shape.SLAB: (1 / 2, 1 / 8), Shape.CYLINDER: (1 / 4, 1 / 16), Shape.SPHERE: (1 / 6, 1 / 24)}


@dataclass(frozen=True, slots=True)
class Freezable:
    """What freezing needs to know of a food: unfrozen and frozen specific heat [J/(kg K)], heat of freezing [J/kg].

    Density [kg/m³] and conductivity [W/(m K)] of the frozen food, initial freezing point [°C].
    """

    density_kg_m3: float
    unfrozen_heat_j_kg_k: float
    frozen_heat_j_kg_k: float
    latent_j_kg: float
    frozen_conductivity_w_m_k: float
    freezing_c: float = -1.0

    def __post_init__(self) -> None:
        numbers = (self.density_kg_m3, self.unfrozen_heat_j_kg_k, self.frozen_heat_j_kg_k, self.latent_j_kg)
        if not min(*numbers, self.frozen_conductivity_w_m_k) > 0:
            raise ValueError("Density, heats and conductivity of a food are above zero.")


def freezable(food: Fractions, freezing_c: float = -1.0) -> Freezable:
    """Freezing properties from composition: unfrozen at 5 °C, frozen at −18 °C, latent heat of the ice formed then.

    Valid: freezing point −10 to −0.05 °C, else OutsideTable (most fresh food −0.5 to −2.5 °C, common practice, no
    source); food with at least a fifth of water that can freeze, else ValueError.
    """
    ice = float(ice_fraction(food, -18.0, freezing_c))
    if ice < 0.2:
        raise ValueError("Food with so little water does not freeze in this sense.")
    frozen = thermal(food, -18.0, ice)
    return Freezable(
        frozen.density_kg_m3,
        thermal(food, 5.0).specific_heat_j_kg_k,
        frozen.specific_heat_j_kg_k,
        ice * LATENT_HEAT_J_KG,
        frozen.conductivity_w_m_k,
        freezing_c,
    )


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack, smallest side first [m]; None means much longer than thick. A sphere is Pack(d, d, d, round=True).

    `round` turns the block into the ellipsoid inside it: a bird, a loaf, a ball of dough.
    `wrap_m2_k_w`: resistance of wrap and trapped air, thickness/k: tight film 0, loose bag or box 0.01 to 0.05
    (common practice, no source).
    """

    thickness_m: float
    width_m: float | None = None
    length_m: float | None = None
    round: bool = False
    wrap_m2_k_w: float = 0.0

    def __post_init__(self) -> None:
        if not 0.002 <= self.thickness_m <= 0.6 or not 0 <= self.wrap_m2_k_w <= 0.5:
            raise ValueError("A pack is 2 mm to 60 cm thick.")
        if any(side is not None and side < self.thickness_m for side in (self.width_m, self.length_m)):
            raise ValueError("The thickness is the smallest side of a pack.")

    @property
    def ratios(self) -> tuple[float, float]:
        """Width and length over thickness [-]."""
        return ((self.width_m or math.inf) / self.thickness_m, (self.length_m or math.inf) / self.thickness_m)


def plank_s(
    shape: Shape, food: Freezable, size_m: float, film: float, *, around_c: float, wrap_m2_k_w: float = 0.0
) -> float:
    """Time [s] to freeze at the freezing point, heat of freezing alone: too short for a whole freezing time.

    t = ρ L/(Tf − Ta) (P a (1/h + wrap) + R a²/k); a = full thickness or diameter; P, R = 1/2, 1/8 slab; 1/4, 1/16
    infinite cylinder; 1/6, 1/24 sphere

    Valid: Ta < Tf, a and h > 0, else ValueError. Source: Plank 1913, Encyclopaedia of Food Sciences and Nutrition.
    """
    if not (around_c < food.freezing_c and size_m > 0 and film > 0):
        raise ValueError("To freeze, air must be colder than the freezing point, and size and film above zero.")
    p, r = PLANK[shape]
    resistance = p * size_m * (1 / film + wrap_m2_k_w) + r * size_m**2 / food.frozen_conductivity_w_m_k
    return food.density_kg_m3 * food.latent_j_kg / (food.freezing_c - around_c) * resistance


def mean_freezing_c(centre_c: float, around_c: float) -> float:
    """Mean freezing temperature [°C]: Tfm = 1.8 + 0.263 Tc + 0.105 Ta.

    Valid: moist foods. Source: Pham 1986 as given by Singh & Heldman.
    """
    return 1.8 + 0.263 * centre_c + 0.105 * around_c


def pham_s(
    food: Freezable, half_m: float, film: float, *, from_c: float, centre_c: float, around_c: float, dimensions: float
) -> float:
    """Time [s] from `from_c` until the centre is at `centre_c`.

    t = d/(E h) (ΔH1/ΔT1 + ΔH2/ΔT2)(1 + Bi/2), ΔH1 = ρ cu (Ti − Tfm), ΔH2 = ρ (L + cf (Tfm − Tc)),
    ΔT1 = (Ti + Tfm)/2 − Ta, ΔT2 = Tfm − Ta, Bi = h d/k; d = half thickness or radius, E = 1 slab, 2 cylinder, 3 sphere

    Valid: Bi up to 11, Ta −45 to −10 °C, Tc between Ta and −5 °C, Ti −1 to 100 °C, else OutsideTable.
    Source: Pham 1986 as given by Singh & Heldman.
    """
    biot = film * half_m / food.frozen_conductivity_w_m_k
    if not (half_m > 0 and film > 0 and dimensions > 0):
        raise ValueError("Size, film and dimensions are above zero.")
    if not (biot <= HIGHEST_BIOT and -45 <= around_c <= -10 and around_c < centre_c <= -5 and -1 <= from_c <= 100):
        raise OutsideTable("Freezing times hold for air of −45 to −10 °C, a centre of −5 °C or colder, and food packs.")
    mean_c = mean_freezing_c(centre_c, around_c)
    if not mean_c < from_c:
        raise OutsideTable("The food must be unfrozen at the start.")
    cooling = food.density_kg_m3 * food.unfrozen_heat_j_kg_k * (from_c - mean_c) / ((from_c + mean_c) / 2 - around_c)
    latent_j_kg = food.latent_j_kg + food.frozen_heat_j_kg_k * (mean_c - centre_c)
    freezing = food.density_kg_m3 * latent_j_kg / (mean_c - around_c)
    return half_m / (dimensions * film) * (cooling + freezing) * (1 + biot / 2)


def dimensions(pack: Pack, biot: float) -> float:
    """Equivalent heat transfer dimension E [-]: how many times faster than a slab of the same thickness; Bi = h d/k.

    Block: E = 1 + E1 + E2, B = 2 Bi (by full thickness), X(x) = x/(B^1.34 + x), x = 2.32/β^1.77,
    E1 = X/β1 + (1 − X) 0.73/β1^2.5, E2 = X/β2 + (1 − X) 0.50/β2^3.69, β1 ≤ β2 sides over thickness
    Round: E = 1 + Σ (1 + 2/Bi)/(β² + 2 β/Bi)

    Valid: Bi > 0, else ValueError. Source: block Cleland, Cleland & Earle 1987 as in ASHRAE Refrigeration, chapter 10;
    ellipsoid Pham as given by Singh & Heldman; both from memory. Checked against numeric solutions of blocks.
    """
    if not biot > 0:
        raise ValueError("The Biot number must be above zero.")
    near, far = sorted(pack.ratios)
    if pack.round:
        return 1 + sum(0.0 if math.isinf(b) else (1 + 2 / biot) / (b**2 + 2 * b / biot) for b in (near, far))
    return 1 + _side(near, biot, 0.73, 2.50) + _side(far, biot, 0.50, 3.69)


def _side(ratio: float, biot: float, share: float, power: float) -> float:
    if math.isinf(ratio):
        return 0.0
    x = 2.32 / ratio**1.77
    near_zero = x / ((2 * biot) ** 1.34 + x)
    return float(near_zero / ratio + (1 - near_zero) * share / ratio**power)


def freezing_h(pack: Pack, food: Freezable, around: Medium, *, from_c: float, centre_c: float = -10.0) -> Band:
    """Hours until the middle of a pack is at `centre_c`, both faces in the cold.

    Pham over the band of surface coefficients, 10 % either way for the method.

    Valid: as `pham_s`. A full or warm freezer takes longer: the load per day is the harder limit (`freezer`).
    """

    def hours(film: float, error: float) -> float:
        film = 1 / (1 / film + pack.wrap_m2_k_w)
        half_m = pack.thickness_m / 2
        e = dimensions(pack, film * half_m / food.frozen_conductivity_w_m_k)
        time_s = pham_s(food, half_m, film, from_c=from_c, centre_c=centre_c, around_c=around.temp_c, dimensions=e)
        return time_s * (1 + error) / S_PER_H

    return Band(
        hours(around.film_high, -METHOD_ERROR),
        hours(around.film_middle, 0.0),
        hours(around.film_low, METHOD_ERROR),
        "h",
    )


def layer_thickness_m(mass_kg: float, density_kg_m3: float, length_m: float, width_m: float) -> float:
    """Thickness [m] of a flat pack: mass/(density × length × width). Valid: all above zero, else ValueError."""
    if not min(mass_kg, density_kg_m3, length_m, width_m) > 0:
        raise ValueError("Mass, density and sides are above zero.")
    return mass_kg / (density_kg_m3 * length_m * width_m)


def ball(mass_kg: float, density_kg_m3: float) -> Pack:
    """A lump as a sphere of this mass: d = (6 m/(π ρ))^(1/3). Valid: both above zero, else ValueError."""
    if not min(mass_kg, density_kg_m3) > 0:
        raise ValueError("Mass and density are above zero.")
    diameter_m = (6 * mass_kg / (math.pi * density_kg_m3)) ** (1 / 3)
    return Pack(diameter_m, diameter_m, diameter_m, round=True)
