"""`stillroom dry FOOD`: how long it dries, what it weighs when done, and how sure that is against mould."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from stillroom.cli.sums_output import print_json
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.quantities import amounts
from stillroom.quantities.drying_answer import meat_keys, meat_text, plant_keys, plant_text
from stillroom.quantities.measured_text import read_length_mm, read_percent, read_temp_c

if TYPE_CHECKING:
    from stillroom.quantities.drying import Dryer


def dry_command(
    food: Annotated[str, typer.Argument(help="As in “apples”, “mushrooms” or “venison”.")],
    thick: Annotated[str, typer.Option("--thick", help="Thickness of the pieces, “6 mm”; leaves 1 mm.")],
    *,
    air: Annotated[str, typer.Option("--air", help="Air of the dryer.")] = "60 C",
    room: Annotated[str, typer.Option("--room", help="Air of the room, which the dryer heats.")] = "20 C",
    humidity: Annotated[str, typer.Option("--humidity", help="Of the room.")] = "50%",
    fan: Annotated[bool, typer.Option("--fan/--no-fan", help="Whether a fan moves the air.")] = True,
    mesh: Annotated[bool, typer.Option("--mesh/--solid-trays", help="Whether air reaches both faces.")] = True,
    amount: Annotated[str, typer.Option("--amount", help="Prepared, on the trays: “2 kg”.")] = "",
    now: Annotated[str, typer.Option("--now", help="With --amount: what it weighs now, “600 g”.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Estimate drying: hours as a band, weight when done, water activity; test dryness all the same."""
    from stillroom.quantities.drying import Kind, kind_of
    from stillroom.tables.vocabulary import hear

    known, thickness_mm = hear(food).food, read_length_mm(thick)
    fresh_g = amounts.mass_g(amount, known.key) if amount else None
    now_g = _weight_g(now) if now else None
    if now_g is not None and fresh_g is None:
        raise InputError("What it weighs now says nothing alone; give --amount, what was laid on the trays.")
    if kind_of(known) is Kind.MEAT:
        answer = meat_keys(known, thickness_mm, fresh_g)
        print_json(answer) if as_json else print(wrapped(meat_text(answer)))
        return
    answer = plant_keys(known, thickness_mm, _dryer(air, room, humidity, fan, mesh), fresh_g, now_g)
    print_json(answer) if as_json else print(wrapped(plant_text(answer)))


def _dryer(air: str, room: str, humidity: str, has_fan: bool, is_mesh: bool) -> Dryer:
    from stillroom.quantities.drying import Dryer

    return Dryer(read_temp_c(air), read_temp_c(room), read_percent(humidity), has_fan=has_fan, is_mesh=is_mesh)


def _weight_g(text: str) -> float:
    amount = amounts.parse(text)
    if amount.kind != "mass":
        raise InputError(f"“{text}” is not a weight; weigh the food without its tray.")
    return amount.value
