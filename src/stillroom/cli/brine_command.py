"""`stillroom brine`: salt for a brine by weight, whatever the per cent counts from."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError, Refusal
from stillroom.quantities import amounts
from stillroom.quantities.bench import bench_g
from stillroom.quantities.brine import BrineBasis, brine
from stillroom.quantities.measured_text import read_percent
from stillroom.tables.fermentation import FermentationFact, fermentation

ANY = "any"
CAUTION = "In a ferment the salt holds back what spoils: never less than the recipe, weighed, not spooned."


def brine_command(
    water: Annotated[str, typer.Argument(help="The water, as in “2 l” or “1 gal”.")],
    salt: Annotated[str, typer.Argument(help="How much salt, as in “3.5%”.")],
    *,
    of: Annotated[str, typer.Option("--of", help="What the per cent counts from: water, brine, or all.")] = "",
    food: Annotated[str, typer.Option("--food", help="Food that lies in the brine, by weight.")] = "",
    ferment: Annotated[str, typer.Option("--ferment", help="Show what is printed for it: “sauerkraut”.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Salt for a brine: of the water, of the brine, or of water and food together."""
    bases = {"water": BrineBasis.WATER, "brine": BrineBasis.BRINE, "all": BrineBasis.WATER_AND_FOOD}
    if of not in bases:
        raise InputError("Say --of water, --of brine or --of all (water and food): recipes mean different things.")
    food_g = 0.0
    if food:
        amount = amounts.parse(food)
        if amount.kind != "mass":
            raise InputError(f"“{food}” is not a weight; weigh the food.")
        food_g = amount.value
    with refusal_said(as_json):
        printed = _printed(ferment) if ferment else ()
        made = brine(amounts.mass_g(water, "water"), read_percent(salt), bases[of], food_g)
        _check_salt(100 * made.evened_fraction, printed)
    if as_json:
        print_json(
            {
                "salt_g": made.salt_g,
                "water_g": made.water_g,
                "food_g": food_g,
                "percent_as_poured": made.poured_fraction * 100,
                "percent_evened_out": made.evened_fraction * 100,
                "salometer_deg": made.salometer_deg,
                "water_activity_as_poured": made.water_activity,
                "printed": [{"text": _fact(row), "source": row.source, "note": row.note} for row in printed],
                "caution": CAUTION,
            }
        )
        return
    print(f"Salt {bench_g(made.salt_g):g} g in {made.water_g:.0f} g of water")
    print(
        f"  {made.poured_fraction:.2%} as poured ({made.salometer_deg:.0f}° salometer), water activity about "
        f"{made.water_activity:.2f}"
    )
    if food_g:
        print(f"  {made.evened_fraction:.2%} when food and brine have evened out")
    for row in printed:
        print(f"  Printed for {row.product}: {_fact(row)}{f'; {row.note}' if row.note else ''} ({row.source})")
    print(f"  ! {CAUTION}")


def _printed(product: str) -> tuple[FermentationFact, ...]:
    known = sorted({row.product for row in fermentation() if row.product != ANY})
    wanted = product.strip().lower()
    if wanted not in known:
        raise InputError(f"Nothing is printed here for “{product}”; there is for {', '.join(known)}.")
    return tuple(row for row in fermentation() if row.product in (wanted, ANY))


def _check_salt(evened_percent: float, printed: tuple[FermentationFact, ...]) -> None:
    """Raises Refusal below the least salt that is printed by weight for the ferment, once evened out."""
    for row in printed:
        if row.quantity == "salt by weight" and evened_percent < row.low:
            raise Refusal(
                f"{evened_percent:.2g}% of salt once evened out is less than the {row.low:g}% printed for "
                f"{row.product}: the salt holds back what spoils, and it is never cut. Take more salt, by the recipe."
            )


def _fact(row: FermentationFact) -> str:
    """“canning salt 3 tbsp per 5 lb cabbage”."""
    span = f"{row.low:g}" if row.low == row.high else f"{row.low:g} to {row.high:g}"
    return f"{row.quantity} {span} {row.unit}"
