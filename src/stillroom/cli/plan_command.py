"""`stillroom plan FOLDER`: from a household folder to a checked plan."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from datetime import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from stillroom.errors import InputError

if TYPE_CHECKING:
    from stillroom.household.folder import Folder


def plan_command(  # noqa: PLR0917 - each is an option of the command
    folder: Annotated[Path, typer.Argument(help="A household folder.")],
    days: Annotated[int, typer.Option("--days", help="How many days to plan, 1 to 14.")] = 7,
    from_hour: Annotated[
        str, typer.Option("--from", help="Hour of the first day before which nothing is planned, as 17:30.")
    ] = "0:00",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
    seconds: Annotated[
        float, typer.Option("--seconds", help="How long to search, on an idle machine of our day.")
    ] = 10.0,
    seed: Annotated[
        int, typer.Option("--seed", min=0, max=1_000_000_000, help="Another number searches in another way.")
    ] = 1,
    asked: Annotated[
        list[str] | None,
        typer.Option("--what-if", help='Plan twice, side by side: "freezer +100 L". Repeat it for several changes.'),
    ] = None,
    doubted: Annotated[
        list[str] | None,
        typer.Option(
            "--why-not", help='Ask why something is not done: "tomato sauce in jars on saturday". Repeatable.'
        ),
    ] = None,
    keep: Annotated[
        Path | None, typer.Option("--keep", help="Keep the plan in this file, for stillroom replan.")
    ] = None,
) -> None:
    """Split the food over days and uses, with process cards, what to have ready, and each day by the clock."""
    if not 1 <= days <= 14:
        raise InputError(f"A plan has 1 to 14 days, not {days}; give --days a number between them.")
    if not 2 <= seconds <= 600:
        raise InputError(f"A search takes 2 to 600 seconds, not {seconds:g}; give --seconds a number between them.")
    begins = _read_hour(from_hour)
    if asked and doubted:
        raise InputError("Ask either --what-if or --why-not: the one plans twice, the other asks about one plan.")
    from stillroom.household.folder import read_folder  # the solvers and the readers are slow to import: only here

    read, effort = read_folder(folder, days=days).from_hour(begins), _Search(seconds, seed)
    if asked:
        _ask(read, asked, effort, as_json)
    else:
        _plan(read, doubted or [], effort, as_json, keep)


def _read_hour(text: str) -> time:
    hour, _, minute = text.partition(":")
    try:
        return time(int(hour), int(minute))
    except ValueError:
        raise InputError(f"“{text}” is no hour of the day; give --from one like 17:30.") from None


class _Search(NamedTuple):
    """How long to search and where to begin."""

    seconds: float
    seed: int


def _plan(folder: Folder, doubted: list[str], effort: _Search, as_json: bool, keep: Path | None) -> None:
    """One plan, and answers to what was asked about it."""
    from stillroom.planning.asked import read_asked, why_not_asked
    from stillroom.planning.kept_plan import KeptPlan, write_plan_file
    from stillroom.planning.pipeline import known_recipes, work_out
    from stillroom.planning.split import split

    recipes = known_recipes(folder)
    questions = [read_asked(text, recipes, folder) for text in doubted]  # what can't be read is told before planning
    found = work_out(folder, days=folder.days, seconds=effort.seconds, seed=effort.seed, progress=_tell)
    if keep is not None:
        write_plan_file(keep, KeptPlan(folder=folder, worked_out=found))
    task = split(folder, recipes, folder.days) if questions else None
    answers = [why_not_asked(asked, task, folder, found.runs) for asked in questions if task is not None]
    if as_json:
        told = {**asdict(found.plan), "asked": [asdict(answer) for answer in answers]}
        print(json.dumps(told, default=str, ensure_ascii=False, indent=1))
        return
    from stillroom.cli.plan_text import print_asked, print_plan

    print_plan(found.plan)
    print_asked(answers)


def _ask(folder: Folder, asked: list[str], effort: _Search, as_json: bool) -> None:
    """Two plans side by side."""
    from stillroom.planning.what_if import what_if

    answer = what_if(folder, asked, seconds=effort.seconds, seed=effort.seed, progress=_tell)
    if as_json:
        print(json.dumps(asdict(answer), default=str, ensure_ascii=False, indent=1))
        return
    from stillroom.cli.what_if_text import print_what_if

    print_what_if(answer)


def _tell(words: str) -> None:
    """Progress goes to the error stream, so that the plan can be sent to a file or a printer."""
    print(f"… {words}", file=sys.stderr, flush=True)
