"""How long a food dries, what it weighs when it is done, and how much of its water is then left to mould.

The hours and the water activity are models: the end is judged by weight and by feel, never by the clock.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stillroom.errors import InputError
from stillroom.physics.band import Band
from stillroom.physics.drying import (
    VALID_AIR_C,
    Slice,
    dried_mass_kg,
    dry_basis,
    drying_h,
    humidity_of_heated_air,
    water_left,
)
from stillroom.physics.first_term import Shape, fourier_for_ratio
from stillroom.physics.medium import moved_air, still_air
from stillroom.physics.properties import per_100_g, thermal
from stillroom.physics.water_activity import USUAL_ISOTHERM, dry_plant, gab_moisture, saturated_salt, sweet_fruit
from stillroom.tables import composition
from stillroom.tables.constants import constant
from stillroom.tables.vocabulary import Food
from stillroom.units import celsius

MEATS = ("pork", "beef", "lamb and game", "poultry")
THINNEST_MM, THICKEST_MM, THICKEST_STRIP_MM = 1.0, 15.0, 25.0  # the diffusivities were measured on slices
LEAN_MEAT = "beef bottom round, lean"  # for meat without a composition of its own
NOTHING_GROWS = 0.60  # no yeast or mould below it; most moulds need 0.80: table after Beuchat 1981
TABLE_SALT_K, TABLE_SALT = 23.1092, 0.3607  # ln aw = k1/T − k2 over wet table salt: data of Labuza
HOTTEST_ROOM_C = 40.0
IN_THE_FRIDGE_C = 4.0
MARINADE_C = 95.0  # a pot that is at the boil with cold strips in it: judgement
MARINADE_FILMS_W_M2K = (1500.0, 300.0)  # boiling hard, barely moving: judgement


class Kind(StrEnum):
    """What the tables of drying tell apart."""

    FRUIT = "fruit"
    VEGETABLE = "vegetable"  # mushrooms and herbs too
    MEAT = "meat"


@dataclass(frozen=True, slots=True)
class Dryer:
    """Air of the dryer [°C], room that it comes from [°C; 0 to 1], with or without a fan, on mesh or solid trays."""

    air_c: float = 60.0
    room_c: float = 20.0
    room_humidity: float = 0.5
    has_fan: bool = True
    is_mesh: bool = True


@dataclass(frozen=True, slots=True)
class Dried:
    """Hours, water fractions by mass [-] when fresh and when done, the share of the mass left, and water activity."""

    hours: Band
    fresh_water: float
    dried_water: float
    share_left: float
    activity: Band


def kind_of(food: Food) -> Kind:
    """Fruit, vegetable or meat; InputError for what nobody dries by these tables."""
    if food.group == "fruit":
        return Kind.FRUIT
    if food.group in ("vegetable", "herb"):
        return Kind.VEGETABLE
    if food.group in MEATS:
        return Kind.MEAT
    raise InputError(f"Drying is worked out for fruit, vegetables, mushrooms, herbs and lean meat, not for {food.key}.")


def dried(food: Food, thickness_mm: float, dryer: Dryer) -> Dried:
    """How fruit, vegetables, mushrooms or herbs of this thickness [mm] dry, in one layer.

    The end is 20 % water for fruit (R163) and 10 % for all else (R164). InputError for meat, for food that is dry
    already or has no published composition, for air outside 40 to 75 °C, and for air so damp that nothing dries in it.
    """
    kind = kind_of(food)
    if kind is Kind.MEAT:
        raise InputError("Meat is heated through before it is dried, and no drying time replaces that.")
    if not THINNEST_MM <= thickness_mm <= THICKEST_MM:
        raise InputError(
            f"The hours hold for slices of {THINNEST_MM:g} to {THICKEST_MM:g} mm, leaves counted as 1 mm; halves and "
            "whole pieces shrink and crack as no slice does: cut them thinner."
        )
    _check(dryer)
    fresh, sugar = _fresh(food)
    end = constant("dried_fruit_water_fraction" if kind is Kind.FRUIT else "dried_vegetable_water_fraction").value
    if fresh <= 2 * end:
        raise InputError(f"{food.key.capitalize()} holds only {fresh:.0%} water as it is tabled: it is dry already.")
    floor = _floor(dryer, end)
    around = (moved_air if dryer.has_fan else still_air)(dryer.air_c)
    piece = Slice(thickness_mm / 1000, fresh, end, floor_kg_kg=floor, both_faces=dryer.is_mesh)
    hours = drying_h(piece, around, room_c=dryer.room_c, room_humidity=dryer.room_humidity)
    return Dried(hours, fresh, end, dried_mass_kg(1.0, fresh, end), activity(fresh, sugar, end))


def _check(dryer: Dryer) -> None:
    low_c, high_c = VALID_AIR_C
    if not low_c <= dryer.air_c <= high_c:
        raise InputError(f"Drying is worked out for air of {low_c:g} to {high_c:g} °C, not {dryer.air_c:.0f} °C.")
    if not 0 <= dryer.room_c <= min(HOTTEST_ROOM_C, dryer.air_c):
        raise InputError(
            f"The room must have 0 to {HOTTEST_ROOM_C:g} °C and be no warmer than the dryer, not {dryer.room_c:.0f} °C."
        )
    if not 0 <= dryer.room_humidity <= 1:
        raise InputError(f"The humidity of a room is 0% to 100%, not {dryer.room_humidity:.0%}.")


def activity(fresh_water: float, fresh_sugar: float, water: float) -> Band:
    """Water activity [-] at a water fraction: a syrup of its own sugars where they are most of the dry matter.

    OutsideTable where neither a syrup nor the isotherms reach: the food is then far from dry.
    """
    dry = 1 - fresh_water
    if fresh_sugar >= dry / 2 and water > constant("dried_vegetable_water_fraction").value:
        return sweet_fruit(water, (1 - water) * fresh_sugar / dry)
    return dry_plant(dry_basis(water))


def water_now(food: Food, fresh_g: float, weighed_g: float) -> float:
    """Water fraction [-] of a lot that weighed `fresh_g` prepared and weighs `weighed_g` now."""
    fresh, _ = _fresh(food)
    try:
        return water_left(fresh_g, fresh, weighed_g)
    except ValueError:
        dry_g = fresh_g * (1 - fresh)
        raise InputError(
            f"{weighed_g:.4g} g can't be: {fresh_g:.4g} g of {food.key} holds {dry_g:.4g} g that is not water, and "
            "drying adds nothing. Weigh again, without the tray."
        ) from None


def activity_of(food: Food, water: float) -> Band:
    """Water activity [-] of a food at a water fraction; see `activity`."""
    return activity(*_fresh(food), water)


def heat_through_min(food: Food, thickness_mm: float) -> Band:
    """Minutes in a boiling marinade before the middle of a strip from the fridge can be as hot as rule R173 asks.

    Infinite slab, film of the liquid. Sooner it can't be hot enough; whether it is, only a thermometer tells.
    Valid: 1 to 25 mm. Source: Carslaw & Jaeger 1959 (series), Choi & Okos (properties).
    """
    if not THINNEST_MM <= thickness_mm <= THICKEST_STRIP_MM:
        raise InputError(f"Strips for drying are {THINNEST_MM:g} to {THICKEST_STRIP_MM:g} mm thick; 6 mm is usual.")
    known = composition.of(food.composition or LEAN_MEAT)
    meat = thermal(
        per_100_g(known.water_g, known.protein_g, known.fat_g, known.carb_g, known.fibre_g, known.ash_g), 40.0
    )
    half_m = thickness_mm / 2000
    ratio = (inside_c(food) - MARINADE_C) / (IN_THE_FRIDGE_C - MARINADE_C)
    biots = [film * half_m / meat.conductivity_w_m_k for film in MARINADE_FILMS_W_M2K]
    fouriers = [fourier_for_ratio(Shape.SLAB, biot, ratio) for biot in biots]
    return Band.spanning("min", *(fourier * half_m**2 / meat.diffusivity_m2_s / 60 for fourier in fouriers))


def inside_c(food: Food) -> float:
    """How hot meat is in the middle before it is dried [°C] (R173)."""
    return celsius(constant("jerky_poultry_f" if food.group == "poultry" else "jerky_meat_f").value)


def salt_test(room_c: float) -> float:
    """What a hygrometer in a closed jar over wet table salt must show [-]: it is checked so before it is believed."""
    return saturated_salt(TABLE_SALT_K, TABLE_SALT, room_c)


def _fresh(food: Food) -> tuple[float, float]:
    """Water and sugar [-] of the fresh food as published; sugar that nobody published counts as none."""
    known = _composition(food)
    return known.water_g / 100, (known.sugar_g or 0.0) / 100


def _composition(food: Food) -> composition.Composition:
    if food.composition is None:
        raise InputError(f"Nobody has published what {food.key} consists of in our tables; name a kind that has it.")
    return composition.of(food.composition)


def _floor(dryer: Dryer, end: float) -> float:
    """How far the air of the dryer would take a food by itself [kg/kg dry]; damp air never dries it."""
    humidity = humidity_of_heated_air(dryer.air_c, dryer.room_c, dryer.room_humidity)
    floor = gab_moisture(min(humidity, 1.0), *USUAL_ISOTHERM)
    if floor >= 0.9 * dry_basis(end):
        raise InputError(
            f"Air of this room heated to {dryer.air_c:.0f} °C still holds {humidity:.0%} of the water it can take: "
            "food does not get dry in it. Heat it more, or dry on a drier day."
        )
    return floor
