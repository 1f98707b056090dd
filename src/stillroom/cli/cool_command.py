"""`stillroom cool FOOD AMOUNT`: will this pot cool in time as it is, how many shallow pans, how much ice."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.cli.process_command import FoodWords, JsonOption
from stillroom.cli.sums_output import band_keys, print_json, refusal_said
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.physics.pots import Pan
from stillroom.quantities import cooling
from stillroom.quantities.amounts import parse
from stillroom.quantities.cold_text import temp_words
from stillroom.quantities.cooling_answer import (
    CoolingAnswer,
    cool,
    cooling_cautions,
    cooling_sources,
    pace_words,
)
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.measured_text import read_length_mm, read_sides_mm, read_temp_c, read_time_min

HOTTEST_C = 105.0


def cool_command(
    food: FoodWords,
    amount: Annotated[str, typer.Argument(help="How much, as in “8 l” or “5 kg”.")],
    *,
    pot: Annotated[str, typer.Option("--pot", help="Inside width of the pot it stands in, “28 cm”.")] = "",
    pan: Annotated[str, typer.Option("--pan", help="Sides of the shallow pans you have.")] = "40 x 30 cm",
    glass: Annotated[bool, typer.Option("--glass", help="Pot and pans are glass or earthenware, not metal.")] = False,
    filled: Annotated[str, typer.Option("--filled", help="How warm it is when cooling begins.")] = "95 C",
    ice_in: Annotated[str, typer.Option("--ice-in", help="Ice stirred into the food itself, “1 kg”.")] = "",
    room: Annotated[str, typer.Option("--room", help="The kitchen.")] = "20 C",
    tap: Annotated[str, typer.Option("--tap", help="Cold water from the tap.")] = "15 C",
    was: Annotated[str, typer.Option("--was", help="A first reading in the middle, “80 C”; with --now.")] = "",
    now: Annotated[str, typer.Option("--now", help="A later reading, “60 C”; with --after.")] = "",
    after: Annotated[str, typer.Option("--after", help="The time between the readings, “20 min”.")] = "",
    around: Annotated[str, typer.Option("--around", help="What stood around it: “0 C” is ice water.")] = "",
    as_json: JsonOption = False,
) -> None:
    """Cool a pot in time, by the two-stage rule: as it is, in shallow pans, with ice."""
    with refusal_said(as_json):
        parts = food_parts(food)
        mass_kg = parts.mass_kg(amount)
        kitchen = cooling.Around(room_c=read_temp_c(room), tap_c=read_temp_c(tap))
        from_c, ice_kg = _filled_c(filled), _ice_kg(ice_in, mass_kg)
        if ice_kg:
            from_c, mass_kg = cooling.with_ice_c(parts, mass_kg, from_c, ice_kg), mass_kg + ice_kg
        pace = _pace(was, now, after, around)
        pot_m = read_length_mm(pot) / 1000 if pot else 0.0
        answer = cool(parts, mass_kg, kitchen, from_c=from_c, pot_m=pot_m, pan=_pan(pan, glass))
    if as_json:
        print_json(_as_json(answer, pace))
        return
    ice_words = (
        f"With {ice_kg:.3g} kg of ice stirred in it has {temp_words(from_c)}; the recipe gets so much less water."
    )
    lines = (
        f"{parts.food.key}, {mass_kg:.3g} kg ({answer.litres:.3g} litres)",
        *((f"  {ice_words}",) if ice_kg else ()),
        *((f"  {pace_words(pace)}",) if pace else ()),
        *(f"  {words}" for words in answer.sentences),
        *(f"  ! {words}" for words in cooling_cautions()),
        f"  Worked out from {parts.basis}.",
        f"  Source: {cooling_sources()}",
    )
    print(wrapped("\n".join(lines)))


def _filled_c(text: str) -> float:
    found, first_c = read_temp_c(text), cooling.cooling_rule().first_c
    if not first_c < found <= HOTTEST_C:
        raise InputError(
            f"Cooling begins between {first_c:.0f} and {HOTTEST_C:.0f} °C, not at {found:g}; see --filled."
        )
    return found


def _ice_kg(text: str, mass_kg: float) -> float:
    if not text:
        return 0.0
    amount = parse(text)
    if amount.kind != "mass" or amount.value / 1000 > mass_kg:
        raise InputError(f"“{text}” of ice in {mass_kg:.3g} kg: weigh the ice, never more than the food; see --ice-in.")
    return amount.value / 1000


def _pace(was: str, now: str, after: str, around: str) -> cooling.Pace | None:
    given = [text for text in (was, now, after, around) if text]
    if not given:
        return None
    if len(given) < 4:
        raise InputError("Two readings need all four of --was, --now, --after and --around.")
    return cooling.pace(read_temp_c(was), read_temp_c(now), read_time_min(after), read_temp_c(around))


def _pan(text: str, is_glass: bool) -> Pan:
    longer_mm, shorter_mm = read_sides_mm(text)
    if not (shorter_mm >= 100 and longer_mm <= 1000):
        raise InputError(f"“{text}”: a shallow pan has sides of 10 cm to 1 m; see --pan.")
    return Pan(longer_mm / 1000, shorter_mm / 1000, 0.05, cooling.GLASS_M2_K_W if is_glass else 0.0)


def _as_json(answer: CoolingAnswer, pace: cooling.Pace | None) -> dict[str, object]:
    rule = cooling.cooling_rule()
    return {
        "food": answer.parts.food.key,
        "basis": answer.parts.basis,
        "mass_kg": answer.mass_kg,
        "litres": answer.litres,
        "from_c": answer.from_c,
        "rule": {
            **{"start_c": rule.start_c, "first_c": rule.first_c, "first_h": rule.first_h},
            **{"last_c": rule.last_c, "total_h": rule.total_h},
        },
        "depth_cm": 100 * answer.pot.depth_m if answer.pot else None,
        "ways": [
            {
                "how": way.how,
                "first_stage": band_keys(way.cooling.first),
                "both_stages": band_keys(way.cooling.total),
                "verdict": way.cooling.verdict.value,
            }
            for way in answer.ways
        ],
        "pan_cm": [100 * answer.pan.length_m, 100 * answer.pan.width_m],
        "pans": [
            {"how": each.how, "count": each.count, "depth_cm": 100 * each.depth_m if each.depth_m else None}
            for each in answer.pans
        ],
        "ice": {"at_once": band_keys(answer.ice.at_once), "after_tap_water": band_keys(answer.ice.after_water)},
        "readings": {
            "first_stage": band_keys(pace.first),
            "from_now": band_keys(pace.left),
            "both_stages": band_keys(pace.total),
            "verdict": pace.verdict.value,
            "began_before_readings": pace.began_unseen,
        }
        if pace
        else None,
        "cautions": list(cooling_cautions()),
        "source": cooling_sources(),
    }
