"""How long drying takes, and what dried food weighs. The end point is judged by weight and feel, never by the clock.

For fruit and vegetables. Meat is heated through before it is dried (rule R173), which no drying time replaces.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from stillroom.errors import OutsideTable
from stillroom.physics.atmosphere import SEA_LEVEL_PA
from stillroom.physics.band import Band
from stillroom.physics.medium import Medium
from stillroom.physics.steam import saturation_pressure_pa

S_PER_H = 3600.0
EVAPORATION_J_KG = 2.4e6  # near 35 °C, steam tables
PSYCHROMETER_PER_K = 6.62e-4  # aspirated psychrometer, WMO guide no. 8, from memory
COLDEST_AIR_C = 10.0
TERMS = np.arange(1, 400, 2) * math.pi
# Slow, usual and quick effective diffusivity at 60 °C [m²/s]. Mango 5.0e-10 (Akoy, Int. Food Research J. 21:1911,
# 2014) and prickly pear up to 7.6e-10 (Touil 2014) at 60 °C; apple 1e-11 to 3.3e-9 at 30 to 70 °C (Zogzas 1996).
DIFFUSIVITY_60_M2_S = (2.0e-10, 5.0e-10, 1.2e-9)
ACTIVATION_J_MOL = 38_000.0  # mango, Akoy 2014; prickly pear 45,000
GAS_J_MOL_K = 8.314
VALID_AIR_C = (40.0, 75.0)


@dataclass(frozen=True, slots=True)
class Slice:
    """Thickness [m] and density [kg/m³] of a piece before drying; `both_faces` on mesh, false on a solid tray.

    Water fractions by mass [-] before and after, and where the air alone would take it (`floor`, dry basis kg/kg).
    """

    thickness_m: float
    fresh_water: float
    dried_water: float
    density_kg_m3: float = 1000.0
    floor_kg_kg: float = 0.03
    both_faces: bool = True

    def __post_init__(self) -> None:
        if not 0.001 <= self.thickness_m <= 0.05 or not 200 <= self.density_kg_m3 <= 1500:
            raise ValueError("Pieces for drying are 1 mm to 5 cm thick.")
        if not 0 < self.dried_water < self.fresh_water < 1 or not 0 <= self.floor_kg_kg < dry_basis(self.dried_water):
            raise ValueError("Drying goes from wet to dry, and not below what the air gives back.")


def dry_basis(water_fraction: float) -> float:
    """Moisture [kg water/kg dry matter] from the mass fraction of water: m/(1 − m). Valid: 0 ≤ m < 1."""
    if not 0 <= water_fraction < 1:
        raise ValueError("The water fraction is at least 0 and below 1.")
    return water_fraction / (1 - water_fraction)


def dried_mass_kg(fresh_kg: float, fresh_water: float, dried_water: float) -> float:
    """Mass [kg] at the end: W (1 − m_fresh)/(1 − m_dried).

    Valid: 0 ≤ m_dried ≤ m_fresh < 1, else ValueError. Source: balance of dry matter, rule R166.
    """
    if not (fresh_kg > 0 and 0 <= dried_water <= fresh_water < 1):
        raise ValueError("Drying goes from wet to dry.")
    return fresh_kg * (1 - fresh_water) / (1 - dried_water)


def water_left(fresh_kg: float, fresh_water: float, weighed_kg: float) -> float:
    """Mass fraction of water [-] from what the pieces weigh now: 1 − W (1 − m)/W_now.

    Valid: not lighter than the dry matter nor heavier than fresh, else ValueError. Source: balance of dry matter.
    """
    dry_kg = fresh_kg * (1 - fresh_water)
    if not (0 <= fresh_water < 1 and dry_kg <= weighed_kg <= fresh_kg):
        raise ValueError("The weight must lie between that of the dry matter and that of the fresh food.")
    return 1 - dry_kg / weighed_kg


def wet_bulb_c(air_c: float, room_c: float, room_humidity: float) -> float:
    """Temperature [°C] of a wet surface in room air heated to `air_c`.

    p_sat(Tw) − 6.62e-4 p (T − Tw) = humidity × p_sat(T_room)

    Valid: room 0 to 40 °C not warmer than the air, air 10 to 80 °C (a wet surface in colder dry air freezes), humidity
    0 to 1; sea level. Source: psychrometer equation, WMO guide no. 8, from memory.
    """
    if not (0 <= room_c <= 40 and max(room_c, COLDEST_AIR_C) <= air_c <= 80 and 0 <= room_humidity <= 1):
        raise OutsideTable("The room must be 0 to 40 °C, the air of the dryer warmer, and 10 to 80 °C.")
    vapour_pa = room_humidity * float(saturation_pressure_pa(room_c))

    def excess_pa(temp_c: float) -> float:
        return float(saturation_pressure_pa(temp_c)) - PSYCHROMETER_PER_K * SEA_LEVEL_PA * (air_c - temp_c) - vapour_pa

    return float(brentq(excess_pa, 0.0, air_c))


def humidity_of_heated_air(air_c: float, room_c: float, room_humidity: float) -> float:
    """Relative humidity [-] of room air heated to `air_c`: humidity × p_sat(room)/p_sat(air). Valid: 0 to 100 °C."""
    return room_humidity * float(saturation_pressure_pa(room_c)) / float(saturation_pressure_pa(air_c))


def diffusion_s(piece: Slice, diffusivity_m2_s: float) -> float:
    """Time [s] for water to come out of a slab by diffusion alone.

    (M − Mf)/(M0 − Mf) = Σ 8/((2n+1)² π²) exp(−(2n+1)² π² D t/(4 L²)), L = half thickness on mesh, whole on a tray

    Valid: D > 0, else ValueError; no shrinking (D from such fits includes it). Source: Crank, The Mathematics of
    Diffusion (1975), section 4.3, from memory.
    """
    if not diffusivity_m2_s > 0:
        raise ValueError("Diffusivity is above zero.")
    way_m = piece.thickness_m / (2 if piece.both_faces else 1)
    start, end = dry_basis(piece.fresh_water), dry_basis(piece.dried_water)
    left = (end - piece.floor_kg_kg) / (start - piece.floor_kg_kg)

    def excess(log_fourier: float) -> float:
        return float(np.sum(8 / TERMS**2 * np.exp(-(TERMS**2) / 4 * math.exp(log_fourier)))) - left

    return math.exp(float(brentq(excess, math.log(1e-7), math.log(1e2)))) * way_m**2 / diffusivity_m2_s


def evaporation_s(piece: Slice, film: float, air_c: float, wet_c: float) -> float:
    """Time [s] that the heat of the air needs to evaporate the water from a wet surface.

    t = Δm λ/(faces h (T − Tw)) per area

    Valid: film > 0, air warmer than the wet surface, else ValueError. Source: heat balance.
    """
    if not (film > 0 and air_c > wet_c):
        raise ValueError("Air must be warmer than a wet surface.")
    fresh_kg_m2 = piece.density_kg_m3 * piece.thickness_m
    water_kg_m2 = fresh_kg_m2 - dried_mass_kg(fresh_kg_m2, piece.fresh_water, piece.dried_water)
    return water_kg_m2 * EVAPORATION_J_KG / ((2 if piece.both_faces else 1) * film * (air_c - wet_c))


def drying_h(piece: Slice, dryer: Medium, *, room_c: float = 20.0, room_humidity: float = 0.5) -> Band:
    """Hours of drying, one layer, air that reaches every tray.

    Low: the slower of evaporation and quick diffusion; middle and high: both one after the other, with usual and
    slow diffusion (Arrhenius from 60 °C, 38 kJ/mol).

    Valid: air 40 to 75 °C, else OutsideTable. Skins, blanching, sugar and crowded trays change it by a factor of
    two; published leaflets give 6 to 16 h for vegetables at 60 °C (rule R158).
    """
    if not VALID_AIR_C[0] <= dryer.temp_c <= VALID_AIR_C[1]:
        raise OutsideTable("Drying times hold for air of 40 to 75 °C.")
    wet_c = wet_bulb_c(dryer.temp_c, room_c, room_humidity)
    faster = math.exp(-ACTIVATION_J_MOL / GAS_J_MOL_K * (1 / (dryer.temp_c + 273.15) - 1 / 333.15))
    slow, usual, quick = (diffusion_s(piece, d * faster) for d in DIFFUSIVITY_60_M2_S)
    films = (dryer.film_low, dryer.film_middle, dryer.film_high)
    poor, fair, good = (evaporation_s(piece, film, dryer.temp_c, wet_c) for film in films)
    return Band(max(quick, good), usual + fair, slow + poor, "s").in_units(1 / S_PER_H, "h")
