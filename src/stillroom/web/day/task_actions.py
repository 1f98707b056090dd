"""What is said of a task: begun, done, later, not begun after all. Only added to, and safe to say twice."""

from __future__ import annotations

import textwrap
from collections.abc import Collection
from datetime import datetime

from stillroom.errors import InputError
from stillroom.model.plan import PlannedTask
from stillroom.planning.supply import moment
from stillroom.web.day import put_up
from stillroom.web.day.current import Current
from stillroom.web.day.models import TaskEvent
from stillroom.web.day.standing import minute_of

Kind = TaskEvent.Kind
LATER_MIN = (5, 15, 30)
MOST_LATER_MIN = 240


def find_task(current: Current, key: str) -> PlannedTask:
    """The task of the plan in force; InputError when it has none of that key."""
    for task in current.plan.tasks:
        if task.key == key:
            return task
    raise InputError("This task is not in the plan any more, which was made anew: look at the page again.")


def inside(text: str, longest: int = 160) -> str:
    """What is to be done as a part of a sentence: all of it, or what fits, broken off between words."""
    whole = textwrap.shorten(text.rstrip("."), longest, placeholder=" …")
    return whole[:1].lower() + whole[1:]


def begin(current: Current, key: str, *, at: datetime) -> None:
    """It begins now, whatever was planned; `at` is the time of the household."""
    task = find_task(current, key)
    if current.standing.is_done(task) or current.standing.is_begun(task):
        return
    now = minute_of(current.standing.worked_out, at)
    _say(current, task, Kind.BEGUN, at, now, now + _minutes(task))


def finish(current: Current, key: str, *, at: datetime, is_as_planned: bool = False) -> None:
    """It is done: now, or when it was planned to be. What its batch made is offered to the larder."""
    task = find_task(current, key)
    if current.standing.is_done(task):
        return
    start, end = _span(current, task)
    now = minute_of(current.standing.worked_out, at)
    if not is_as_planned or end > now:
        end = now
        start = min(start, max(end - _minutes(task), 0)) if end <= start else start
    _say(current, task, Kind.DONE, at, start, end)
    put_up.offer(current, task, done_at=moment(current.plan.start, end))


def done_by(current: Current, runs: Collection[str], *, now: datetime, at: datetime) -> list[TaskEvent]:
    """Words, not saved yet, that what is left of these runs is done: as planned, at `now` at the latest.

    `now` is the time of the household, `at` when it was said.
    """
    now_min = minute_of(current.standing.worked_out, now)
    left = [task for task in current.plan.tasks if task.run in runs and not current.standing.is_done(task)]
    spans = [(task, *_span(current, task)) for task in left]
    return [
        TaskEvent(
            plan=current.row,
            task=task.key,
            kind=Kind.DONE,
            at=at,
            said_min=now_min,
            start_min=min(start, now_min),
            end_min=min(end, now_min),
        )
        for task, start, end in spans
    ]


def delay(current: Current, key: str, minutes: int, *, at: datetime) -> None:
    """It takes so much longer than it looks now; what has not begun begins so much later."""
    task = find_task(current, key)
    if not 1 <= minutes <= MOST_LATER_MIN:
        raise InputError(f"A task can be put off by 1 to {MOST_LATER_MIN} minutes, not {minutes}; move it for more.")
    if current.standing.is_done(task):
        raise InputError("This task is done already: say first that it is not.")
    now = minute_of(current.standing.worked_out, at)
    start, end = _span(current, task)
    if start > now and not current.standing.is_begun(task):
        start, end = start + minutes, end + minutes
    else:
        end = max(end, now) + minutes
    _say(current, task, Kind.LATE, at, start, end)


def reopen(current: Current, key: str, *, at: datetime) -> None:
    """It is not begun after all: what was said of it counts no more."""
    task = find_task(current, key)
    if key in current.standing.said and current.standing.said[key].kind != Kind.OPEN:
        _say(current, task, Kind.OPEN, at, None, None)
        put_up.take_offer_back(current, task)


def _say(current: Current, task: PlannedTask, kind: str, at: datetime, start: int | None, end: int | None) -> None:
    said_min = minute_of(current.standing.worked_out, at)
    TaskEvent.objects.create(
        plan=current.row, task=task.key, kind=kind, at=at, said_min=said_min, start_min=start, end_min=end
    )


def _span(current: Current, task: PlannedTask) -> tuple[int, int]:
    worked_out = current.standing.worked_out
    return minute_of(worked_out, task.start), minute_of(worked_out, task.end)


def _minutes(task: PlannedTask) -> int:
    return round((task.end - task.start).total_seconds() / 60)
