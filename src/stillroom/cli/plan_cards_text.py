"""Process cards and refusals of a plan, printed for people."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.panel import Panel
from rich.text import Text

from stillroom.model.plan import Plan, PlannedRun, RefusedJar
from stillroom.model.process import ProcessCard
from stillroom.process.jar_text import jar_name
from stillroom.units import MM_PER_IN, feet


def print_cards(out: Console, plan: Plan) -> None:
    """Each different card once, with the runs it serves."""
    out.rule("Process cards", align="left")
    cards: dict[tuple[str, str, str], list[PlannedRun]] = {}
    for run in plan.runs:
        if run.card is not None:
            cards.setdefault((run.card.row.key, run.jar, run.canner), []).append(run)
    if not cards:
        out.print("  No jars in this plan.")
    shared = _shared_steps(cards.values())
    for runs in cards.values():
        out.print(_panel(runs, shared.get(runs[0].canner, ())))
    for canner, steps in shared.items():
        if steps:
            out.print(Text(f"  For every load of the {canner}:", style="bold"))
            for step in steps:
                out.print(f"    · {step}")


def _shared_steps(cards: Iterable[list[PlannedRun]]) -> dict[str, tuple[str, ...]]:
    """By canner, the steps that all its cards have in common, where it has more than one card."""
    by_canner: dict[str, list[ProcessCard]] = {}
    for runs in cards:
        if runs[0].card is not None:
            by_canner.setdefault(runs[0].canner, []).append(runs[0].card)
    return {
        canner: tuple(step for step in found[0].steps if all(step in card.steps for card in found))
        for canner, found in by_canner.items()
        if len(found) > 1
    }


def print_refused(out: Console, plan: Plan) -> None:
    """Jars that may not be used, once for each jar and rule, with an example and its first way out."""
    if not plan.refused:
        return
    out.rule("Refused for safety", align="left")
    told: dict[tuple[str, str], list[RefusedJar]] = {}
    for entry in plan.refused:
        told.setdefault((entry.jar, entry.refusal.rule), []).append(entry)
    for (jar, rule), entries in told.items():
        names = ", ".join(dict.fromkeys(entry.recipe for entry in entries))
        out.print(Text.assemble("  ", (f"{jar} jars, {rule}", "bold"), f": not for {names}."))
        refusal = max((entry.refusal for entry in entries), key=lambda refusal: len(refusal.common_practice))
        out.print(f"    For example: {refusal.reason}")
        if refusal.common_practice:
            out.print(f"    {refusal.common_practice}")
        for way in refusal.alternatives[:1]:
            out.print(f"    Instead: {way.what}")


def _panel(runs: list[PlannedRun], shared: Sequence[str]) -> Panel:
    first = runs[0]
    card = first.card
    assert card is not None
    jars = sum(run.jars for run in runs)
    lines = Text()
    lines.append(_process_words(card), style="bold")
    lines.append(f"   headspace {card.headspace_in:g} in ({card.headspace_in * MM_PER_IN:.0f} mm)\n")
    loads = ", ".join(f"{run.day:%a} {run.jars}" for run in runs)
    lines.append(f"{jars} jars ({loads}), up to {first.jars_per_load} in a load of the {first.canner}\n")
    if first.acid_per_jar:
        lines.append(f"Acid in every jar: {', or '.join(first.acid_per_jar)}\n", style="bold")
    if card.sterilise_jars:
        lines.append("Sterilise the jars first: the process is under 10 minutes.\n")
    for step in card.steps:
        if step not in shared:
            lines.append(f"· {step}\n")
    for warning in card.warnings:
        lines.append(f"! {warning}\n", style="yellow")
    lines.append(f"Source: {card.row.guide_table}; {card.row.source} [{card.row.evidence.value}]", style="dim")
    counted_as = jar_name(card.jar_counted_as)
    counted = "" if counted_as == first.jar else f" (counted as {counted_as})"
    title = f"{card.food}, {card.form}, {card.pack} pack, {first.jar}{counted}"
    return Panel(lines, title=title, title_align="left")


def _process_words(card: ProcessCard) -> str:
    place = f"{card.altitude_m:.0f} m ({feet(card.altitude_m):.0f} ft)"
    if card.pressure_psi is None:
        return f"{card.minutes} min, {card.canner.value}, at {place}"
    pressure = f"{card.pressure_psi:g} psi ({card.pressure_kpa:.0f} kPa)"
    return f"{card.minutes} min at {pressure}, {card.canner.value}, at {place}"
