"""The rest of a plan, planned anew, printed for people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stillroom.cli.plan_text import CAUTION, day_words, page_console, task_row
from stillroom.model.plan import PlannedTask
from stillroom.planning.told import BrokenClock, Move, Told
from stillroom.planning.what_now import LAST_WORD

SHORT_LETTERS = 60


def print_told(answer: Told, names: Mapping[str, str], console: Console | None = None) -> None:
    """What has changed, what goes on, and the rest of the day; later days only where something moves."""
    out = console or page_console()
    out.rule(Text(f"It is {day_words(answer.now.date())}, {answer.now:%H:%M}", style="bold"), align="left")
    for clock in answer.broken:
        _print_broken(out, clock)
    if answer.broken:
        out.print(LAST_WORD)
    for meal in answer.late:
        minutes = round((meal.ready - meal.at).total_seconds() / 60)
        out.print(
            Text(f"{meal.name.capitalize()} at {meal.at:%H:%M} is ready at {meal.ready:%H:%M}: {minutes} min late.")
        )
    for longer in answer.longer:
        out.print(f"{longer.name} is needed until {longer.until:%H:%M}, {longer.more_min} min past their hours.")
    _print_moves(out, answer)
    _print_tasks(out, "Going on", answer.going_on, names)
    today = [(number, task) for number, task in answer.to_come if task.start.date() == answer.now.date()]
    _print_tasks(out, "The rest of the day", today, names)
    out.print()
    out.print(CAUTION)


def _print_broken(out: Console, clock: BrokenClock) -> None:
    name = f"{clock.run}: " if clock.run else ""
    out.print(
        Text(
            f"! Safety: {name}{clock.waits_min} min pass where {clock.may_wait_min} min are allowed ({clock.reason}), "
            f"before: {short(clock.step)}",
            style="bold red",
        )
    )
    out.print(Text(f"  {clock.do}", style="red"))


def _print_moves(out: Console, answer: Told) -> None:
    for day, moves in groupby(answer.moves, key=lambda move: move.after.date()):
        when = "" if day == answer.now.date() else f" on {day_words(day)}"
        out.print(f"Moved{when}:")
        for move in moves:
            out.print(f"  {_move_words(move)}", soft_wrap=True)
    if answer.small_moves:
        many = f"{answer.small_moves} tasks move" if answer.small_moves > 1 else "1 task moves"
        out.print(f"{many} by five minutes or less.")
    if not answer.moves and not answer.small_moves:
        out.print("Nothing moves: the rest stays as it was planned.")


def _move_words(move: Move) -> str:
    words = f"{move.number} {move.run + ': ' if move.run else ''}{short(move.text)}"
    day = "" if move.before.date() == move.after.date() else f"{move.after:%A} "
    at = f"{move.before:%H:%M} → {day}{move.after:%H:%M}" if move.before != move.after else f"{move.after:%H:%M}"
    other = f", now {move.person}" if move.person != move.person_before and move.person else ""
    return f"{at}  {words}{other}"


def short(text: str) -> str:
    """The beginning of a long text."""
    return text if len(text) <= SHORT_LETTERS else text[:SHORT_LETTERS].rsplit(" ", 1)[0] + " …"


def _print_tasks(out: Console, title: str, tasks: Sequence[tuple[int, PlannedTask]], names: Mapping[str, str]) -> None:
    if not tasks:
        return
    out.rule(title, align="left")
    table = Table(box=None, pad_edge=False, show_header=False)
    table.add_column("number", no_wrap=True, justify="right", style="dim")
    table.add_column("time", no_wrap=True)
    table.add_column("who", no_wrap=True)
    table.add_column("what")
    for number, task in sorted(tasks, key=lambda item: (item[1].start, item[0])):
        table.add_row(f"{number}", *task_row(task, names))
    out.print(table)
