"""A plan printed for people, plain or in colour as the terminal can."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import groupby

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stillroom.cli.plan_cards_text import print_cards, print_refused
from stillroom.cli.plan_sheets_text import print_sheets
from stillroom.cli.plan_sureness_text import days_words, print_sureness
from stillroom.model.plan import Left, Made, NextBest, NotDone, Plan, PlannedMeal, PlannedRun, PlannedTask, Wanted
from stillroom.model.work import Attention

PAGE_WIDTH = 110
TELL_NOT_FITTING = 8
CAUTION = (
    "Keep to the process on the card, on this gauge, for this jar and altitude. If anything differs from the card, "
    "or a jar leaks, spurts or smells wrong, do not taste it. Your local food-safety authority and extension "
    "service have the last word; Stillroom does not replace them, nor a licensed practitioner."
)


def print_plan(plan: Plan, console: Console | None = None) -> None:
    """The whole plan from top to bottom."""
    out = console or page_console()
    _heading(out, plan)
    _print_runs(out, plan)
    print_sheets(out, plan)
    print_cards(out, plan)
    print_refused(out, plan)
    _print_ready(out, plan.ready)
    _print_days(out, plan)
    _print_left(out, plan.left)
    _print_not_done(out, plan.not_done, "Why not more, and ways out")
    _print_larder(out, plan)
    _print_tight(out, plan)
    print_sureness(out, plan)
    out.rule("Cautions", align="left")
    out.print(CAUTION)
    _print_effort(out, plan)


def page_console() -> Console:
    """As wide as the terminal; into a file or a pipe as wide as a printed page."""
    out = Console(highlight=False, emoji=False)
    if out.is_terminal or os.environ.get("COLUMNS", "").isdigit():
        return out
    return Console(highlight=False, emoji=False, width=PAGE_WIDTH)


def day_words(day: date) -> str:
    """Saturday 10 April."""
    return f"{day:%A} {day.day} {day:%B}"


def mass_words(mass_g: float) -> str:
    """Grams below a kilogram, kilograms above."""
    return f"{mass_g / 1000:.1f} kg" if mass_g >= 1000 else f"{mass_g:.0f} g"


def _heading(out: Console, plan: Plan) -> None:
    invented = " (an invented household)" if plan.invented else ""
    out.rule(Text(f"{plan.household}{invented}", style="bold"), align="left")
    days = f"{plan.days} day{'s' if plan.days != 1 else ''}"
    out.print(f"A plan of {days} from {day_words(plan.start)} {plan.start:%Y}.")
    for warning in plan.warnings:
        out.print(Text(f"! {warning}", style="yellow"))


def _print_runs(out: Console, plan: Plan) -> None:
    out.rule("What becomes of the food", align="left")
    if any(run.next_best is not None for run in plan.runs):
        out.print("“or else”: what the food would have become otherwise, all else staying as it is.", style="dim")
    for day, runs in groupby(plan.runs, key=lambda run: run.day):
        out.print(Text(day_words(day), style="bold"))
        for run in runs:
            _print_run(out, run)


def _print_run(out: Console, run: PlannedRun) -> None:
    out.print(Text.assemble("  ", (run.name, "bold"), f"  [{run.use.value}]"))
    if run.taken:
        takes = ", ".join(f"{mass_words(t.mass_g)} {_plain(t.food)}" for t in run.taken)
        out.print(f"    takes {takes}", soft_wrap=True)
    made = "; ".join(_made_words(run, made) for made in run.made)
    out.print(f"    gives {made}", soft_wrap=True)
    for reason in run.reasons:
        out.print(Text(f"    why: {reason}", style="dim"), soft_wrap=True)
    _print_next_best(out, run.next_best)


def _print_next_best(out: Console, next_best: NextBest | None) -> None:
    if next_best is not None:
        out.print(Text(f"    or else: {next_best.words}", style="dim"), soft_wrap=True)


def _made_words(run: PlannedRun, made: Made) -> str:
    if made.count is not None:
        loads = f"{run.loads} load{'s' if run.loads != 1 else ''}"
        return f"{made.count} {run.jar} jars of {made.name}, {loads} in the {run.canner}"
    if made.container == "plate":
        return f"{made.portions:.1f} portions"
    ready = f", ready {made.ready_on:%a} {made.ready_on.day} {made.ready_on:%b}" if made.ready_on > run.day else ""
    return f"{mass_words(made.mass_g)} {made.name} ({made.container}, {made.place.value}{ready})"


def _plain(item: str) -> str:
    """The item without the state that needs no telling."""
    return item.removesuffix(", fresh")


def _print_ready(out: Console, ready: Iterable[Wanted]) -> None:
    out.rule("What to have ready", align="left")
    table = Table(box=None, pad_edge=False)
    for name, side in (("", "left"), ("needed", "right"), ("in the house", "right"), ("to get", "right")):
        table.add_column(name, justify="right" if side == "right" else "left")
    for wanted in ready:
        short = wanted.to_get > 0 and wanted.in_house is not None
        house = _wanted_words(wanted, wanted.in_house) if wanted.in_house is not None else "not counted"
        get = _wanted_words(wanted, wanted.to_get) if wanted.to_get > 0 else ""
        table.add_row(
            wanted.what, _wanted_words(wanted, wanted.needed), house, Text(get, style="bold yellow" if short else "")
        )
    out.print(table)


def _wanted_words(wanted: Wanted, amount: float) -> str:
    return mass_words(amount) if wanted.unit == "g" else f"{amount:.0f}"


def _print_days(out: Console, plan: Plan) -> None:
    names = {run.key: run.name for run in plan.runs}
    rows = [(task.start, (f"{number}", *task_row(task, names))) for number, task in enumerate(plan.tasks, 1)]
    rows += [(meal.at, ("", *_meal_row(meal))) for meal in plan.meals]
    rows.sort(key=lambda row: row[0])
    for day, entries in groupby(rows, key=lambda row: row[0].date()):
        out.rule(f"{day_words(day)} by the clock", align="left")
        table = Table(box=None, pad_edge=False, show_header=False)
        table.add_column("number", no_wrap=True, justify="right", style="dim")
        table.add_column("time", no_wrap=True)
        table.add_column("who", no_wrap=True)
        table.add_column("what")
        for _, row in entries:
            table.add_row(*row)
        out.print(table)


def task_row(task: PlannedTask, names: Mapping[str, str]) -> tuple[str, Text, Text]:
    """Time, person and work; `names` are those of the runs."""
    who = task.person or ("(near)" if task.attention is Attention.NEAR else "(by itself)")
    what = Text.assemble((f"{names[task.run]}: " if task.run else "", "bold"), task.text)
    if task.equipment:
        what.append(f"  [{', '.join(task.equipment)}]", style="dim")
    if task.recipe_min is not None:
        what.append(f"  (at your pace; {task.recipe_min} min by the recipe)", style="dim")
    if task.must_follow:
        what.append(f"\n  ! {task.must_follow}", style="yellow")
    end = f"{task.end:%H:%M}" if task.end.date() == task.start.date() else f"{task.end:%a %H:%M}"
    return f"{task.start:%H:%M}–{end}", Text(who, style="" if task.person else "dim"), what


def _meal_row(meal: PlannedMeal) -> tuple[str, Text, Text]:
    dishes = ", ".join(meal.dishes) or "nothing planned"
    what = Text(
        f"{meal.name.upper()} for {meal.portions:.1f}: {dishes}", style="bold green" if meal.is_on_time else "bold"
    )
    if meal.chance is not None:
        what.append(f"  (on time on {days_words(meal.chance)})", style="dim")
    for missing in meal.missing:
        what.append(f"\n  missing: {missing}", style="bold red")
    return f"{meal.at:%H:%M}", Text("everybody", style="bold"), what


def _print_left(out: Console, left: Iterable[Left]) -> None:
    out.rule("What is left over", align="left")
    for part in left:
        style = "bold red" if part.is_lost else ""
        lost = "LOST: " if part.is_lost else ""
        out.print(Text(f"  {lost}{mass_words(part.mass_g)} {_plain(part.food)}: {part.reason}", style=style))
        _print_next_best(out, part.next_best)


def print_asked(answers: Sequence[NotDone], console: Console | None = None) -> None:
    """Answers to what was asked about a plan."""
    _print_not_done(console or page_console(), answers, "You asked")


def _print_not_done(out: Console, not_done: Iterable[NotDone], heading: str) -> None:
    for number, entry in enumerate(not_done):
        if number == 0:
            out.rule(heading, align="left")
        what = f"{entry.what}: why not " if entry.what else "Why not "
        out.print(Text.assemble("  ", (f"{what}{entry.wish}?", "bold")), soft_wrap=True)
        out.print(f"    {entry.sentence}", soft_wrap=True)
        for rule in entry.rules:
            out.print(f"      · {rule}", style="dim", soft_wrap=True)
        for way in entry.ways_out:
            out.print(Text.assemble("    way out: ", way), soft_wrap=True)


def _print_larder(out: Console, plan: Plan) -> None:
    out.rule("Larder and freezer afterwards", align="left")
    table = Table(box=None, pad_edge=False)
    for name in ("place", "what", "amount", "best by"):
        table.add_column(name, justify="right" if name == "amount" else "left")
    for lot in sorted(plan.larder, key=lambda lot: (lot.place.value, lot.best_by)):
        amount = f"{lot.count} × {lot.container}, " if lot.count > 1 else ""
        table.add_row(lot.place.value, lot.product, amount + mass_words(lot.mass_g), f"{lot.best_by}")
    out.print(table)
    freezer = plan.freezer
    out.print(
        f"Freezer: {freezer.before_l:.0f} L before, +{freezer.added_l:.0f} L, −{freezer.freed_l:.0f} L, "
        f"{freezer.after_l:.0f} L after; planned up to {freezer.plannable_l:.0f} of {freezer.capacity_l:.0f} L."
    )


def _print_tight(out: Console, plan: Plan) -> None:
    out.rule("Where it is tight", align="left")
    for tight in plan.bottlenecks:
        when = f" on {day_words(tight.day)}" if tight.day else ""
        unit = f" {tight.unit}" if tight.unit else ""
        out.print(f"  {tight.what}{when}: {tight.used:.0f} of {tight.offered:.0f}{unit}")
    for words in plan.did_not_fit[:TELL_NOT_FITTING]:
        out.print(f"  wanted, but no room was found for it in the time: {words}")


def _print_effort(out: Console, plan: Plan) -> None:
    effort = plan.effort
    rounds = f"{effort.rounds} round{'s' if effort.rounds != 1 else ''}"
    # A bound that ignores what only the timetable knows says nothing of a kitchen with few hours.
    near = f"at most {effort.gap:.1%} below the best" if effort.gap <= 1 else "how near the best is not known"
    out.print(
        f"\nFound in {effort.seconds:.1f} s of work: split {effort.split_seconds:.1f} s, {rounds}, "
        f"{near}; timetable {effort.timetable_seconds:.1f} s, "
        f"{effort.timetable_outcome}; checked without the solvers.",
        style="dim",
    )
