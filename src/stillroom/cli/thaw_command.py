"""`stillroom thaw FOOD AMOUNT`: how long, where, and when to take it out for a meal."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Annotated

import typer

from stillroom.cli.process_command import FoodWords, JsonOption
from stillroom.cli.sums_output import band_keys, print_json, refusal_said
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.quantities.food_parts import FoodParts, food_parts
from stillroom.quantities.freezing import PackKind
from stillroom.quantities.measured_text import read_length_mm, read_temp_c, read_time_min
from stillroom.quantities.thawing import ThawPlace, ThawTime, thaw_time, thawing_cautions, thawing_sources

LONGEST_COOKING_MIN = 24 * 60


def thaw_command(
    food: FoodWords,
    amount: Annotated[str, typer.Argument(help="One pack or piece, as in “500 g”; several lie apart.")],
    *,
    thick: Annotated[str, typer.Option("--thick", help="How thick it is, “3 cm”; else a lump or a bird.")] = "",
    place: Annotated[str, typer.Option("--in", help="fridge or “cold water”.")] = "fridge",
    place_temp: Annotated[str, typer.Option("--at", help="How cold it is there; else 4 °C, or 12 °C.")] = "",
    meal: Annotated[str, typer.Option("--meal", help="When it is on the table: “2027-04-12 18:30”.")] = "",
    cooking: Annotated[str, typer.Option("--cooking", help="From thawed to the table, “45 min”.")] = "0 min",
    as_json: JsonOption = False,
) -> None:
    """How long frozen food takes to thaw, and when to take it out for a meal."""
    with refusal_said(as_json):
        parts = food_parts(food)
        pack_kg = parts.mass_kg(amount)
        found = thaw_time(
            parts,
            PackKind.FLAT if thick else PackKind.ODD,
            pack_kg,
            thickness_m=read_length_mm(thick) / 1000 if thick else 0.0,
            place=_place(place),
            place_c=read_temp_c(place_temp) if place_temp else None,
        )
        cook_at = _cook_at(meal, cooking)
    if as_json:
        print_json(_as_json(parts, pack_kg, found, cook_at))
        return
    lines = (
        f"{parts.food.key}, {pack_kg:.3g} kg in one piece or pack",
        *(
            (
                f"  Take it out on {_moment(found.take_out(cook_at))}, or little before, to be cooked from "
                f"{_moment(cook_at)}.",
            )
            if cook_at
            else ()
        ),
        *(f"  {words}" for words in found.sentences),
        *(f"  ! {words}" for words in thawing_cautions()),
        f"  Worked out from {parts.basis}.",
        f"  Source: {thawing_sources()}",
    )
    print(wrapped("\n".join(lines)))


def _place(text: str) -> ThawPlace:
    said = text.strip().lower()
    names = {each.value: each for each in ThawPlace} | {"water": ThawPlace.WATER, "room": ThawPlace.COUNTER}
    if said not in names:
        raise InputError(f"“{text}” is no place to thaw; say --in fridge or --in “cold water”.")
    return names[said]


def _cook_at(meal: str, cooking: str) -> datetime | None:
    """When cooking begins; None where no meal was told."""
    minutes = read_time_min(cooking)
    if not meal:
        return None
    if not minutes <= LONGEST_COOKING_MIN:
        raise InputError(f"Cooking for {cooking}: a day at the most; see --cooking.")
    try:
        at = datetime.fromisoformat(meal.strip())
    except ValueError:
        raise InputError(f"“{meal}” is not a day and hour; write it as in “2027-04-12 18:30”.") from None
    if ":" not in meal or at.tzinfo is not None:
        raise InputError(f"“{meal}”: the meal needs a day and an hour by the kitchen clock, “2027-04-12 18:30”.")
    if not 1900 < at.year < 9000:
        raise InputError(f"“{meal}” is no year for a meal; see --meal.")
    return at - timedelta(minutes=minutes)


def _moment(at: datetime) -> str:
    return f"{at:%A} {at.day} {at:%B %H:%M}"


def _as_json(parts: FoodParts, pack_kg: float, found: ThawTime, cook_at: datetime | None) -> dict[str, object]:
    return {
        "food": parts.food.key,
        "basis": parts.basis,
        "pack_kg": pack_kg,
        "thickness_cm": 100 * found.thickness_m,
        "place": found.place.value,
        "by_model": band_keys(found.times.band),
        "by_rule_h": found.times.rule_h,
        "allow_h": found.allow_h,
        "may_be_icy": found.may_be_icy,
        "keeps_thawed_days": found.keeps_days,
        "take_out_by": found.take_out(cook_at).isoformat(timespec="minutes") if cook_at else None,
        "cook_from": cook_at.isoformat(timespec="minutes") if cook_at else None,
        "cautions": list(thawing_cautions()),
        "source": thawing_sources(),
    }
