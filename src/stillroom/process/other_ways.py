"""Freezing and drying as ways out, each verified in the tables of keeping, freezing and drying before it is shown."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from stillroom.model.process import Alternative
from stillroom.process.no_process_match import warnings_for
from stillroom.tables.constants import constant
from stillroom.tables.drying import DryingYield, drying_yields
from stillroom.tables.freezing import FreezesBadly, blanching, freezes_badly
from stillroom.tables.keeping import Keeping, keeping
from stillroom.tables.vocabulary import Food, food, foods

_FREEZER_STATES = ("frozen", "raw", "cooked", "smoked", "baked")
_GROUP_NAMES = {
    "vegetable": "any fruit or vegetable, home frozen",
    "fruit": "any fruit or vegetable, home frozen",
    "poultry": "poultry, home frozen",
    "fish": "fish, home frozen",
    "stock and soup": "soup or stew",
    "dish": "soup or stew",
}


def other_ways(food_key: str, altitude_ft: float = 0.0) -> tuple[Alternative, ...]:
    """Freezing and drying this food, as far as the tables know of it; water boils cooler at altitude [ft]."""
    return (*_freeze(food(food_key), altitude_ft), *_dry(food_key))


def freeze_food(wanted: Food) -> tuple[Alternative, ...]:
    """Freezing one food, by its own keeping time; () where none is published."""
    return tuple(_freeze(wanted, 0.0))


def freeze_mixture(ingredients: Sequence[Food]) -> tuple[Alternative, ...]:
    """Freezing a mixture: verified by the general keeping time of dishes, with what the freezer spoils in it."""
    if not ingredients:
        return ()
    rows = _freezer_rows(("soup or stew",))
    spoilt = [f"{one.key} turns {bad.effect}" for one in ingredients for bad in _badly(one.key)]
    caution = f" The freezer is hard on some of it: {'; '.join(dict.fromkeys(spoilt))}." if spoilt else ""
    return tuple(
        Alternative(f"Freeze it: a cooked dish keeps {_days(row)} for quality.{caution}", source=row.source)
        for row in rows[:1]
    )


def _freeze(wanted: Food, altitude_ft: float) -> Iterator[Alternative]:
    row = next(iter(_freezer_rows(_names(wanted))), None)
    if row is None:
        return
    caution = "".join(f" Note: {bad.preparation}, it turns {bad.effect}; {bad.instead}." for bad in _badly(wanted.key))
    yield Alternative(
        f"Freeze it: {wanted.key} keeps {_days(row)} for quality.{_blanch_text(wanted, altitude_ft)}{caution}",
        source=row.source,
    )


def _dry(food_key: str) -> Iterator[Alternative]:
    for row in drying_yields(food_key)[:1]:
        yield Alternative(_dry_text(row), source=row.source)


def _dry_text(row: DryingYield) -> str:
    return (
        f"Dry it: {row.fresh_amount:g} {row.fresh_unit} {row.basis.replace(' weight', '')} gives about "
        f"{row.dried_amount:g} {row.dried_unit} dried."
    )


def _names(wanted: Food) -> Iterator[str]:
    """Names under which the keeping table may know the food: itself, its kinds, its group."""
    yield wanted.key
    yield from (other.key for other in foods() if wanted.process_food and other.process_food == wanted.process_food)
    if "ground" in (wanted.form or wanted.key):
        yield "ground meat, home frozen"
    entries = warnings_for(wanted.key)
    if any("cured" in entry.preparation for entry in entries):
        yield "cured or processed meat, home frozen"
    if wanted.group in _GROUP_NAMES and all("freez" in entry.instead for entry in entries):
        yield _GROUP_NAMES[wanted.group]


def _freezer_rows(names: Iterable[str]) -> list[Keeping]:
    """Rows that recommend the freezer; 0 days means that it is not recommended."""
    return [
        row
        for name in names
        for state in _FREEZER_STATES
        for row in keeping(name, state, "freezer")
        if row.max_days is None or row.max_days > 0
    ]


def _days(row: Keeping) -> str:
    if row.max_days is None:
        return "long"
    months = round(row.max_days / 30.4)
    return f"about {months} months" if months >= 2 else f"about {row.max_days:g} days"


def _blanch_text(wanted: Food, altitude_ft: float) -> str:
    """The blanching time of the first piece that was read on a page, with the minute more at altitude (R132)."""
    for row in blanching(wanted.key):
        if row.evidence != "memory" and row.min_minutes:
            minutes = row.min_minutes
            if altitude_ft >= constant("blanch_altitude_from_ft").value:
                minutes += constant("blanch_altitude_extra_min").value
            return f" Blanch it first ({row.piece}: {minutes:g} min in {row.method})."
    return ""


def _badly(food_key: str) -> list[FreezesBadly]:
    return [row for row in freezes_badly() if food_key in row.foods]
