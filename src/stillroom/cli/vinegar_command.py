"""`stillroom vinegar`: a vinegar mixed to a strength, or what a mixture holds."""

from __future__ import annotations

import math
from typing import Annotated

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError
from stillroom.quantities import acid, amounts
from stillroom.quantities.measured_text import read_percent


def vinegar_command(
    volume: Annotated[str, typer.Argument(help="How much is wanted, as in “1 l” or “3 cups”.")] = "",
    *,
    to: Annotated[str, typer.Option("--to", help="Strength wanted, as in “5%”; not less than 5%.")] = "5%",
    stronger: Annotated[str, typer.Option("--from", help="Strength of the strong vinegar, from its bottle.")] = "",
    weaker: Annotated[str, typer.Option("--with", help="Strength of what it is mixed with; 0% is water.")] = "0%",
    mix: Annotated[list[str] | None, typer.Option("--mix", help="What is mixed: “600 ml=6%”; repeat.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Mix a vinegar to a strength, never below the 5 % of tested recipes; or learn what a mixture holds."""
    with refusal_said(as_json):
        if bool(volume) == bool(mix):
            raise InputError("Give the volume wanted with --from, or what is mixed with --mix “600 ml=6%”.")
        strengths = [text.partition("=")[2] for text in mix] if mix else [stronger, weaker]
        answer, line = _mixture(mix) if mix else _blend(volume, to, stronger, weaker)
        cautions = acid.cautions(max(read_percent(text) for text in strengths))
    if as_json:
        print_json({**answer, "caution": " ".join(cautions)})
        return
    print(line)
    for caution in cautions:
        print(f"  ! {caution}")


def _mixture(mix: list[str]) -> tuple[dict[str, object], str]:
    parts = []
    for text in mix:
        volume, sign, strength = text.partition("=")
        if not sign:
            raise InputError(f"“{text}” can't be read; write --mix as in “600 ml=6%”.")
        parts.append(acid.Vinegar(amounts.volume_ml(volume), read_percent(strength)))
    together = acid.mixed(*parts)
    acid.check_strength(round(together.strength, 9))
    from stillroom.quantities.acid_estimate import vinegar_ph

    estimate = str(vinegar_ph(together.volume_ml, together.strength))
    return (
        {"volume_ml": together.volume_ml, "percent_acetic": together.strength * 100, "estimate": estimate},
        f"Together {together.volume_ml:.0f} ml of {together.strength:.2%} acid, {estimate}",
    )


def _blend(volume: str, to: str, stronger: str, weaker: str) -> tuple[dict[str, object], str]:
    if not stronger:
        raise InputError("Give --from: the acid of the stronger vinegar as its bottle says.")
    acid.check_strength(read_percent(stronger))
    made = acid.blend(amounts.volume_ml(volume), read_percent(to), read_percent(stronger), read_percent(weaker))
    # Rounded so that the mixture is never weaker than asked.
    strong_ml, weak_ml = math.ceil(made.stronger_ml - 1e-6), math.floor(made.weaker_ml + 1e-6)
    other = "water" if read_percent(weaker) == 0 else f"{weaker} vinegar"
    return (
        {"stronger_ml": made.stronger_ml, "weaker_ml": made.weaker_ml, "percent_acetic": made.strength * 100},
        f"{strong_ml} ml of {stronger} vinegar and {weak_ml} ml of {other} give {made.strength:.2%} acid",
    )
