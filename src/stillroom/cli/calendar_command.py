"""`stillroom calendar PLAN`: the timetable for a phone's calendar."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from stillroom.errors import InputError


def calendar_command(
    plan: Annotated[Path, typer.Argument(help="A plan that stillroom plan --keep wrote.")],
    to: Annotated[Path | None, typer.Option("--to", help="Write this file; otherwise it is printed.")] = None,
    day: Annotated[datetime | None, typer.Option("--day", formats=["%Y-%m-%d"], help="Only this day.")] = None,
    person: Annotated[str, typer.Option("--person", help="Only what this person has to do, and what needs all.")] = "",
    zone: Annotated[
        str | None, typer.Option("--zone", help="Time zone, like Europe/Vienna; without it, the clock on the wall.")
    ] = None,
) -> None:
    """Write the timetable as iCalendar (RFC 5545), with alarms where safety clocks start and end."""
    from stillroom.papers.calendar import calendar_of
    from stillroom.planning.kept_plan import read_plan_file

    _check_zone(zone)
    found = read_plan_file(plan).worked_out.plan
    text = calendar_of(
        found, stamp=datetime.now(UTC), zone=zone, day=day.date() if day is not None else None, person=person
    )
    if to is None:
        sys.stdout.buffer.write(text)
        return
    try:
        to.write_bytes(text)
    except OSError as error:
        raise InputError(f"{to} can't be written: {error.strerror}.") from None
    print(f"{to} holds the timetable; a calendar program takes it in.")


def _check_zone(zone: str | None) -> None:
    from zoneinfo import available_timezones

    if zone is not None and zone not in available_timezones():
        raise InputError(f"“{zone}” is no time zone: write one like Europe/Vienna.")
