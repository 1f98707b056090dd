"""What 100 g of the edible part of a food consist of.

Source: USDA FoodData Central SR Legacy (2018) identities, values of SR28; see each row. Carbohydrate is by
difference and includes fibre; a missing value is “not published”, never zero. No acidity and no water activity here.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.errors import InputError
from stillroom.tables.csv_rows import DATA, read_csv

COLUMNS = (
    *("name", "group", "fdc_id", "water_g", "protein_g", "fat_g", "carb_g", "fibre_g", "ash_g", "sugar_g"),
    *("sodium_mg", "energy_kj", "source", "evidence"),
)


@dataclass(frozen=True, slots=True)
class Composition:
    """Per 100 g edible part: g, sodium in mg (salt = sodium × 2.54), energy in kJ."""

    food: str
    water_g: float
    protein_g: float
    fat_g: float
    carb_g: float
    fibre_g: float | None
    ash_g: float
    sugar_g: float | None
    sodium_mg: float | None
    energy_kj: float
    source: str
    evidence: str


@cache
def _by_food() -> dict[str, Composition]:
    return {
        row.text("name"): Composition(
            food=row.text("name"),
            water_g=row.number("water_g"),
            protein_g=row.number("protein_g"),
            fat_g=row.number("fat_g"),
            carb_g=row.number("carb_g"),
            fibre_g=row.optional_number("fibre_g"),
            ash_g=row.number("ash_g"),
            sugar_g=row.optional_number("sugar_g"),
            sodium_mg=row.optional_number("sodium_mg"),
            energy_kj=row.number("energy_kj"),
            source=row.text("source"),
            evidence=row.text("evidence"),
        )
        for row in read_csv(DATA / "composition.csv", COLUMNS)
    }


def compositions() -> tuple[Composition, ...]:
    """All foods with a published composition."""
    return tuple(_by_food().values())


def of(food_key: str) -> Composition:
    """The composition of a food of the vocabulary; InputError where none is published."""
    try:
        return _by_food()[food_key]
    except KeyError:
        raise InputError(f"No composition is published for “{food_key}”; name a food that has one.") from None
