"""`stillroom process FOOD`: the tested process for one canner load, or a refusal with its ways out."""

from __future__ import annotations

import json
from datetime import date
from typing import Annotated, Any

import typer

from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.model.process import ProcessCard, ProcessRefusal
from stillroom.process.altitude_text import read_altitude
from stillroom.process.answer_keys import card_keys, refusal_keys
from stillroom.process.canner_text import read_canner
from stillroom.process.cycle import cycle
from stillroom.process.find import find
from stillroom.process.jar_text import jar_name
from stillroom.process.steps import CAUTION, headspace_text

REFUSED = 3

# What `process` and `heat` ask alike.
FoodWords = Annotated[str, typer.Argument(help="The food, in your own words: beef, “haricots verts”, courgette.")]
JarOption = Annotated[str, typer.Option("--jar", help="quart, pint, half-pint, 1200ml, 12 oz.")]
CannerOption = Annotated[str, typer.Option("--canner", help="“boiling water”, steam, dial or weighted.")]
AltitudeOption = Annotated[str, typer.Option("--altitude", help="With its unit: “760 m”, “2500 ft”.")]
FormOption = Annotated[str, typer.Option("--form", help="How it is cut or made; needed where several exist.")]
PackOption = Annotated[str, typer.Option("--pack", help="raw or hot; needed where both exist.")]
GaugeErrorOption = Annotated[float, typer.Option("--gauge-error", help="Dial: psi shown minus true psi.")]
GaugeTestedOption = Annotated[str, typer.Option("--gauge-tested", help="Day of the last test: 2026-06-30.")]
AmountOption = Annotated[str, typer.Option("--amount", help="Raw food, “20 lb”: jars to have ready.")]
JsonOption = Annotated[bool, typer.Option("--json", help="Print for machines.")]


def process_command(
    food: FoodWords,
    jar: JarOption,
    canner: CannerOption,
    altitude: AltitudeOption,
    *,
    form: FormOption = "",
    pack: PackOption = "",
    gauge_error: GaugeErrorOption = 0.0,
    gauge_tested: GaugeTestedOption = "",
    amount: AmountOption = "",
    as_json: JsonOption = False,
) -> None:
    """Look up a tested process; exit code 3 when there is none."""
    answer = find(
        food,
        form=form or None,
        pack=pack or None,
        jar=jar,
        canner=read_canner(canner),
        altitude_m=read_altitude(altitude),
        gauge_error_psi=gauge_error,
        gauge_tested_on=read_day(gauge_tested),
        today=date.today(),  # noqa: DTZ011 - the household's own calendar day
    )
    if isinstance(answer, ProcessRefusal):
        print(_json(refusal_keys(answer)) if as_json else wrapped(refusal_text(answer)))
        raise typer.Exit(REFUSED)
    jars = jars_keys(answer, amount) if amount else {}
    print(_json(card_keys(answer) | jars) if as_json else wrapped(card_text(answer) + jars_text(jars)))


def card_text(card: ProcessCard) -> str:
    """A card for a plain terminal."""
    hold = ""
    if card.pressure_psi is not None and card.pressure_kpa is not None:
        hold = f" at {card.pressure_psi:g} psi ({card.pressure_kpa:.0f} kPa) on this {card.canner}"
    counted = jar_name(card.jar_counted_as)
    jar = card.jar_asked if card.jar_asked == counted else f"{card.jar_asked} (counted as {counted})"
    lines = [
        f"TESTED  {card.food}: {card.form}, {card.pack} pack, {jar}",
        f"  {card.minutes} min{hold or f' in {card.canner}'}, at {card.altitude_m:.0f} m",
        f"  Headspace {headspace_text(card.headspace_in)}"
        + (f"; acid: {card.acidification}" if card.acidification else ""),
        *(f"  Or instead: {minutes} min at {psi} psi" for minutes, psi in card.choices),
        f"  The whole load takes about {cycle(card).total_min} min",
        *(f"  ! {warning}" for warning in card.warnings),
        *(f"  {number}. {step}" for number, step in enumerate(card.steps, start=1)),
        f"  Note of the table: {card.row.note}" if card.row.note else "",
        f"  Source: {card.row.guide_table}; {card.row.source} (evidence: {card.row.evidence.value})",
        f"  {card.row.url}" if card.row.url else "",
        f"  {CAUTION}",
    ]
    return "\n".join(line for line in lines if line)


def refusal_text(refusal: ProcessRefusal) -> str:
    """A refusal for a plain terminal."""
    lines = [
        f"REFUSED  {refusal.food} ({refusal.rule})",
        f"  {refusal.reason}",
        f"  NOT TESTED: {refusal.common_practice}" if refusal.common_practice else "",
        "  Instead (each looked up before it is shown):" if refusal.alternatives else "",
        *(f"  - {way.what}" for way in refusal.alternatives),
        f"  Source: {refusal.source}" if refusal.source else "",
        f"  {CAUTION}",
    ]
    return "\n".join(line for line in lines if line)


def jars_keys(card: ProcessCard, amount: str) -> dict[str, Any]:
    """Jars for an amount of raw food; imported late, because it needs the tables of measures."""
    from stillroom.process.jars_needed import jars_needed
    from stillroom.quantities.amounts import mass_g

    needed = jars_needed(card.row.food, card.form, mass_g(amount, card.food), card.jar_counted_as)
    if needed is None:
        raise InputError(
            f"No average of jars per weight is published for {card.food}, {card.form}; leave --amount out."
        )
    return {
        "jars_fewest": needed.fewest,
        "jars_most": needed.most,
        "jars_note": needed.note,
        "jars_source": needed.source,
    }


def jars_text(jars: dict[str, Any]) -> str:
    """The line with the jars for a plain terminal; nothing where no amount was given."""
    if not jars:
        return ""
    note = f" ({jars['jars_note']})" if jars["jars_note"] else ""
    return (
        f"\n  Jars: have {jars['jars_most']} ready, expect at least {jars['jars_fewest']}{note}; {jars['jars_source']}"
    )


def read_day(text: str) -> date | None:
    """A day as year-month-day; None where none was given."""
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(f"“{text}” is not a day that can be read. Write it as year-month-day: 2026-06-30.") from None


def _json(keys: dict[str, Any]) -> str:
    return json.dumps(keys, ensure_ascii=False, indent=2)
