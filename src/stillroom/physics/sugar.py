"""Sugar and water: where a syrup or a jam boils at this place, and density, Baumé and solubility."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np

from stillroom.errors import OutsideTable
from stillroom.physics.atmosphere import SEA_LEVEL_PA
from stillroom.physics.band import Band
from stillroom.physics.steam import saturation_pressure_pa, saturation_temp_c

# Boiling point elevation at 1 atm [K] by Brix: Browne 1912 as interpolated in "Endpoint to boiling a sugar solution",
# table 1. Its lines for thin solutions (0.3 K at 2 %) lie above the ideal 0.03 K.
ELEVATION_BRIX = (0, 2, 10, 22, 32, 36, 38, 42, 44, 48, 50, 62, 64, 68, 70, 74, 76, 80, 82)
ELEVATION_K = (0, 0.3, 0.4, 0.7, 1.1, 1.3, 1.4, 1.6, 1.7, 1.9, 2.0, 3.4, 4.0, 5.6, 6.5, 8.4, 9.4, 12.0, 13.9)
# Specific gravity 20/20 °C by Brix: NBS Circular C440 (1942), from memory
GRAVITY_BRIX = (10, 20, 30, 40, 50, 60, 65, 70, 80)
GRAVITY = (1.0400, 1.0829, 1.1290, 1.1785, 1.2317, 1.2887, 1.3187, 1.3496, 1.4142)
WATER_20_KG_M3 = 998.23
BAUME_MODULUS = 145.0  # Gerlach's scale has 146.78
JELLY_BRIX = 65.0
LOWE_ELEVATION_K = 3.9  # jelly at 65 Brix: Lowe, Experimental Cookery, after Cruess & McNair; the table gives 4.4
HARD_JELLY_K = 4.8  # the table at 66 Brix: one Brix too far


def boiling_elevation_k(brix: float) -> float:
    """How much hotter than water a sucrose solution boils at 1 atm [K]; smooth curve through the printed points.

    Valid: 0 to 82 Brix (% by mass), else OutsideTable. Source: Browne 1912, see the module; printed to 0.1 K, and
    0.4 K above Lowe's 3.9 K at 65 Brix.
    """
    if not 0 <= brix <= ELEVATION_BRIX[-1]:
        raise OutsideTable("The boiling point of sugar solutions is tabulated from 0 to 82 % sugar.")
    return float(_elevation()(brix))


@cache
def _elevation() -> Any:
    from scipy.interpolate import PchipInterpolator

    return PchipInterpolator(ELEVATION_BRIX, ELEVATION_K)


def boiling_c(brix: float, water_boiling_c: float) -> float:
    """Boiling point [°C] of a sucrose solution where water boils at `water_boiling_c`.

    The solution has the water activity that its elevation at 1 atm shows: p(T) = p(T_water)/aw, p of steam.

    Valid: 0 to 82 Brix; water boiling at 80 to 102 °C, else OutsideTable. Source: `boiling_elevation_k`, IAPWS
    steam; that the activity of water does not change between 80 and 114 °C is our assumption (5 to 10 % less
    elevation at 3000 m than at the sea).
    """
    _check_place(water_boiling_c)
    return _at_place(boiling_elevation_k(brix), water_boiling_c)


def gel_point_c(water_boiling_c: float, rule_k: float) -> Band:
    """Temperature [°C] at which jelly of 65 Brix sets.

    Low: Lowe's 3.9 K, less at altitude; middle: boiling water on the day and `rule_k` (8 °F, rule N018); high: one
    Brix further by the table.

    Valid: as `boiling_c`; rule_k 3.9 to 4.8 K, else ValueError. Pectin and acid decide too: test a spoonful cold.
    """
    _check_place(water_boiling_c)
    if not LOWE_ELEVATION_K <= rule_k <= HARD_JELLY_K:
        raise ValueError("The rule for jelly lies between 3.9 and 4.8 K above boiling water.")
    low_c = _at_place(LOWE_ELEVATION_K, water_boiling_c)
    return Band(low_c, water_boiling_c + rule_k, water_boiling_c + HARD_JELLY_K, "°C")


def specific_gravity(brix: float) -> float:
    """Specific gravity 20/20 °C of a sucrose solution [-].

    1/sg = (1 − w) + w v, with the volume v of dissolved sugar against water, smooth between the printed points

    Valid: 0 to 80 Brix, else OutsideTable. Source: NBS Circular C440 (1942), from memory; within 0.0005.
    """
    if not 0 <= brix <= GRAVITY_BRIX[-1]:
        raise OutsideTable("The density of sugar solutions is tabulated from 0 to 80 % sugar.")
    share = brix / 100
    shares = np.array(GRAVITY_BRIX) / 100
    volumes = (1 / np.array(GRAVITY) - (1 - shares)) / shares
    return float(1 / (1 - share + share * np.interp(share, shares, volumes)))


def density_kg_m3(brix: float) -> float:
    """Density [kg/m³] of a sucrose solution at 20 °C: specific gravity × 998.23. Valid: as `specific_gravity`."""
    return specific_gravity(brix) * WATER_20_KG_M3


def baume_deg(gravity: float) -> float:
    """Degrees Baumé of a liquid heavier than water: 145 − 145/sg.

    Valid: sg 1 to 2, else OutsideTable. Source: Baumé scale at 60 °F; Gerlach's has 146.78 for 145.
    """
    if not 1 <= gravity <= 2:
        raise OutsideTable("The scale for heavy liquids runs from a specific gravity of 1 to 2.")
    return BAUME_MODULUS - BAUME_MODULUS / gravity


def gravity_of_baume(baume: float) -> float:
    """Specific gravity [-] of degrees Baumé: 145/(145 − Bé). Valid: 0 to 72 °Bé, else OutsideTable."""
    if not 0 <= baume <= BAUME_MODULUS / 2:
        raise OutsideTable("The scale for heavy liquids runs from 0 to 72 degrees.")
    return BAUME_MODULUS / (BAUME_MODULUS - baume)


def saturated_brix(temp_c: float) -> float:
    """Sucrose in a saturated solution [% by mass].

    S = 64.1835 + 0.13477 t + 0.0005307 t²

    Valid: 0 to 100 °C, else OutsideTable. Source: Herzfeld 1892, from memory; meets the table in Mohos 2010 (A2.2).
    Differs: newer measurements give half a per cent less at 20 °C. Above it sugar crystallises in the jar sooner or
    later.
    """
    if not 0 <= temp_c <= 100:
        raise OutsideTable("The solubility of sugar is known from 0 to 100 °C.")
    return 64.1835 + 0.13477 * temp_c + 0.0005307 * temp_c**2


def _at_place(elevation_k: float, water_boiling_c: float) -> float:
    sea_c = float(saturation_temp_c(SEA_LEVEL_PA))
    activity = SEA_LEVEL_PA / float(saturation_pressure_pa(sea_c + elevation_k))
    return float(saturation_temp_c(float(saturation_pressure_pa(water_boiling_c)) / activity))


def _check_place(water_boiling_c: float) -> None:
    if not (80 <= water_boiling_c <= 102 and math.isfinite(water_boiling_c)):
        raise OutsideTable("Water boils at 80 to 102 °C in a kitchen; check the thermometer.")
