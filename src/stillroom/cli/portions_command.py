"""`stillroom portions FOOD --for EATERS`: how much a table of adults and children eats of a kind of food."""

from __future__ import annotations

import re
from typing import Annotated

import typer

from stillroom.cli.sums_output import print_json
from stillroom.errors import InputError
from stillroom.quantities.bench import mass_text
from stillroom.quantities.portions import eater_share, for_table


def portions_command(
    food: Annotated[str, typer.Argument(help="A kind of food, as in “vegetable”, “red meat”, “bread” or “fish”.")],
    eaters: Annotated[str, typer.Option("--for", help="“2 adults, 9, 5”: adults, and children by their years.")],
    *,
    weighed: Annotated[str, typer.Option("--weighed", help="“raw” or “cooked”, where both are printed.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """How much of a kind of food a table of eaters needs, by published serves and the age of the children."""
    shares = tuple(share for part in eaters.split(",") for share in _shares(part))
    need = for_table(food.strip().lower(), shares, weighed.strip().lower())
    unit = need.row.unit
    if as_json:
        print_json(
            {
                "food": food,
                "low": need.low,
                "high": need.high,
                "unit": unit,
                "adult_portions": need.adult_portions,
                "weighed": need.row.basis,
                "source": need.row.source,
                "evidence": need.row.evidence,
            }
        )
        return
    low, high = (mass_text(value) if unit == "g" else f"{value:.0f} {unit}" for value in (need.low, need.high))
    amount = low if low == high else f"{low} to {high}"
    print(f"{food.capitalize()} for {need.adult_portions:.2f} adult portions: {amount} ({need.row.basis})")
    print("  One published serve each; whoever works hard or grows eats more.")
    print(f"  Source: {need.row.source}; evidence: {need.row.evidence}")


def _shares(part: str) -> tuple[float, ...]:
    """“2 adults” is 1 twice, “9” the share of a child of nine."""
    words = part.strip().lower()
    match = re.fullmatch(r"(?:([0-9]{1,3}) +)?(adult|grown-up)s?", words)
    if match is not None and int(match[1] or 1) > 0:
        return (eater_share(None),) * int(match[1] or 1)
    if re.fullmatch(r"[0-9]{1,3}", words):
        return (eater_share(float(words)),)
    raise InputError(f"“{part.strip()}” is no eater; write them as in “2 adults, 9, 5”.")
