"""How a plan stands: what was said of its tasks, and what follows from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from stillroom.model.plan import PlannedMeal, PlannedTask
from stillroom.planning.pipeline import WorkedOut
from stillroom.planning.supply import minutes_from
from stillroom.planning.underway import Fact, broken_clocks, under_way, with_timetable
from stillroom.timetable.problem import Placed
from stillroom.web.day.models import MadePlan, TaskEvent, Timing

Kind = TaskEvent.Kind


@dataclass(frozen=True, slots=True)
class Standing:
    """The plan as it stands, and the last word on each task that there is a word on."""

    worked_out: WorkedOut
    said: Mapping[str, TaskEvent]
    pinned: frozenset[str]

    def is_done(self, task: PlannedTask) -> bool:
        """Somebody said that it is done."""
        return task.key in self.said and self.said[task.key].kind == Kind.DONE

    def is_begun(self, task: PlannedTask) -> bool:
        """Somebody said that it is begun, or that it takes longer, and nobody that it is done."""
        event = self.said.get(task.key)
        if event is None or event.start_min is None or event.kind not in (Kind.BEGUN, Kind.LATE):
            return False
        return event.kind == Kind.BEGUN or event.start_min <= event.said_min

    @property
    def broken_clocks(self) -> tuple[str, ...]:
        """Safety clocks that can't be kept any more."""
        return broken_clocks(self.worked_out) if self.said else ()

    @property
    def late_meals(self) -> tuple[PlannedMeal, ...]:
        """Meals that are ready after their hour."""
        return tuple(meal for meal in self.worked_out.plan.meals if meal.ready is not None and meal.ready > meal.at)


def standing(row: MadePlan, worked_out: WorkedOut) -> Standing:
    """The plan of a row as it stands now."""
    timing: Timing | None = row.timings.last()
    if timing is not None:
        placed = tuple(Placed(*entry) for entry in timing.placed)
        worked_out = with_timetable(worked_out, replace(worked_out.timetable, placed=placed))
    said = {event.task: event for event in row.events.all()}
    facts = {
        key: Fact(event.start_min, event.end_min)
        for key, event in said.items()
        if event.start_min is not None and event.end_min is not None
    }
    return Standing(under_way(worked_out, facts), said, frozenset(timing.pinned if timing else ()))


def minute_of(worked_out: WorkedOut, at: datetime) -> int:
    """The minute of the plan at a time of the household."""
    return minutes_from(worked_out.plan.start, at.date(), at.time())
