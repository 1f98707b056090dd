"""Headings of our tables in the words of a cook, and figures with their units."""

from __future__ import annotations

_LABELS = {
    "agent": "acid",
    "carb_g": "carbohydrate",
    "closed_form": "closed form",
    "composition": "composition known",
    "density_g_per_ml": "density",
    "energy_kj": "energy",
    "fdc_id": "FoodData Central",
    "fibre_g": "fibre",
    "form": "form",
    "grams": "weighs",
    "instead": "instead",
    "key": "food",
    "lb_per_7_quarts": "for 7 quarts",
    "lb_per_9_pints": "for 9 pints",
    "lb_per_quart": "for a quart",
    "mapped_because": "because",
    "max": "most",
    "max_days": "at most",
    "max_diameter_in": "widest",
    "max_height_in": "tallest",
    "max_minutes": "at most",
    "methods": "holds for",
    "min": "least",
    "min_days": "at least",
    "min_diameter_in": "narrowest",
    "min_height_in": "lowest",
    "min_minutes": "at least",
    "nominal_percent": "nominal strength",
    "process_food": "in the process tables",
    "ratio": "width of canner to width of jar",
    "read": "what was read",
    "size": "tested size",
    "temp_f": "sets at",
    "yield_fraction": "left",
}
_UNITS = {
    "altitude_ft": "ft",
    "density_g_per_ml": "g/ml",
    "energy_kj": "kJ",
    "fluid_ounces": "fl oz",
    "grams": "g",
    "headspace_in": "in",
    "lb_per_7_quarts": "lb",
    "lb_per_9_pints": "lb",
    "lb_per_quart": "lb",
    "max_days": "days",
    "max_diameter_in": "in",
    "max_height_in": "in",
    "max_minutes": "min",
    "min_days": "days",
    "min_diameter_in": "in",
    "min_height_in": "in",
    "min_minutes": "min",
    "nominal_percent": "%",
    "sodium_mg": "mg",
    "sugar_cups": "cups",
    "temp_f": "°F",
    "water_cups": "cups",
}
_ENDINGS = ("_g", "_mg", "_in", "_ft", "_cups")


def label(column: str) -> str:
    """The heading of a column without its unit: "water_g" → "water"."""
    if column in _LABELS:
        return _LABELS[column]
    ending = next((end for end in _ENDINGS if column.endswith(end)), "")
    return column.removesuffix(ending).replace("_", " ")


def value(column: str, cell: str) -> str:
    """A cell with its unit; "half_pint" as one says it."""
    if not cell:
        return ""
    if column in ("jar", "size"):
        return cell.replace("_", "-")
    if column == "table":
        return cell.replace("_", " ")
    unit = _UNITS.get(column) or ("g" if column.endswith("_g") else "")
    return f"{cell} {unit}" if unit else cell
