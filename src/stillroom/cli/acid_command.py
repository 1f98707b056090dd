"""`stillroom acid FOOD`: bottled lemon juice, citric acid or vinegar for all jars; or what pH a liquid may have."""

from __future__ import annotations

import math
from typing import Annotated

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.quantities import acid


def acid_command(
    food: Annotated[str, typer.Argument(help="The food in the jars, as in “tomatoes” or “figs”.")] = "",
    *,
    quarts: Annotated[int, typer.Option("--quarts", min=0, max=1000, help="Quart jars.")] = 0,
    pints: Annotated[int, typer.Option("--pints", min=0, max=1000, help="Pint jars.")] = 0,
    half_pints: Annotated[int, typer.Option("--half-pints", min=0, max=1000, help="Half-pint jars.")] = 0,
    mix: Annotated[
        list[str] | None, typer.Option("--mix", help="Instead: a liquid, “vinegar 5%=500 ml”, “water=500 ml”; repeat.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """How much bottled lemon juice, citric acid or vinegar all the jars take; one of them is enough."""
    if bool(food) == bool(mix):
        raise InputError("Name the food in the jars, or what is in a liquid with --mix “vinegar 5%=500 ml”.")
    if mix:
        if quarts or pints or half_pints:
            raise InputError("The pH of a liquid knows no jars; leave --quarts and --pints out.")
        _mixture(mix, as_json=as_json)
        return
    from stillroom.tables.vocabulary import hear

    counts = {JarSize.QUART: quarts, JarSize.PINT: pints, JarSize.HALF_PINT: half_pints}
    jars = {jar: count for jar, count in counts.items() if count > 0}
    if not jars:
        raise InputError("Say how many jars: --quarts, --pints or --half-pints.")
    known = hear(food).food
    name = known.process_food or known.key
    with refusal_said(as_json):
        acid.refuse_low_acid(name)
        needs = acid.for_jars(name, jars)
    if as_json:
        print_json({"food": name, "ways": [_way(need) for need in needs], "caution": acid.MEASURE})
        return
    print(f"Acid for {name}, in each jar; one of these:")
    for need in needs:
        each = ", ".join(f"{row.amount:g} {row.unit} per {jar.value.replace('_', ' ')}" for jar, row in need.per_jar)
        print(f"  {need.agent}: {each}; together {_measured(need, jars)}")
    print(f"  Source: {needs[0].per_jar[0][1].source}")
    print(f"  ! {acid.MEASURE}")


def _mixture(parts: list[str], *, as_json: bool) -> None:
    """A liquid and its estimate, which always says “measure”."""
    from stillroom.quantities.acid_estimate import NO_PROCESS, mixture

    found = mixture(parts)
    if as_json:
        print_json(
            {
                "volume_ml": found.volume_ml,
                "acids_g_l": found.acids_g_l,
                "estimate": str(found.estimate),
                "is_measured": False,
                "caution": NO_PROCESS,
            }
        )
        return
    acids = ", ".join(f"{grams:.3g} g of {name} in a litre" for name, grams in found.acids_g_l.items())
    print(f"{found.volume_ml:.0f} ml of liquid: {acids}")
    print(f"  {str(found.estimate)[:1].upper()}{str(found.estimate)[1:]}")
    print(f"  ! {NO_PROCESS}")


def _measured(need: acid.AcidNeed, jars: dict[JarSize, int]) -> str:
    """The whole amount in the spoons of the printed rows, and in millilitres rounded up from a tenth of one."""
    spoons: dict[str, float] = {}
    for jar, row in need.per_jar:
        spoons[row.unit] = spoons.get(row.unit, 0.0) + jars[jar] * row.amount
    words = " and ".join(f"{amount:g} {unit}" for unit, amount in spoons.items())
    return f"{words} ({math.ceil(need.total_ml - 0.1)} ml)"


def _way(need: acid.AcidNeed) -> dict[str, object]:
    return {
        "agent": need.agent,
        "per_jar": [{"jar": jar.value, "amount": row.amount, "unit": row.unit} for jar, row in need.per_jar],
        "total_ml": need.total_ml,
        "source": need.per_jar[0][1].source,
        "evidence": need.per_jar[0][1].evidence,
    }
