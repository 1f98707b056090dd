"""Two plans side by side, printed for people."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stillroom.cli.plan_text import page_console
from stillroom.planning.figures import Figures
from stillroom.planning.what_if import WhatIf


def print_what_if(answer: WhatIf, console: Console | None = None) -> None:
    """What is changed, the table now and then, and what comes of it."""
    out = console or page_console()
    out.rule(Text("What if", style="bold"), align="left")
    for change in answer.changes:
        out.print(f"  {change[0].upper()}{change[1:]}.")
    table = Table(box=None, pad_edge=False)
    table.add_column("")
    for name in ("now", "then", "difference"):
        table.add_column(name, justify="right")
    for what, now, then, difference in _rows(answer.now, answer.then):
        table.add_row(what, now, then, difference)
    out.print(table)
    out.rule("What changes", align="left")
    for sentence in answer.sentences:
        out.print(f"  {sentence}", soft_wrap=True)


def _rows(now: Figures, then: Figures) -> list[tuple[str, str, str, str]]:
    kg = (
        ("put into jars, kg", now.jarred_kg, then.jarred_kg),
        ("frozen, kg", now.frozen_kg, then.frozen_kg),
        ("dried, kg", now.dried_kg, then.dried_kg),
        ("cured, fermented, stock, kept fresh, kg", now.other_kept_kg, then.other_kept_kg),
        ("eaten, kg", now.eaten_kg, then.eaten_kg),
        ("given away, kg", now.given_away_kg, then.given_away_kg),
        ("lost, kg", now.lost_kg, then.lost_kg),
        ("still good after the plan, kg", now.waiting_kg, then.waiting_kg),
    )
    whole = (
        ("worth kept", now.worth_kept, then.worth_kept),
        ("worth that comes in", now.worth_in, then.worth_in),
        ("jars", now.jars, then.jars),
        ("canner loads", now.loads, then.loads),
        ("freezer at the end, L", now.freezer_l, then.freezer_l),
        ("freezer planned up to, L", now.freezer_plannable_l, then.freezer_plannable_l),
        ("minutes of hands", now.hands_min, then.hands_min),
    )
    clock = (
        ("work ends, latest day", now.latest_evening_min, then.latest_evening_min),
        ("work ends, on average", now.mean_evening_min, then.mean_evening_min),
    )
    meals = ("meals whole and on time", _meals(now), _meals(then), _signed(then.meals_on_time - now.meals_on_time, 0))
    return [
        meals,
        *((what, f"{a:.1f}", f"{b:.1f}", _signed(b - a, 1)) for what, a, b in kg),
        *((what, f"{a:.0f}", f"{b:.0f}", _signed(b - a, 0)) for what, a, b in whole),
        *((what, _clock(a), _clock(b), _minutes(b - a)) for what, a, b in clock),
    ]


def _meals(found: Figures) -> str:
    return f"{found.meals_on_time} of {found.meals_wanted}"


def _signed(value: float, places: int) -> str:
    words = f"{value:+.{places}f}".replace("-", "−")
    return "" if float(f"{value:.{places}f}") == 0 else words


def _clock(minute: int) -> str:
    return f"{minute // 60}:{minute % 60:02d}"


def _minutes(value: int) -> str:
    return f"{_signed(value, 0)} min" if value else ""
