"""Thermal properties of food from its composition (Choi & Okos), with water and ice apart.

The coefficients are those of the ASHRAE Refrigeration handbook (2006), chapter 9, tables 1 and 2, after Choi & Okos
(1986). Two of them we take otherwise: the specific heat of water above 0 °C starts with 4.1762, as Choi & Okos and
Ibarz print it (ASHRAE: 4.1289, 1 % too low for water of 20 °C); the linear term of fibre is 1.8306e-3 (a copy reads
1.8906e-3).
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from stillroom.errors import OutsideTable

Array = NDArray[np.float64]

VALID_C = (-40.0, 150.0)
LATENT_HEAT_J_KG = 333_600.0  # water to ice at 0 °C, ASHRAE Refrigeration (2006), chapter 9

# c0 + c1·t + c2·t², t in °C
CONDUCTIVITY = {  # W/(m K)
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "ice": (2.2196, -6.2489e-3, 1.0154e-4),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "carbohydrate": (0.20141, 1.3874e-3, -4.3312e-6),
    "fibre": (0.18331, 1.2497e-3, -3.1683e-6),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
}
DENSITY = {  # kg/m³
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "ice": (916.89, -0.13071, 0.0),
    "protein": (1329.9, -0.51840, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "carbohydrate": (1599.1, -0.31046, 0.0),
    "fibre": (1311.5, -0.36589, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
}
SPECIFIC_HEAT = {  # kJ/(kg K)
    "water": (4.1762, -9.0864e-5, 5.4731e-6),
    "ice": (2.0623, 6.0769e-3, 0.0),
    "protein": (2.0082, 1.2089e-3, -1.3129e-6),
    "fat": (1.9842, 1.4733e-3, -4.8008e-6),
    "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6),
    "fibre": (1.8459, 1.8306e-3, -4.6509e-6),
    "ash": (1.0926, 1.8896e-3, -3.6817e-6),
}
SUPERCOOLED_WATER_HEAT = (4.0817, -5.3062e-3, 9.9516e-4)  # kJ/(kg K), below 0 °C


@dataclass(frozen=True, slots=True)
class Fractions:
    """What food consists of by mass [-]; carbohydrate without fibre. Sums between 0.97 and 1.03 are evened out to 1."""

    water: float
    protein: float = 0.0
    fat: float = 0.0
    carbohydrate: float = 0.0
    fibre: float = 0.0
    ash: float = 0.0

    def __post_init__(self) -> None:
        shares = [getattr(self, item.name) for item in fields(self)]
        total = sum(shares)
        if min(shares) < 0 or not 0.97 <= total <= 1.03:
            raise ValueError(f"Fractions must not be negative and must sum to about 1, not {total:g}.")
        for item in fields(self):
            object.__setattr__(self, item.name, getattr(self, item.name) / total)

    def parts(self, ice: float | Array = 0.0) -> dict[str, float | Array]:
        """Mass fractions with `ice` of the water frozen [kg ice/kg food]."""
        return {
            "water": self.water - ice,
            "ice": ice,
            "protein": self.protein,
            "fat": self.fat,
            "carbohydrate": self.carbohydrate,
            "fibre": self.fibre,
            "ash": self.ash,
        }


@dataclass(frozen=True, slots=True)
class Thermal:
    """Density [kg/m³], specific heat [J/(kg K)] and conductivity [W/(m K)] at one temperature."""

    density_kg_m3: float
    specific_heat_j_kg_k: float
    conductivity_w_m_k: float

    def __post_init__(self) -> None:
        if not min(self.density_kg_m3, self.specific_heat_j_kg_k, self.conductivity_w_m_k) > 0:
            raise ValueError("Density, specific heat and conductivity are above zero.")

    @property
    def diffusivity_m2_s(self) -> float:
        """Thermal diffusivity [m²/s] = k/(ρ cp)."""
        return self.conductivity_w_m_k / (self.density_kg_m3 * self.specific_heat_j_kg_k)


def per_100_g(
    water_g: float, protein_g: float, fat_g: float, carb_g: float, fibre_g: float | None, ash_g: float
) -> Fractions:
    """Fractions from g per 100 g where carbohydrate is by difference and so includes fibre (None counts as none).

    Valid: a composition that leaves out at most 3 g, else OutsideTable: alcohol and acid are not among the parts.
    """
    shares_g = (water_g, protein_g, fat_g, carb_g, ash_g)
    if not 97 <= sum(shares_g) <= 103:
        raise OutsideTable("The composition leaves out too much (alcohol, acid, spice) to tell thermal properties.")
    fibre_g = min(fibre_g or 0.0, carb_g)
    return Fractions(*(grams / 100 for grams in (water_g, protein_g, fat_g, carb_g - fibre_g, fibre_g, ash_g)))


def density_kg_m3(food: Fractions, temp_c: float | Array, ice: float | Array = 0.0) -> float | Array:
    """Density [kg/m³] without pores.

    ρ = 1/Σ(X/ρ_i)

    Valid: −40 to 150 °C. Source: Choi & Okos 1986 as in ASHRAE Refrigeration (2006), chapter 9, eq. 6.
    """
    _check(temp_c, ice, food)
    return 1 / _specific_volume(food, temp_c, ice)


def conductivity_w_m_k(food: Fractions, temp_c: float | Array, ice: float | Array = 0.0) -> float | Array:
    """Thermal conductivity [W/(m K)], heat along the parts (parallel model).

    k = Σ(x_v k_i), x_v = (X/ρ_i)/Σ(X/ρ_i)

    Valid: −40 to 150 °C; too high by up to a tenth for frozen food and for food with pores.
    Source: Choi & Okos 1986; ASHRAE Refrigeration (2006), chapter 9.
    """
    _check(temp_c, ice, food)
    volume = _specific_volume(food, temp_c, ice)
    parts = food.parts(ice).items()
    return sum(x / _at(DENSITY[name], temp_c) * _at(CONDUCTIVITY[name], temp_c) for name, x in parts) / volume


def specific_heat_j_kg_k(food: Fractions, temp_c: float | Array, ice: float | Array = 0.0) -> float | Array:
    """Specific heat [J/(kg K)] without the heat of freezing.

    cp = Σ(X cp_i); water below 0 °C has its own polynomial.

    Valid: −40 to 150 °C. Source: Choi & Okos 1986. Differs from ASHRAE in the constant of water, see the module.
    """
    _check(temp_c, ice, food)
    water = np.where(np.asarray(temp_c) < 0, _at(SUPERCOOLED_WATER_HEAT, temp_c), _at(SPECIFIC_HEAT["water"], temp_c))
    total = sum(x * _at(SPECIFIC_HEAT[name], temp_c) for name, x in food.parts(ice).items() if name != "water")
    result = 1000 * (total + (food.water - ice) * water)
    return float(result) if np.ndim(result) == 0 else result


def thermal(food: Fractions, temp_c: float, ice: float = 0.0) -> Thermal:
    """All three properties at one temperature; `ice` in kg per kg of food."""
    return Thermal(
        float(density_kg_m3(food, temp_c, ice)),
        float(specific_heat_j_kg_k(food, temp_c, ice)),
        float(conductivity_w_m_k(food, temp_c, ice)),
    )


def ice_fraction(food: Fractions, temp_c: float | Array, freezing_c: float) -> float | Array:
    """Ice [kg/kg food] at `temp_c`, 0 above the initial freezing point `freezing_c`.

    x_ice = (x_w − x_b)(1 − t_f/t), x_b = 0.4 x_protein is water that never freezes

    Valid: t −40 to 150 °C, t_f −10 to −0.05 °C. Source: ASHRAE Refrigeration (2006), chapter 9, eqs. 3 and 4
    (Schwartzberg 1976), from memory. Chen's own ice fraction agreed best with measurements (Fricke & Becker 2001);
    it needs a molar mass that no composition table gives.
    """
    _check(temp_c, 0.0, food)
    if not -10 <= freezing_c <= -0.05:
        raise OutsideTable("The freezing point of food must lie between −10 and −0.05 °C.")
    freezable = max(food.water - 0.4 * food.protein, 0.0)
    colder = np.minimum(np.asarray(temp_c, dtype=float), freezing_c)
    result = freezable * (1 - freezing_c / colder)
    return float(result) if np.ndim(result) == 0 else result


def _at(coefficients: tuple[float, float, float], temp_c: float | Array) -> float | Array:
    c0, c1, c2 = coefficients
    return c0 + temp_c * (c1 + temp_c * c2)


def _specific_volume(food: Fractions, temp_c: float | Array, ice: float | Array) -> float | Array:
    return sum(x / _at(DENSITY[name], temp_c) for name, x in food.parts(ice).items())


def _check(temp_c: float | Array, ice: float | Array, food: Fractions) -> None:
    low_c, high_c = VALID_C
    if not np.all((np.asarray(temp_c) >= low_c) & (np.asarray(temp_c) <= high_c)):
        raise OutsideTable(f"Properties of food are known from {low_c:g} to {high_c:g} °C only.")
    if not np.all((np.asarray(ice) >= 0) & (np.asarray(ice) <= food.water)):
        raise ValueError("Ice is at least nothing and at most all of the water.")
