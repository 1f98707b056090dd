"""`stillroom freeze FOOD AMOUNT`: hours by thickness and shape, litres, and over how many days to put it in."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.cli.process_command import FoodWords, JsonOption
from stillroom.cli.sums_output import band_keys, print_json, refusal_said
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.household.measure_text import volume_l
from stillroom.process.other_ways import freeze_food
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.freezing import Cold
from stillroom.quantities.freezing_answer import FreezingAnswer, freeze, freezing_cautions, freezing_sources
from stillroom.quantities.measured_text import read_length_mm, read_sides_mm, read_temp_c


def freeze_command(
    food: FoodWords,
    amount: Annotated[str, typer.Argument(help="How much in all, as in “10 kg”.")],
    *,
    packs: Annotated[str, typer.Option("--packs", help="How much goes into one pack, “500 g”.")] = "",
    thick: Annotated[str, typer.Option("--thick", help="How thick a flat pack is, “3 cm”.")] = "",
    bag: Annotated[str, typer.Option("--bag", help="Or the sides of the bag laid flat, “20 x 25 cm”.")] = "",
    boxed: Annotated[bool, typer.Option("--boxed", help="In boxes or loose bags, not wrapped tight.")] = False,
    start: Annotated[str, typer.Option("--from", help="How warm it goes in.")] = "4 C",
    freezer: Annotated[str, typer.Option("--freezer", help="Size of the freezer, “220 l”: load per day.")] = "",
    used: Annotated[str, typer.Option("--used", help="What is in it already, “165 l”: does it fit.")] = "",
    freezer_temp: Annotated[str, typer.Option("--freezer-temp", help="How cold the freezer is.")] = "-18 C",
    as_json: JsonOption = False,
) -> None:
    """How long food takes to freeze by its shape, what room it needs, and how much to put in each day."""
    with refusal_said(as_json):
        if thick and bag:
            raise InputError("Give --thick or --bag, not both: a bag laid flat is as thick as its food makes it.")
        if used and not freezer:
            raise InputError("What is used needs the size of the freezer as well; see --freezer.")
        parts = food_parts(food)
        longer_mm, shorter_mm = read_sides_mm(bag) if bag else (0.0, 0.0)
        answer = freeze(
            parts,
            parts.mass_kg(amount),
            pack_kg=parts.mass_kg(packs) if packs else 0.0,
            thickness_m=read_length_mm(thick) / 1000 if thick else 0.0,
            bag_m=(longer_mm / 1000, shorter_mm / 1000) if bag else None,
            cold=Cold(read_temp_c(start), read_temp_c(freezer_temp), boxed),
            freezer_l=(volume_l(freezer), volume_l(used) if used else None) if freezer else None,
        )
    if as_json:
        print_json(_as_json(answer))
        return
    lines = (
        f"{parts.food.key}, {answer.mass_kg:.3g} kg in {answer.packs} pack{'s' if answer.packs > 1 else ''}",
        *(f"  {words}" for words in answer.sentences),
        *(f"  {way.what} ({way.source})" for way in freeze_food(parts.food)),
        *(f"  ! {words}" for words in freezing_cautions(answer.cold)),
        f"  Worked out from {parts.basis}.",
        f"  Source: {freezing_sources()}",
    )
    print(wrapped("\n".join(lines)))


def _as_json(answer: FreezingAnswer) -> dict[str, object]:
    load = answer.load
    return {
        "food": answer.parts.food.key,
        "basis": answer.parts.basis,
        "mass_kg": answer.mass_kg,
        "pack_kg": answer.pack_kg,
        "packs": answer.packs,
        "from_c": answer.cold.from_c,
        "freezer_c": answer.cold.freezer_c,
        "shapes": [
            {
                "shape": way.kind.value,
                "thickness_cm": 100 * way.thickness_m,
                "solid": band_keys(way.solid),
                "down": band_keys(way.down),
                "at_least_h": way.at_least_h,
                "room": band_keys(way.room),
            }
            for way in answer.ways
        ],
        "thickest_flat_cm": 100 * answer.thickest_m if answer.thickest_m else None,
        "load": {
            "per_day_kg": load.per_day_kg,
            "counts_as_kg": load.counts_as_kg,
            "days": band_keys(load.days),
            "loads_kg": list(load.loads_kg),
        }
        if load
        else None,
        "free_l": answer.free_l,
        "keeping": [way.what for way in freeze_food(answer.parts.food)],
        "cautions": list(freezing_cautions(answer.cold)),
        "source": freezing_sources(),
    }
