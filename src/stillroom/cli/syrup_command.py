"""`stillroom syrup WHAT`: a printed canning syrup for so many jars, a strength by weight, or where jelly sets."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Any

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError
from stillroom.quantities import amounts, gel_point, syrup
from stillroom.quantities.bench import bench_g, mass_text
from stillroom.quantities.measured_text import read_percent, read_temp_c
from stillroom.units import fahrenheit

if TYPE_CHECKING:
    from stillroom.physics.band import Band

JELLY = "jelly"
SAFETY = "Syrup keeps shape and colour, it does not preserve; water or juice may replace it in the same process."
COLD_SPOON = "Pectin and acid decide too: test a spoonful on a cold plate, off the heat."
_BAUME = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?°? ?b[eé]")


def syrup_command(
    what: Annotated[str, typer.Argument(help="“very light” to “very heavy”, “35%”, “19 Be” as read, or “jelly”.")],
    *,
    quarts: Annotated[int, typer.Option("--quarts", min=0, max=1000, help="Quart jars to fill.")] = 0,
    pints: Annotated[int, typer.Option("--pints", min=0, max=1000, help="Pint jars to fill.")] = 0,
    water: Annotated[str, typer.Option("--water", help="With a strength: the water, as in “2 l”.")] = "",
    total: Annotated[str, typer.Option("--total", help="With a strength: the whole syrup by weight.")] = "",
    altitude: Annotated[str, typer.Option("--altitude", help="“760 m” or “2500 ft”: where it boils or sets.")] = "",
    boiling: Annotated[str, typer.Option("--boiling", help="Better: boiling water measured that day, “97 C”.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Sugar and water for a canning syrup, where it boils and what a hydrometer shows; or where jelly sets."""
    asked = what.strip().lower()
    with refusal_said(as_json):
        if asked == JELLY:
            _jelly(altitude, boiling, as_json)
            return
        made = _read(float(match[1]), water, total) if (match := _BAUME.fullmatch(asked)) else None
        made = made or _made(asked, quarts, pints, water, total)
        boils = _boils(made.real_fraction, altitude, boiling)
        answer = {**_as_json(what, made), **_known(made), **(boils or {})}
    if as_json:
        print_json(answer)
    else:
        _print_lines(what, made, answer)


def _made(what: str, quarts: int, pints: int, water: str, total: str) -> syrup.SyrupAmounts:
    if "%" not in what:
        if water or total:
            raise InputError("The printed syrups go by jars; give --quarts or --pints, or a strength as in “35%”.")
        return syrup.for_jars(what, quarts=quarts, pints=pints)
    if quarts or pints:
        raise InputError("A strength goes by weight; give --water or --total, or one of the printed syrups.")
    return _by_weight(read_percent(what), water, total)


def _read(baume_deg: float, water: str, total: str) -> syrup.SyrupAmounts:
    """What a hydrometer shows, as a strength; of a kilogram where no amount is given."""
    from stillroom.quantities.sugar_boiling import fraction_of_baume

    return _by_weight(fraction_of_baume(baume_deg), water, total if water or total else "1 kg")


def _by_weight(fraction: float, water: str, total: str) -> syrup.SyrupAmounts:
    return syrup.by_weight(
        fraction,
        water_g=amounts.mass_g(water, "water") if water else 0.0,
        total_g=_weight_g(total) if total else 0.0,
    )


def _weight_g(text: str) -> float:
    amount = amounts.parse(text)
    if amount.kind != "mass":
        raise InputError(f"“{text}” is not a weight; the whole syrup goes by weight.")
    return amount.value


def _water_boils(altitude: str, boiling: str) -> Band:
    """As measured where it was measured, else by the altitude."""
    from stillroom.process.altitude_text import read_altitude
    from stillroom.quantities.sugar_boiling import measured, water_boils

    return measured(read_temp_c(boiling)) if boiling else water_boils(read_altitude(altitude))


def _boils(fraction: float, altitude: str, boiling: str) -> dict[str, Any] | None:
    """Where this syrup boils, if a place is told."""
    if not (altitude or boiling):
        return None
    from stillroom.quantities.sugar_boiling import syrup_boils

    water = _water_boils(altitude, boiling)
    return {"water_boils_c": _keys(water), "syrup_boils_c": _keys(syrup_boils(fraction, water))}


def _known(made: syrup.SyrupAmounts) -> dict[str, Any]:
    from stillroom.quantities import sugar_boiling

    found = sugar_boiling.syrup(made.real_fraction)
    return {
        "specific_gravity_20_c": found.gravity,
        "baume_deg": found.baume_deg,
        "volume_ml": (made.sugar_g + made.water_ml) / found.density_kg_m3 * 1000,
        "water_activity": found.water_activity,
        "crystals_below_c": found.crystals_below_c,
    }


def _keys(band: Band) -> dict[str, float]:
    return {"low": band.low, "middle": band.middle, "high": band.high}


def _jelly(altitude: str, boiling: str, as_json: bool) -> None:
    from stillroom.process.altitude_text import read_altitude
    from stillroom.quantities.sugar_boiling import jelly_sets, measured, water_boils

    if not (altitude or boiling):
        raise InputError("Jelly sets by altitude: give --altitude, or better --boiling as you measured it, or both.")
    printed = gel_point.at_altitude(read_altitude(altitude)) if altitude else None
    found = gel_point.from_boiling(read_temp_c(boiling)) if boiling else printed
    assert found is not None
    water = measured(read_temp_c(boiling)) if boiling else water_boils(read_altitude(altitude))
    band = jelly_sets(water.middle) if boiling else None
    if as_json:
        lines = (printed or found).lines
        print_json(
            {
                "temp_c": found.temp_c,
                "temp_f": fahrenheit(found.temp_c) if found.temp_c is not None else None,
                "band_c": _keys(band) if band else None,
                "printed_lines": [{"altitude_ft": row.altitude_ft, "temp_f": row.temp_f} for row in lines],
                "water_boils_c": _keys(water),
                "how": found.how,
                "source": found.source,
                "caution": COLD_SPOON,
            }
        )
        return
    _print_jelly(found, printed, band, water)


def _print_jelly(
    found: gel_point.GelAnswer, printed: gel_point.GelAnswer | None, band: Band | None, water: Band
) -> None:
    if found.temp_c is None:
        print(f"No line is printed for this altitude: {found.how}.")
    else:
        print(f"Sets at {fahrenheit(found.temp_c):.0f} °F ({found.temp_c:.1f} °C): {found.how}.")
    for row in printed.lines if printed else ():
        print(f"  printed: {row.altitude_ft:g} ft sets at {row.temp_f:g} °F")
    if band is not None:
        print(
            f"  Soft from {band.low:.1f} °C ({fahrenheit(band.low):.0f} °F), hard at {band.high:.1f} °C "
            f"({fahrenheit(band.high):.0f} °F): 65 to 66 % sugar"
        )
    else:
        print(
            f"  Water boils there at {water.low:.1f} to {water.high:.1f} °C by the weather and the thermometer: "
            "measure it and give --boiling"
        )
    print(f"  ! {COLD_SPOON}")
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


def _print_lines(what: str, made: syrup.SyrupAmounts, answer: dict[str, Any]) -> None:
    print(f"Syrup, {what}")
    print(f"  Water   {made.water_ml:6.0f} ml   ({made.water_cups:.3g} US cups)")
    print(f"  Sugar   {bench_g(made.sugar_g):6g} g    ({mass_text(made.sugar_g)} exactly)")
    nominal = f"; printed as {made.row.nominal_percent:g}%" if made.row else ""
    print(f"  {made.real_fraction:.1%} sugar by weight{nominal}")
    print(
        f"  Gives {answer['volume_ml']:.0f} ml; a hydrometer shows {answer['baume_deg']:.1f} °Bé "
        f"({answer['specific_gravity_20_c']:.3f}) at 20 °C"
    )
    if answer["crystals_below_c"] is not None:
        print(f"  Below {answer['crystals_below_c']:.0f} °C sugar comes out sooner or later")
    if "syrup_boils_c" in answer:
        print(f"  Boils at {_temps(answer['syrup_boils_c'])}, where water boils at {_temps(answer['water_boils_c'])}")
    print(f"  {SAFETY} Its water activity is about {answer['water_activity']:.2f}.")
    if made.row:
        print(f"  Source: {made.row.source}; evidence: {made.row.evidence}")


def _temps(band: dict[str, float]) -> str:
    """One figure where it was measured, else from low to high."""
    if band["low"] == band["high"]:
        return f"about {band['middle']:.1f} °C ({fahrenheit(band['middle']):.0f} °F)"
    low, high = band["low"], band["high"]
    return f"{low:.1f} to {high:.1f} °C ({fahrenheit(low):.0f} to {fahrenheit(high):.0f} °F)"
