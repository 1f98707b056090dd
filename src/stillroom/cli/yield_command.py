"""`stillroom yield FOOD AMOUNT`: what is left after trimming, boning, cooking or drying; jars; parts of an animal."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from stillroom.cli.sums_output import print_json
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.quantities import amounts
from stillroom.quantities.bench import bench_g, mass_text
from stillroom.quantities.carcass import Breakdown, all_species, break_down
from stillroom.quantities.yields import PER_QUART, Range, after, jars
from stillroom.tables.vocabulary import hear
from stillroom.tables.yields import yields

NO_PROCESS = "Jars to have ready, not a process: ask `stillroom process` before anything is canned."
ESTIMATE = "Breed, fat and the cutter's knife move the parts by several per cent."


def yield_command(
    food: Annotated[str, typer.Argument(help="As in “apples”, “beef brisket”, or an animal: “pork”, “lamb”.")],
    amount: Annotated[str, typer.Argument(help="How much of it, as in “20 lb” or “1 bushel”.")],
    *,
    live: Annotated[bool, typer.Option("--live", help="An animal by its live weight.")] = False,
    carcass: Annotated[bool, typer.Option("--carcass", help="An animal by its carcass weight.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """What an amount gives: trimmed, cooked, dried, in jars; or the parts of an animal."""
    if live and carcass:
        raise InputError("Give --live or --carcass, one of them.")
    answer = _animal(food, amount, is_live=live) if live or carcass else _food(food, amount)
    print_json(answer) if as_json else print(wrapped(_text(answer)))


def _animal(name: str, amount: str, *, is_live: bool) -> dict[str, Any]:
    known = name.strip().lower()
    weight = amounts.parse(amount)
    if weight.kind != "mass":
        raise InputError(f"“{amount}” is not a weight; an animal goes by weight.")
    if known not in all_species():
        raise InputError(
            f"Animals with printed parts are {', '.join(sorted(all_species()))}; “{name}” is none of them."
        )
    found = break_down(known, weight.value, "live" if is_live else "carcass")
    return {
        "food": known,
        "mass_g": weight.value,
        "carcass_g": {"low": found.carcass_low_g, "high": found.carcass_high_g},
        "parts_g": dict(found.parts_g),
        "caution": ESTIMATE,
        "source": _animal_sources(found),
    }


def _animal_sources(found: Breakdown) -> str:
    return "; ".join(dict.fromkeys(rule.source for rule in found.species.rules))


def _food(name: str, amount: str) -> dict[str, Any]:
    key = hear(name).food.key
    mass_g = amounts.mass_g(amount, key)
    rows = yields(key)
    pairs = dict.fromkeys((row.from_state, row.to_state) for row in rows if row.fraction is not None)
    into = dict.fromkeys(row.to_state for row in rows if row.kind == PER_QUART and not row.evidence.startswith("doubt"))
    if not pairs and not into:
        also = f" Animals by weight: --live or --carcass with {', '.join(sorted(all_species()))}."
        raise InputError(f"No yield is in our tables for {key}.{also}")
    return {
        "food": key,
        "mass_g": mass_g,
        "gives": [_given(mass_g, key, *pair) for pair in pairs],
        "jars": [_jars(mass_g, key, state) for state in into],
        "caution": NO_PROCESS if into else "",
    }


def _given(mass_g: float, key: str, from_state: str, to_state: str) -> dict[str, Any]:
    left = after(mass_g, key, from_state, to_state)
    return {"from": from_state, "to": to_state, "low_g": left.low, "high_g": left.high, "source": _sources(left)}


def _jars(mass_g: float, key: str, state: str) -> dict[str, Any]:
    quarts, pints = (jars(mass_g, key, size, state) for size in (JarSize.QUART, JarSize.PINT))
    return {
        "as": state,
        "quarts": [quarts.low, quarts.high],
        "pints": [pints.low, pints.high],
        "source": _sources(quarts),
    }


def _sources(found: Range) -> str:
    return "; ".join(dict.fromkeys(f"{row.source} ({row.evidence})" for row in found.rows))


def _text(answer: dict[str, Any]) -> str:
    lines = [f"{answer['food'].capitalize()}, {mass_text(bench_g(answer['mass_g']))}"]
    if "parts_g" in answer:
        low, high = (mass_text(bench_g(answer["carcass_g"][end])) for end in ("low", "high"))
        lines.append(f"  carcass: {low}" + (f" to {high}" if low != high else ""))
        lines += [f"  {part}: about {mass_text(bench_g(grams))}" for part, grams in answer["parts_g"].items()]
    for given in answer.get("gives", ()):
        low, high = (mass_text(bench_g(given[end])) for end in ("low_g", "high_g"))
        lines.append(f"  {given['from']} → {given['to']}: {low}" + (f" to {high}" if low != high else ""))
        lines.append(f"    {given['source']}")
    for filled in answer.get("jars", ()):
        quarts, pints = (_span(*filled[size]) for size in ("quarts", "pints"))
        lines.append(f"  {filled['as']}: {quarts} quart jars or {pints} pints, if it is all as it was bought")
        lines.append(f"    {filled['source']}")
    if answer["caution"]:
        lines.append(f"  ! {answer['caution']}")
    return "\n".join([*lines, *([f"  Source: {answer['source']}"] if "source" in answer else [])])


def _span(low: float, high: float) -> str:
    return f"{low:.1f}" if abs(high - low) < 0.05 else f"{low:.1f} to {high:.1f}"
