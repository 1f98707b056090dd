"""Where a syrup boils and a jelly sets at this place, and what a hydrometer says of a syrup.

Measured boiling water of the day beats every altitude: the thermometer's error and the weather drop out.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.physics import sugar
from stillroom.physics.band import Band
from stillroom.physics.steam import boiling_point_c
from stillroom.physics.water_activity import sucrose
from stillroom.tables.constants import constant
from stillroom.units import feet

WEATHER_K = 0.8  # air pressure of 98 to 104 kPa at sea level, and a kitchen thermometer: judgement
COLDEST_WATER_C, HOTTEST_WATER_C = 80.0, 102.0
MOST_BRIX = 80.0
ROOM_C = 20.0


@dataclass(frozen=True, slots=True)
class Syrup:
    """A syrup at 20 °C: specific gravity [-], degrees Baumé, density [kg/m³], water activity [-] and its limit.

    `crystals_below_c`: colder than that sugar comes out sooner or later; None where it never does above 0 °C.
    """

    gravity: float
    baume_deg: float
    density_kg_m3: float
    water_activity: float
    crystals_below_c: float | None


def syrup(fraction: float) -> Syrup:
    """What is known of a syrup of `fraction` sugar by weight [-], up to 67 %. Sources: see `physics.sugar`."""
    brix = 100 * fraction
    gravity = sugar.specific_gravity(brix)
    return Syrup(
        gravity=gravity,
        baume_deg=sugar.baume_deg(gravity),
        density_kg_m3=sugar.density_kg_m3(brix),
        water_activity=sucrose(fraction),
        crystals_below_c=_crystals_below_c(brix),
    )


def fraction_of_baume(baume_deg: float) -> float:
    """Sugar by weight [-] of a syrup that a hydrometer shows `baume_deg` at 20 °C; 0 to 80 % sugar (0 to 42 °Bé)."""
    gravity = sugar.gravity_of_baume(baume_deg) if 0 <= baume_deg <= 72 else 0.0
    if not 1 <= gravity <= sugar.specific_gravity(MOST_BRIX):
        most = sugar.baume_deg(sugar.specific_gravity(MOST_BRIX))
        raise InputError(f"A syrup shows 0 to {most:.0f} °Bé, not {baume_deg:g}; read the hydrometer at 20 °C again.")
    low, high = 0.0, MOST_BRIX
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if sugar.specific_gravity(middle) < gravity else (low, middle)
    return low / 100


def water_boils(altitude_m: float) -> Band:
    """Where water boils at an altitude [°C], by the standard atmosphere, give or take the weather."""
    usual_c = float(boiling_point_c(altitude_m))
    if usual_c < COLDEST_WATER_C:
        raise InputError(f"At {feet(altitude_m):,.0f} ft water boils below 80 °C; check the altitude.")
    return Band(usual_c - WEATHER_K, usual_c, usual_c + WEATHER_K, "°C")


def measured(water_c: float) -> Band:
    """Boiling water as it was measured that day [°C]: no band, as the same thermometer reads the syrup."""
    if not COLDEST_WATER_C <= water_c <= HOTTEST_WATER_C:
        raise InputError("Boiling water measures 80 to 102 °C (176 to 216 °F); check the thermometer.")
    return Band(water_c, water_c, water_c, "°C")


def syrup_boils(fraction: float, water: Band) -> Band:
    """Where a syrup of `fraction` sugar by weight [-] boils [°C] while water boils at `water`."""
    brix = 100 * fraction
    low_c, high_c = max(water.low, COLDEST_WATER_C), min(water.high, HOTTEST_WATER_C)
    return Band(sugar.boiling_c(brix, low_c), sugar.boiling_c(brix, water.middle), sugar.boiling_c(brix, high_c), "°C")


def jelly_sets(water_c: float) -> Band:
    """Where jelly sets [°C] by boiling water measured that day: soft, by the rule of 8 °F, firm (see `gel_point_c`)."""
    return sugar.gel_point_c(water_c, constant("gel_above_boiling_f").value / 1.8)


def _crystals_below_c(brix: float) -> float | None:
    if brix <= sugar.saturated_brix(0.0):
        return None
    low_c, high_c = 0.0, 100.0
    while high_c - low_c > 0.01:
        middle_c = (low_c + high_c) / 2
        low_c, high_c = (middle_c, high_c) if sugar.saturated_brix(middle_c) < brix else (low_c, middle_c)
    return high_c
