"""Moving a task by hand and arranging the rest anew: offered with what comes of it, then taken or left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from stillroom.errors import InputError
from stillroom.planning.crew import with_sittings
from stillroom.planning.moving import Offer, held_in_place, move
from stillroom.planning.told import Told, moved_on, told
from stillroom.timetable.problem import Placed
from stillroom.timetable.replan import Replanned, replan
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.models import Timing
from stillroom.web.day.standing import minute_of, seen
from stillroom.web.day.task_actions import find_task, inside
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import keep
from stillroom.web.kitchen.models import Household

ANEW_S = 0.8
_LINE = 80  # characters of a task in a list of moves


def offer_move(current: Current, key: str, to: datetime, *, at: datetime) -> Timing | Offer:
    """What comes of a task at another time: an offer that is kept, or why it can't be."""
    task = find_task(current, key)
    stands = current.standing
    if stands.is_done(task) or stands.is_begun(task):
        raise InputError("This task is begun or done: only what is to come can be moved.")
    happened = seen(stands, minute_of(stands.worked_out, at))
    if key in happened.going_on or key in happened.finished:
        raise InputError("Its hour has come: say that it is not begun, or by how much it is late.")
    start = minute_of(stands.worked_out, to)
    found = move(current.kept, happened, key, start, pinned=stands.pinned)
    if found.found is None:
        return found
    after = moved_on(current.kept, happened, found.found)
    lines = list(_lines(told(current.kept, happened, found.found)))
    row = _timing(current, f"Moved to {to:%H:%M}: {inside(task.text)}", lines, {*stands.pinned, key})
    row.placed = _plain(after.worked_out.timetable.placed)
    current.row.timings.filter(accepted_at=None).delete()
    row.save()
    return row


def take(row: Timing, current: Current, *, at: datetime) -> Change | None:
    """The offer holds from now on; InputError when something was said or moved since it was made."""
    if row.accepted_at is not None:
        return None
    if row.stands_on != current.standing.stands_on:
        raise InputError("Something was said or moved since this was checked: check it once more.")
    row.accepted_at = at
    return keep(row.said, row, at=at)


def let_go(current: Current, key: str, *, at: datetime) -> Change | None:
    """A task that was put somewhere by hand may be moved again by the program."""
    if key not in current.standing.pinned:
        return None
    row = _timing(current, "Let go again", [], current.standing.pinned - {key})
    row.placed = _plain(current.standing.worked_out.timetable.placed)
    row.accepted_at = at
    return keep(row.said, row, at=at)


def arrange_anew(current: Current, *, at: datetime, now: datetime) -> Change:
    """The rest of the plan from `now`, the time of the household: meals first, little moved, clocks kept."""
    stands = current.standing
    happened = seen(stands, minute_of(stands.worked_out, now))
    problem = held_in_place(with_sittings(stands.worked_out.problem), stands.worked_out.timetable, stands.pinned)
    found: Replanned = replan(problem, stands.worked_out.timetable, happened, seconds=ANEW_S)
    answer = told(current.kept, happened, found)
    row = _timing(current, "Arranged the rest anew", list(_lines(answer)), stands.pinned)
    row.placed = _plain(moved_on(current.kept, happened, found).worked_out.timetable.placed)
    row.accepted_at = at
    return keep(_said(row), row, at=at)


def mend(before: Current, household: Household, *, at: datetime) -> Change | None:
    """Arranges the rest anew where, by what was said since `before`, a meal is late or a clock can't be kept."""
    after, now = current_plan(household), household.now()
    assert after is not None
    known = {(meal.name, meal.at) for meal in before.standing.late_meals}
    late = [
        meal
        for meal in after.standing.late_meals
        if (meal.name, meal.at) not in known and meal.at > now.replace(tzinfo=None)
    ]
    broken = set(after.standing.broken_clocks) - set(before.standing.broken_clocks)
    return arrange_anew(after, at=at, now=now) if late or broken else None


def _timing(current: Current, said: str, lines: list[str], pinned: Iterable[str]) -> Timing:
    stands = current.standing
    return Timing(
        plan=current.row,
        said=said[:300],
        lines=lines,
        pinned=sorted(pinned),
        stands_on=stands.stands_on,
        last_event=stands.last_event,
    )


def _said(row: Timing) -> str:
    return f"{row.said}: {'; '.join(row.lines)}"[:300] if row.lines else f"{row.said}: nothing has to move"


def _lines(answer: Told) -> Iterator[str]:
    for meal in answer.late:
        minutes = round((meal.ready - meal.at).total_seconds() / 60)
        yield f"{meal.name} on {meal.at:%A} will be {minutes} min late"
    for clock in answer.broken:
        yield f"{clock.run}: {clock.waits_min} min pass where {clock.may_wait_min} are allowed. {clock.do}"
    for longer in answer.longer:
        yield f"{longer.name} is needed until {longer.until:%H:%M}, {longer.more_min} min longer"
    for one in answer.moves:
        who = f", by {one.person}" if one.person and one.person != one.person_before else ""
        what = f"{one.run + ': ' if one.run else ''}{inside(one.text, _LINE)}"
        yield f"{one.before:%H:%M} → {one.after:%H:%M} {what}{who}"
    if answer.small_moves:
        yield f"{answer.small_moves} task{'s' if answer.small_moves > 1 else ''} by five minutes or less"


def _plain(placed: Iterable[Placed]) -> list[list[str | int | None]]:
    return [[item.task, item.start, item.end, item.mode, item.worker] for item in placed]
