"""What to weigh for each batch of a plan and what to beware of, printed for people."""

from __future__ import annotations

from itertools import groupby

from rich.console import Console
from rich.text import Text

from stillroom.model.plan import Plan, PlannedRun, Sheet
from stillroom.quantities.bench import mass_text


def print_sheets(out: Console, plan: Plan) -> None:
    """Every run with its amounts by the batch; the cautions of a recipe and the same advice once."""
    out.rule("What to weigh", align="left")
    warned: set[str] = set()
    advised: set[str] = set()
    for day, runs in groupby(plan.runs, key=lambda run: run.day):
        out.print(Text(f"{day:%A} {day.day} {day:%B}", style="bold"))
        for run in runs:
            _print_run(out, run, is_first=run.recipe not in warned)
            _print_advice(out, run, advised)
            warned.add(run.recipe)


def _print_run(out: Console, run: PlannedRun, *, is_first: bool) -> None:
    for sheet in run.sheets:
        weighed = "; ".join(_line(line.what, line.mass_g, line.preparation, line.is_optional) for line in sheet.weighed)
        out.print(Text.assemble("  ", (run.name, "bold"), f"{_batch_words(run, sheet)}: {weighed}."))
    if run.acid_per_jar:
        out.print(Text(f"    into every jar: {', or '.join(run.acid_per_jar)}", style="bold"))
    if is_first:
        for caution in run.cautions:
            out.print(Text(f"    ! {caution}", style="yellow"))


def _print_advice(out: Console, run: PlannedRun, advised: set[str]) -> None:
    """The same words once."""
    for words in run.advice:
        if words not in advised:
            out.print(Text(f"    → {words}"))
            advised.add(words)


def _batch_words(run: PlannedRun, sheet: Sheet) -> str:
    jars = f" of {sheet.jars} {run.jar} jars" if sheet.jars else ""
    if sheet.count > 1:
        return f", for each of {sheet.count} batches{jars}"
    return f", for {'a batch' + jars if jars else 'all'}"


def _line(what: str, mass_g: float, preparation: str, is_optional: bool) -> str:
    words = f"{mass_text(mass_g)} {what}"
    if preparation:
        words += f" ({preparation})"
    return f"{words}, if liked" if is_optional else words
