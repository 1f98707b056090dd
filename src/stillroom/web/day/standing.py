"""How a plan stands: what was said of its tasks, and what follows from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from stillroom.model.plan import PlannedMeal, PlannedTask
from stillroom.planning.crew import with_sittings
from stillroom.planning.pipeline import WorkedOut
from stillroom.planning.supply import minutes_from
from stillroom.planning.underway import BrokenClock, Fact, broken_clocks, under_way, with_timetable
from stillroom.timetable.problem import Placed, Span
from stillroom.timetable.progress import Progress, progress
from stillroom.web.day.models import MadePlan, TaskEvent, Timing

Kind = TaskEvent.Kind


@dataclass(frozen=True, slots=True)
class Standing:
    """The plan as it stands, and the last word on each task that there is a word on."""

    worked_out: WorkedOut
    said: Mapping[str, TaskEvent]
    pinned: frozenset[str]
    stands_on: str  # changes with every word on a task and every other timing
    last_event: int

    def is_done(self, task: PlannedTask) -> bool:
        """Somebody said that it is done."""
        return task.key in self.said and self.said[task.key].kind == Kind.DONE

    def is_begun(self, task: PlannedTask) -> bool:
        """Somebody said that it is begun, or that it takes longer, and nobody that it is done."""
        event = self.said.get(task.key)
        if event is None or event.start_min is None or event.kind not in (Kind.BEGUN, Kind.LATE):
            return False
        return not _is_put_off(event)

    @property
    def open_runs(self) -> tuple[str, ...]:
        """Names of the runs of which something is begun or done and something is not."""
        said = {t.run for t in self.worked_out.plan.tasks if self.is_done(t) or self.is_begun(t)}
        left = {task.run for task in self.worked_out.plan.tasks if not self.is_done(task)}
        return tuple(run.name for run in self.worked_out.plan.runs if run.key in said & left)

    @property
    def broken_clocks(self) -> tuple[BrokenClock, ...]:
        """Safety clocks that can't be kept any more."""
        return broken_clocks(self.worked_out) if self.said else ()

    @property
    def late_meals(self) -> tuple[PlannedMeal, ...]:
        """Meals that are ready after their hour."""
        return tuple(meal for meal in self.worked_out.plan.meals if meal.ready is not None and meal.ready > meal.at)


def standing(row: MadePlan, worked_out: WorkedOut) -> Standing:
    """The plan of a row as it stands now."""
    timing: Timing | None = row.timings.filter(accepted_at__isnull=False).last()
    if timing is not None:
        placed = tuple(Placed(*entry) for entry in timing.placed)
        worked_out = with_timetable(worked_out, replace(worked_out.timetable, placed=placed))
    said = {event.task: event for event in row.events.all()}
    known = timing.last_event if timing else 0
    facts = {
        key: Fact(event.start_min, event.end_min)
        for key, event in said.items()
        if event.start_min is not None and event.end_min is not None and not _is_in_timing(event, known)
    }
    last = max((event.pk for event in said.values()), default=0)
    pinned = frozenset(timing.pinned if timing else ())
    return Standing(under_way(worked_out, facts), said, pinned, f"{timing.pk if timing else 0}:{last}", last)


def _is_put_off(event: TaskEvent) -> bool:
    """Whether it was said before its beginning that it begins later."""
    return event.kind == Kind.LATE and event.start_min is not None and event.start_min > event.said_min


def _is_in_timing(event: TaskEvent, known: int) -> bool:
    """Whether a beginning put off is part of a later timing already."""
    return _is_put_off(event) and event.pk <= known


def seen(stands: Standing, now: int) -> Progress:
    """What has happened by a minute of the plan: what was said, and of all else that it went as planned."""
    problem, timetable = stands.worked_out.problem, stands.worked_out.timetable
    started: dict[str, int] = {}
    finished: dict[str, int] = {}
    ends: dict[str, int] = {}
    for item in timetable.placed:
        event = stands.said.get(item.task)
        if event is None or _is_put_off(event):
            if item.end <= now:
                started[item.task], finished[item.task] = item.start, item.end
            elif item.start < now:
                started[item.task], ends[item.task] = item.start, item.end
        elif event.kind == Kind.DONE:
            started[item.task], finished[item.task] = min(item.start, now), min(item.end, now)
        elif event.kind != Kind.OPEN:
            started[item.task], ends[item.task] = min(item.start, now), max(item.end, now)
    found = progress(with_sittings(problem), timetable, now=now, started=started, finished=finished)
    going_on = {key: Span(span.start, ends.get(key, span.end)) for key, span in found.going_on.items()}
    return Progress(now, found.finished, going_on)


def minute_of(worked_out: WorkedOut, at: datetime) -> int:
    """The minute of the plan at a time of the household."""
    return minutes_from(worked_out.plan.start, at.date(), at.time())
