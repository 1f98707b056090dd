"""`stillroom syrup WHAT`: a printed canning syrup for so many jars, a strength by weight, or where jelly sets."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError
from stillroom.quantities import amounts, gel_point, syrup
from stillroom.quantities.bench import bench_g, mass_text
from stillroom.quantities.measured_text import read_percent, read_temp_c
from stillroom.units import fahrenheit

JELLY = "jelly"
SAFETY = "Syrup keeps shape and colour, it does not preserve; water or juice may replace it in the same process."


def syrup_command(
    what: Annotated[str, typer.Argument(help="“very light” to “very heavy”, a strength as in “35%”, or “jelly”.")],
    *,
    quarts: Annotated[int, typer.Option("--quarts", min=0, max=1000, help="Quart jars to fill.")] = 0,
    pints: Annotated[int, typer.Option("--pints", min=0, max=1000, help="Pint jars to fill.")] = 0,
    water: Annotated[str, typer.Option("--water", help="With a strength: the water, as in “2 l”.")] = "",
    total: Annotated[str, typer.Option("--total", help="With a strength: the whole syrup by weight.")] = "",
    altitude: Annotated[str, typer.Option("--altitude", help="With jelly: “760 m” or “2500 ft”.")] = "",
    boiling: Annotated[str, typer.Option("--boiling", help="With jelly: boiling water measured, “97 C”.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Sugar and water for a canning syrup, or the temperature at which jelly sets."""
    with refusal_said(as_json):
        if what.strip().lower() == JELLY:
            _jelly(altitude, boiling, as_json)
            return
        made = _made(what.strip().lower(), quarts, pints, water, total)
    if as_json:
        print_json(_as_json(what, made))
    else:
        _print_lines(what, made)


def _made(what: str, quarts: int, pints: int, water: str, total: str) -> syrup.SyrupAmounts:
    if "%" not in what:
        if water or total:
            raise InputError("The printed syrups go by jars; give --quarts or --pints, or a strength as in “35%”.")
        return syrup.for_jars(what, quarts=quarts, pints=pints)
    if quarts or pints:
        raise InputError("A strength goes by weight; give --water or --total, or one of the printed syrups.")
    return syrup.by_weight(
        read_percent(what),
        water_g=amounts.mass_g(water, "water") if water else 0.0,
        total_g=_weight_g(total) if total else 0.0,
    )


def _weight_g(text: str) -> float:
    amount = amounts.parse(text)
    if amount.kind != "mass":
        raise InputError(f"“{text}” is not a weight; the whole syrup goes by weight.")
    return amount.value


def _jelly(altitude: str, boiling: str, as_json: bool) -> None:
    from stillroom.process.altitude_text import read_altitude

    if bool(altitude) == bool(boiling):
        raise InputError("Jelly sets by altitude: give --altitude, or better --boiling as you measured it.")
    found = gel_point.from_boiling(read_temp_c(boiling)) if boiling else gel_point.at_altitude(read_altitude(altitude))
    if as_json:
        print_json(
            {
                "temp_c": found.temp_c,
                "temp_f": fahrenheit(found.temp_c) if found.temp_c is not None else None,
                "printed_lines": [{"altitude_ft": row.altitude_ft, "temp_f": row.temp_f} for row in found.lines],
                "how": found.how,
                "source": found.source,
            }
        )
        return
    if found.temp_c is None:
        print(f"No line is printed for this altitude: {found.how}.")
        for row in found.lines:
            print(f"  printed: {row.altitude_ft:g} ft sets at {row.temp_f:g} °F")
    else:
        print(f"Sets at {fahrenheit(found.temp_c):.0f} °F ({found.temp_c:.1f} °C): {found.how}.")
    print(f"  Source: {found.source}")


def _as_json(what: str, made: syrup.SyrupAmounts) -> dict[str, object]:
    return {
        "syrup": what,
        "water_ml": made.water_ml,
        "water_cups": made.water_cups,
        "sugar_g": made.sugar_g,
        "sugar_percent_by_weight": made.real_fraction * 100,
        "nominal_percent": made.row.nominal_percent if made.row else None,
        "source": made.row.source if made.row else "mass balance",
        "evidence": made.row.evidence if made.row else "arithmetic",
        "note": SAFETY,
    }


def _print_lines(what: str, made: syrup.SyrupAmounts) -> None:
    print(f"Syrup, {what}")
    print(f"  Water   {made.water_ml:6.0f} ml   ({made.water_cups:.3g} US cups)")
    print(f"  Sugar   {bench_g(made.sugar_g):6g} g    ({mass_text(made.sugar_g)} exactly)")
    nominal = f"; printed as {made.row.nominal_percent:g}%" if made.row else ""
    print(f"  {made.real_fraction:.1%} sugar by weight{nominal}")
    print(f"  {SAFETY}")
    if made.row:
        print(f"  Source: {made.row.source}; evidence: {made.row.evidence}")
