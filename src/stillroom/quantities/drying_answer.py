"""All that is told of drying: the same answer for machines and, made from it, for people."""

from __future__ import annotations

from typing import Any

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band
from stillroom.quantities.bench import bench_g, mass_text
from stillroom.quantities.drying import (
    NOTHING_GROWS,
    Dryer,
    Kind,
    activity_of,
    dried,
    heat_through_min,
    inside_c,
    kind_of,
    salt_test,
    water_now,
)
from stillroom.tables.constants import constant
from stillroom.tables.drying import drying_yields
from stillroom.tables.rules import rule
from stillroom.tables.vocabulary import Food
from stillroom.units import G_PER_LB, celsius, fahrenheit

M2_PER_SQUARE_FOOT = 0.09290304
THINNEST_SLICE_MM = 3.0
MODEL = (
    "Hours and water activity are a model: they may be off by a factor of two. Test dryness by weight and by feel, "
    "cooled, from the dampest corner of the trays."
)
NEVER_STOP = "Once drying has begun it is not interrupted; half-dried food spoils."
METER = "A small hygrometer closed up in a jar with the dried food for a day shows its water activity in per cent."


def plant_keys(
    food: Food, thickness_mm: float, dryer: Dryer, fresh_g: float | None, now_g: float | None
) -> dict[str, Any]:
    """The answer for fruit, vegetables, mushrooms and herbs."""
    kind, found = kind_of(food), dried(food, thickness_mm, dryer)
    return {
        "food": food.key,
        "kind": kind.value,
        "thickness_mm": thickness_mm,
        "air_c": dryer.air_c,
        "hours": _band(found.hours),
        "printed_hours": [constant("drying_min_h").value, constant("drying_max_h").value],
        "fresh_water": found.fresh_water,
        "dried_water": found.dried_water,
        "share_left": found.share_left,
        "done_g": fresh_g * found.share_left if fresh_g else None,
        "tray_m2": _tray_m2(fresh_g) if fresh_g else None,
        "water_activity": _band(found.activity),
        "nothing_grows_below": NOTHING_GROWS,
        "now": _now(food, fresh_g, now_g, found.share_left) if fresh_g and now_g else None,
        "printed_yields": _yields(food),
        "done_when": rule("R163" if kind is Kind.FRUIT else "R164").value,
        "afterwards": rule("R169" if kind is Kind.FRUIT else "R170").value,
        "salt_test_percent": 100 * salt_test(max(dryer.room_c, 10.0)),
        "cautions": [MODEL, *_damp_cautions(found.activity), NEVER_STOP, *_air_cautions(kind, dryer.air_c)],
        "source": "hours: diffusion and heat balance; weight and end: rules of drying; activity after Norrish 1966 and "
        "three isotherms about the table after Beuchat 1981",
    }


def _now(food: Food, fresh_g: float, now_g: float, share_left: float) -> dict[str, Any]:
    water = water_now(food, fresh_g, now_g)
    try:
        activity = _band(activity_of(food, water))
    except OutsideTable:
        activity = None  # far from dry
    return {
        "weighs_g": now_g,
        "water": water,
        "water_activity": activity,
        "to_lose_g": max(now_g - fresh_g * share_left, 0.0),
    }


def _damp_cautions(activity: Band) -> list[str]:
    if activity.high <= NOTHING_GROWS:
        return []
    return [
        "At this end it may still be damp enough for some mould: even the jars out, look at them for a week or two, "
        "keep them cool, and dry further what you keep longest."
    ]


def _air_cautions(kind: Kind, air_c: float) -> list[str]:
    """Vegetables are not dried hotter than 140 °F near the end (R156)."""
    hottest_c = celsius(constant("drying_air_f").value)
    if air_c > hottest_c + 0.5:
        return [f"Above {hottest_c:.0f} °C the outside hardens over a damp inside: turn it down near the end."]
    if kind is Kind.FRUIT and air_c < celsius(135) - 0.5:
        return ["Cooler air than 57 to 60 °C takes long, and fruit may sour before it is dry."]
    return []


def _tray_m2(fresh_g: float) -> float:
    """Trays [m²] at one pound of prepared food for each square foot (R160)."""
    per_m2 = constant("drying_tray_lb_per_square_foot").value * G_PER_LB / M2_PER_SQUARE_FOOT
    return fresh_g / per_m2


def _yields(food: Food) -> list[dict[str, Any]]:
    return [
        {
            "text": f"{row.fresh_amount:g} {row.fresh_unit} {row.basis} gives {row.dried_amount:g} {row.dried_unit}",
            "source": row.source,
            "evidence": row.evidence,
        }
        for row in drying_yields(food.key)
    ]


def plant_text(answer: dict[str, Any]) -> str:
    """The answer for people."""
    lines = [
        f"{answer['food'].capitalize()}, {answer['thickness_mm']:g} mm, air of {answer['air_c']:.0f} °C "
        f"({fahrenheit(answer['air_c']):.0f} °F)",
        f"  Hours in one layer: {_hours(answer['hours'])}{_printed_hours(answer)}",
        f"  Done at {answer['share_left']:.0%} of the prepared weight: {answer['fresh_water']:.0%} water when fresh, "
        f"{answer['dried_water']:.0%} when done",
    ]
    if answer["done_g"]:
        done, tray_m2 = mass_text(bench_g(answer["done_g"])), answer["tray_m2"]
        lines.append(f"  Weighs {done} when done; lay it on {tray_m2:.2f} m² of trays")
    grows = answer["nothing_grows_below"]
    lines.append(
        f"  Water activity then {_activity(answer['water_activity'])}; nothing grows below {grows:.2f}, some yeasts "
        "and moulds do from there on"
    )
    lines += _now_lines(answer)
    lines += [f"  Printed: {row['text']} ({row['source']}; {row['evidence']})" for row in answer["printed_yields"]]
    lines += [
        f"  Done when: {answer['done_when']}",
        f"  Afterwards: {answer['afterwards']}",
        f"  {METER} Check it first in a closed jar over wet table salt: {answer['salt_test_percent']:.0f} %",
        *(f"  ! {caution}" for caution in answer["cautions"]),
        f"  Source: {answer['source']}",
    ]
    return "\n".join(lines)


def _printed_hours(answer: dict[str, Any]) -> str:
    """The printed range, for slices of vegetables only: a leaf is thinner, and of fruit none is printed here."""
    if answer["kind"] != Kind.VEGETABLE or answer["thickness_mm"] < THINNEST_SLICE_MM:
        return ""
    low_h, high_h = answer["printed_hours"]
    return f" (printed for vegetables at 60 °C: {low_h:g} to {high_h:g})"


def _now_lines(answer: dict[str, Any]) -> list[str]:
    now = answer["now"]
    if now is None:
        return []
    lose = now["to_lose_g"]
    more = f"{mass_text(bench_g(lose))} more to lose" if lose > 0 else "as light as it should be"
    activity = f", water activity {_activity(now['water_activity'])}" if now["water_activity"] else ", far from dry"
    return [f"  Now {mass_text(now['weighs_g'])}: {now['water']:.0%} water{activity}; {more}"]


def meat_keys(food: Food, thickness_mm: float, fresh_g: float | None) -> dict[str, Any]:
    """The answer for lean meat: what comes before drying, and no hours."""
    must_c = inside_c(food)
    return {
        "food": food.key,
        "kind": Kind.MEAT.value,
        "thickness_mm": thickness_mm,
        "hours": None,
        "inside_c": must_c,
        "not_before_min": _band(heat_through_min(food, thickness_mm)),
        "air": rule("R174").value,
        "printed_yields": _yields(food),
        "done_g": fresh_g / 4 if fresh_g else None,  # R175
        "keeps": rule("R176").value,
        "cautions": [
            f"Heat it through first, in its marinade: {must_c:.0f} °C ({fahrenheit(must_c):.0f} °F) in the middle by a "
            "thermometer. A dryer alone does not kill what may be in raw meat.",
            f"Pork and game: {rule('R177').value}.",
            NEVER_STOP,
        ],
        "source": "rules of drying, jerky; the minutes: conduction in a slab, properties after Choi & Okos",
    }


def meat_text(answer: dict[str, Any]) -> str:
    """The answer for people."""
    band = answer["not_before_min"]
    lines = [
        f"{answer['food'].capitalize()}, strips of {answer['thickness_mm']:g} mm",
        f"  In a boiling marinade the middle can't have {answer['inside_c']:.0f} °C before {band['low']:.1f} to "
        f"{band['high']:.1f} min (model): sooner is too soon, later is for the thermometer to say",
        f"  Then dry: {answer['air']}; no hours are worked out for meat. Done when a strip cracks and does not snap",
    ]
    if answer["done_g"]:
        lines.append(f"  Gives about {mass_text(bench_g(answer['done_g']))} (a quarter of the raw weight)")
    lines += [
        f"  Keeps: {answer['keeps']}",
        *(f"  ! {caution}" for caution in answer["cautions"]),
        f"  Source: {answer['source']}",
    ]
    return "\n".join(lines)


def _band(band: Band) -> dict[str, float]:
    return {"low": band.low, "middle": band.middle, "high": band.high}


def _hours(band: dict[str, float]) -> str:
    return (
        f"{band['low']:.0f} to {band['high']:.0f}, about {band['middle']:.0f}"
        if band["low"] >= 1
        else (f"{band['low']:.1f} to {band['high']:.1f}, about {band['middle']:.1f}")
    )


def _activity(band: dict[str, float]) -> str:
    return f"{band['low']:.2f} to {band['high']:.2f}, about {band['middle']:.2f}"
