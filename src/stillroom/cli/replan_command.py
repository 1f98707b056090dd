"""`stillroom replan PLAN PROGRESS`: what is left of a plan, from how far the day has come."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from stillroom.errors import InputError


def replan_command(
    plan: Annotated[Path, typer.Argument(help="A plan that stillroom plan --keep wrote.")],
    progress: Annotated[Path, typer.Argument(help="A file that says what is begun and done.")],
    keep: Annotated[Path | None, typer.Option("--keep", help="Keep the new plan in this file.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
    seconds: Annotated[float, typer.Option("--seconds", help="How long to search.")] = 0.8,
) -> None:
    """Plan the rest anew when work is late or done sooner: meals first, little moved, safety clocks kept."""
    if not 0 <= seconds <= 60:
        raise InputError(f"A search takes 0 to 60 seconds, not {seconds:g}; give --seconds a number between them.")
    # The solver and the readers are slow to import: only here.
    from stillroom.planning.crew import with_sittings
    from stillroom.planning.kept_plan import read_plan_file, write_plan_file
    from stillroom.planning.progress_file import read_progress
    from stillroom.planning.told import moved_on, told
    from stillroom.timetable.replan import replan

    kept = read_plan_file(plan)
    seen = read_progress(progress, kept)
    found = replan(with_sittings(kept.worked_out.problem), kept.worked_out.timetable, seen, seconds=seconds)
    answer = told(kept, seen, found)
    if keep is not None:
        write_plan_file(keep, moved_on(kept, seen, found))
    if as_json:
        print(json.dumps(asdict(answer), default=str, ensure_ascii=False, indent=1))
        return
    from stillroom.cli.replan_text import print_told

    print_told(answer, {run.key: run.name for run in kept.worked_out.plan.runs})
