"""Water activity of sugar and salt solutions and of dried food. An estimate: measure before anything depends on it."""

from __future__ import annotations

import math

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band

WATER_KG_MOL = 0.018015
SUCROSE_KG_MOL = 0.34230
HEXOSE_KG_MOL = 0.18016
SALT_KG_MOL = 0.05844
NORRISH_SUCROSE, NORRISH_HEXOSE = 6.47, 2.25  # Norrish 1966, from memory
BOUND_KG_KG = 0.1  # water that what is not sugar holds fast: about a monolayer, judgement
# M0, C, K [kg/kg, -, -] of dried vegetables and herbs. Judgement: they span 0.20 at 5 % water and 0.50 at 10 to 12 %
# (dried vegetables, spices and pasta in the table after Beuchat 1981); one published isotherm lies far drier.
DAMP_ISOTHERM, USUAL_ISOTHERM, DRY_ISOTHERM = (0.06, 10.0, 0.9), (0.08, 10.0, 0.9), (0.10, 10.0, 0.9)
# Pitzer & Mayorga 1973 for NaCl at 25 °C, from memory; met to 0.0005 by the table of Robinson & Stokes
PITZER_A, PITZER_B, PITZER_ALPHA = 0.392, 1.2, 2.0
BETA_0, BETA_1, C_PHI = 0.0765, 0.2664, 0.00127
SATURATED_SALT_MOL_KG = 6.15
ABSOLUTE_ZERO_C = -273.15
LARGEST_GAB = 0.95


def sucrose(fraction: float) -> float:
    """Water activity [-] of a sucrose solution.

    aw = x_w exp(−6.47 x_s²), x = mole fractions

    Valid: 0 to 0.67 by mass (saturated at 20 °C), else OutsideTable; about 25 °C. Source: Norrish 1966. Saturated
    syrup measures 0.85 to 0.86, the equation gives 0.85.
    """
    if not 0 <= fraction <= 0.67:
        raise OutsideTable("A sugar solution holds at most 67 % sugar at room temperature.")
    return _norrish(fraction, 1 - fraction, SUCROSE_KG_MOL, NORRISH_SUCROSE)


def _norrish(sugar_kg: float, water_kg: float, molar_kg: float, constant: float) -> float:
    sugar_mol, water_mol = sugar_kg / molar_kg, water_kg / WATER_KG_MOL
    sugar = sugar_mol / (sugar_mol + water_mol)
    return (1 - sugar) * math.exp(-constant * sugar**2)


def sweet_fruit(water: float, sugar: float) -> Band:
    """Water activity [-] of dried fruit as a syrup of its own sugars that does not crystallise.

    High: all sugar as sucrose (fewest molecules); middle: all as glucose and fructose; low: those, and what is not
    sugar holds 0.1 kg/kg of the water fast.

    Valid: mass fractions of water 0.1 to 0.5 and of sugar at least as much as of the rest, else OutsideTable. Source:
    Norrish 1966; dried fruit of 15 to 20 % water is tabled at 0.60 to 0.65 (after Beuchat 1981).
    """
    rest = 1 - water - sugar
    if not (0.1 <= water <= 0.5 and 0 <= rest <= sugar):
        raise OutsideTable("The sum holds for fruit of 10 to 50 % water whose dry matter is mostly sugar.")
    free = water - BOUND_KG_KG * rest
    return Band(
        _norrish(sugar, free, HEXOSE_KG_MOL, NORRISH_HEXOSE),
        _norrish(sugar, water, HEXOSE_KG_MOL, NORRISH_HEXOSE),
        _norrish(sugar, water, SUCROSE_KG_MOL, NORRISH_SUCROSE),
        "aw",
    )


def dry_plant(moisture: float) -> Band:
    """Water activity [-] of dried vegetables, mushrooms and herbs of this moisture [kg/kg dry], by three isotherms.

    Valid: as `gab_activity` for the dampest of the three (up to 0.33 kg/kg, 25 % water), else OutsideTable.
    """
    low, middle, high = (
        gab_activity(moisture, *isotherm) for isotherm in (DRY_ISOTHERM, USUAL_ISOTHERM, DAMP_ISOTHERM)
    )
    return Band(low, middle, high, "aw")


def salt_molality(fraction: float) -> float:
    """Salt in mol per kg of water from its mass fraction in the brine [-]: w/(1 − w)/0.05844."""
    if not 0 <= fraction < 1:
        raise ValueError("The fraction of salt is at least 0 and below 1.")
    return fraction / (1 - fraction) / SALT_KG_MOL


def salt_osmotic_coefficient(molality: float) -> float:
    """Osmotic coefficient φ of NaCl at 25 °C [-].

    φ = 1 − A √m/(1 + 1.2 √m) + m (β0 + β1 exp(−2 √m)) + m² Cφ

    Valid: 0 to 6.15 mol/kg (saturated), else OutsideTable. Source: Pitzer & Mayorga 1973, from memory.
    """
    if not 0 <= molality <= SATURATED_SALT_MOL_KG:
        raise OutsideTable("Water takes up at most 6.15 mol of salt per kilogram (26.4 % brine).")
    root = math.sqrt(molality)
    second = BETA_0 + BETA_1 * math.exp(-PITZER_ALPHA * root)
    return 1 - PITZER_A * root / (1 + PITZER_B * root) + molality * second + molality**2 * C_PHI


def salt(molality: float) -> float:
    """Water activity [-] of a salt solution at 25 °C.

    aw = exp(−2 m φ 0.018015)

    Valid: 0 to 6.15 mol/kg, else OutsideTable. Source: definition of φ; see `salt_osmotic_coefficient`. In salted
    food m counts only the water of the food that holds the salt.
    """
    return math.exp(-2 * molality * salt_osmotic_coefficient(molality) * WATER_KG_MOL)


def saturated_salt(k1_k: float, k2: float, temp_c: float) -> float:
    """Water activity [-] over a saturated salt, to check a hygrometer: table salt k1 = 23.1092 K, k2 = 0.3607.

    ln aw = k1/T − k2, T in K

    Valid: 10 to 50 °C, else OutsideTable. Source: data of Labuza, saturated salt solutions.
    """
    if not 10 <= temp_c <= 50:
        raise OutsideTable("Saturated salts are tabulated for 10 to 50 °C.")
    return math.exp(k1_k / (temp_c - ABSOLUTE_ZERO_C) - k2)


def gab_moisture(activity: float, monolayer: float, c: float, k: float) -> float:
    """Moisture [kg/kg dry] of dried food in balance with air of this water activity.

    M = M0 C K aw/((1 − K aw)(1 − K aw + C K aw))

    Valid: K aw up to 0.95, else OutsideTable: towards aw = 1/K the equation runs away (some published fits have
    K > 1). Source: Basu, Shivhare & Mujumdar, Drying Technology 24:917 (2006).
    """
    if not (0 <= activity <= 1 and monolayer > 0 and c > 0 and k > 0):
        raise ValueError("Water activity is 0 to 1 and the constants of the isotherm are above zero.")
    wet = k * activity
    if wet > LARGEST_GAB:
        raise OutsideTable("The isotherm does not reach so far; measure the water activity.")
    return monolayer * c * wet / ((1 - wet) * (1 - wet + c * wet))


def gab_activity(moisture: float, monolayer: float, c: float, k: float) -> float:
    """Water activity [-] of dried food of this moisture [kg/kg dry]: `gab_moisture` solved for aw.

    With u = K aw: M (1 − C) u² + (M (C − 2) − M0 C) u + M = 0, the root between 0 and 1

    Valid: u up to 0.95, aw up to 1, else OutsideTable. Source: as `gab_moisture`.
    """
    if not (moisture >= 0 and monolayer > 0 and c > 0 and k > 0):
        raise ValueError("Moisture is not negative and the constants of the isotherm are above zero.")
    linear = moisture * (c - 2) - monolayer * c
    # the stable form of the root of a·u² + b·u + M that stays right when C = 1 (a = 0)
    wet = 2 * moisture / (-linear + math.sqrt(linear**2 - 4 * moisture**2 * (1 - c)))
    if wet > LARGEST_GAB or wet > k:
        raise OutsideTable("The isotherm does not reach so far; measure the water activity.")
    return wet / k
