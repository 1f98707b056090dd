"""`stillroom dough`: what to weigh by baker's percentages, how warm the water, how long the rise."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError
from stillroom.quantities import amounts
from stillroom.quantities.bench import bench_g
from stillroom.quantities.dough import DoughAmounts, Formula, Preferment, unusual
from stillroom.quantities.dough_ready_answer import Asked, ready_answer, ready_keys, ready_text
from stillroom.quantities.dough_temperature import DoughWater, dough_water, friction_k, time_at, water_temp_c
from stillroom.quantities.measured_text import read_difference_k, read_percent, read_temp_c, read_time_min
from stillroom.units import fahrenheit

FLOUR = "wheat flour, bread"
DOUGH = "dough"  # has no measures: only a weight is read


def dough_command(
    *,
    flour: Annotated[str, typer.Option("--flour", help="All flour, as in “1 kg”.")] = "",
    total: Annotated[str, typer.Option("--total", help="Instead of --flour: the whole dough.")] = "",
    water: Annotated[str, typer.Option("--water", help="Share of the flour, as in “65%”.")] = "",
    salt: Annotated[str, typer.Option("--salt", help="Share of the flour, as in “2%”.")] = "",
    yeast: Annotated[str, typer.Option("--yeast", help="Share of the flour, as in “0.5%”.")] = "0%",
    add: Annotated[list[str] | None, typer.Option("--add", help="More, as in “butter=10%”; repeat.")] = None,
    preferment: Annotated[str, typer.Option("--preferment", help="Share of the flour set beforehand.")] = "",
    preferment_water: Annotated[str, typer.Option(help="Share of the preferment's own flour.")] = "100%",
    preferment_yeast: Annotated[str, typer.Option(help="Share of the preferment's own flour.")] = "0%",
    dough_temp: Annotated[str, typer.Option(help="Dough wanted, as in “25 C” or “77 F”.")] = "",
    flour_temp: Annotated[str, typer.Option(help="Temperature of the flour.")] = "",
    room: Annotated[str, typer.Option(help="Temperature of the room.")] = "",
    preferment_temp: Annotated[str, typer.Option(help="Temperature of the preferment.")] = "",
    friction: Annotated[str, typer.Option(help="What kneading warms, as in “5 F” by hand; measure yours.")] = "",
    tap: Annotated[str, typer.Option(help="Temperature of tap water: says how much ice.")] = "",
    reached: Annotated[str, typer.Option(help="Dough measured after kneading: tells your friction.")] = "",
    water_was: Annotated[str, typer.Option(help="With --reached: the water you had used.")] = "",
    known_time: Annotated[str, typer.Option(help="A rise you know, as in “2 h”.")] = "",
    known_temp: Annotated[str, typer.Option(help="The dough temperature of that rise.")] = "",
    stand: Annotated[
        list[str] | None, typer.Option("--stand", help="Where it stands, “fridge 4 C 9 h”; repeat, the last untimed.")
    ] = None,
    begun: Annotated[str, typer.Option("--begun", help="The hour it is mixed, as in 20:30.")] = "",
    want: Annotated[str, typer.Option("--want", help="With --begun: the hour it should be ready, as in 7:00.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Weigh a dough by baker's percentages, with its water temperature, and say when it is ready where it stands."""
    asked = Asked(known_time, known_temp, dough_temp, room, tuple(stand or ()), begun, want)
    if total and asked.is_asked and not (flour or water or salt):
        _only_ready(asked, amounts.mass_g(total, DOUGH), as_json=as_json)
        return
    with refusal_said(as_json):
        formula = Formula(
            water=read_percent(_needed(water, "--water")),
            salt=read_percent(_needed(salt, "--salt")),
            yeast=read_percent(yeast),
            others=dict(_other(text) for text in add or []),
            preferment=_preferment(preferment, preferment_water, preferment_yeast),
        )
        if bool(flour) == bool(total):
            raise InputError("Give --flour or --total, one of them.")
        weighed = amounts.weigh(flour or total, FLOUR if flour else DOUGH)
        dough = formula.from_flour(weighed.mass_g) if flour else formula.from_total(weighed.mass_g)
        is_mixed = bool(flour_temp or friction or (room and not asked.is_asked))
        mixing = (
            _mixing_water(dough, dough_temp, flour_temp, room, friction, preferment_temp, tap) if is_mixed else None
        )
        rise_min = _rise_min(known_time, known_temp, dough_temp)
        learned_k = _learned_friction_k(reached, [flour_temp, room, water_was, preferment_temp])
        ready = ready_answer(asked, dough.total_g) if asked.is_asked else None
    if as_json:
        more = {"friction_k": learned_k, "weighed_by": weighed.how, "ready": ready_keys(ready)}
        print_json({**_as_json(dough, mixing, rise_min), **more, "unusual": unusual(formula)})
    else:
        _print_lines(dough, mixing, rise_min)
        if ready is not None:
            print(ready_text(ready))
        if learned_k is not None:
            print(f"  Your friction is {learned_k * 1.8:.1f} °F ({learned_k:.1f} °C); write it down for this dough")
        for words in unusual(formula):
            print(f"  {words}")
        if weighed.row:
            print(f"  {flour or total} of flour taken as {weighed.mass_g:.0f} g: {weighed.how}")


def _only_ready(asked: Asked, mass_g: float, *, as_json: bool) -> None:
    """The rise of a dough that is weighed already."""
    ready = ready_answer(asked, mass_g)
    if as_json:
        print_json({"total_g": mass_g, "ready": ready_keys(ready)})
        return
    print(f"Dough of {mass_g:.0f} g")
    print(ready_text(ready))


def _needed(text: str, option: str) -> str:
    if not text:
        raise InputError(f"Give {option}, as a share of the flour with its % sign.")
    return text


def _other(text: str) -> tuple[str, float]:
    name, _, share = text.partition("=")
    if not name.strip() or not share:
        raise InputError(f"“{text}” can't be read; write --add as in “butter=10%”.")
    return name.strip(), read_percent(share)


def _preferment(share: str, water: str, yeast: str) -> Preferment | None:
    return Preferment(read_percent(share), read_percent(water), read_percent(yeast)) if share else None


def _mixing_water(
    dough: DoughAmounts, wanted: str, flour: str, room: str, friction: str, preferment: str, tap: str
) -> DoughWater | None:
    if not wanted:
        return None
    if not (flour and room and friction):
        raise InputError("The water temperature needs --flour-temp, --room and --friction beside --dough-temp.")
    if bool(preferment) != (dough.preferment_flour_g > 0):
        raise InputError("Give --preferment-temp with a preferment, and only then.")
    wanted_c = water_temp_c(
        read_temp_c(wanted),
        read_temp_c(flour),
        read_temp_c(room),
        read_difference_k(friction),
        read_temp_c(preferment) if preferment else None,
    )
    if not tap:
        return DoughWater(wanted_c, 0.0, dough.final_water_g, "give --tap to learn whether ice is needed")
    return dough_water(wanted_c, dough.final_water_g, read_temp_c(tap))


def _rise_min(known_time: str, known_temp: str, dough_temp: str) -> float | None:
    if not (known_time or known_temp):
        return None
    if not (known_time and known_temp and dough_temp):
        raise InputError("A rising time needs --known-time, --known-temp and --dough-temp.")
    return time_at(read_time_min(known_time), read_temp_c(known_temp), read_temp_c(dough_temp))


def _learned_friction_k(reached: str, temps: list[str]) -> float | None:
    """The friction of this kneading, from what went in: flour, room, water and, if there was one, the preferment."""
    if not reached:
        return None
    if not all(temps[:3]):
        raise InputError("Your friction needs --flour-temp, --room and --water-was beside --reached.")
    return friction_k(read_temp_c(reached), tuple(read_temp_c(temp) for temp in temps if temp))


def _as_json(dough: DoughAmounts, mixing: DoughWater | None, rise_min: float | None) -> dict[str, object]:
    return {
        "flour_g": dough.flour_g,
        "water_g": dough.water_g,
        "salt_g": dough.salt_g,
        "yeast_g": dough.yeast_g,
        "others_g": dough.others_g,
        "total_g": dough.total_g,
        "preferment": {
            "flour_g": dough.preferment_flour_g,
            "water_g": dough.preferment_water_g,
            "yeast_g": dough.preferment_yeast_g,
        },
        "water_temp_c": mixing.temp_c if mixing else None,
        "ice_g": mixing.ice_g if mixing else None,
        "rise_min": rise_min,
        "source": "rules of bread: baker's percentages, water temperature, rising time (rule of thumb)",
    }


def _print_lines(dough: DoughAmounts, mixing: DoughWater | None, rise_min: float | None) -> None:
    if dough.preferment_flour_g:
        print("Preferment")
        _line("Flour", dough.preferment_flour_g)
        _line("Water", dough.preferment_water_g)
        _line("Yeast", dough.preferment_yeast_g)
        print("Dough, with all of the preferment")
    else:
        print("Dough")
    _line("Flour", dough.final_flour_g)
    _line("Water", dough.final_water_g)
    _line("Salt", dough.salt_g)
    _line("Yeast", dough.final_yeast_g)
    for name, mass_g in dough.others_g.items():
        _line(name.capitalize(), mass_g)
    print(f"  {'Together':<12} {dough.total_g:8.0f} g")
    if mixing:
        ice = f", {bench_g(mixing.ice_g):g} g of it ice" if mixing.ice_g else ""
        print(f"  Water at {mixing.temp_c:.0f} °C ({fahrenheit(mixing.temp_c):.0f} °F){ice}: {mixing.note}")
    if rise_min is not None:
        print(f"  Rise about {rise_min / 60:.1f} h (rule of thumb: twice the time for each 17 °F colder)")


def _line(name: str, mass_g: float) -> None:
    if mass_g > 0:
        print(f"  {name:<12} {bench_g(mass_g):8g} g")
