"""What is to be done now and next, which clocks run, what to take out of the freezer, what turns tomorrow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from stillroom.model.household import Place
from stillroom.model.plan import Made, PlannedMeal, PlannedRun, PlannedTask
from stillroom.model.work import Attention
from stillroom.planning.supply import moment
from stillroom.web.day.current import Current

NEXT = 5  # tasks that are told beforehand
THAW_AHEAD_H = 36
THAW_STEP, FROZEN = ":thaw", ", frozen"  # the key of the step that sets frozen food into the fridge; its state


@dataclass(frozen=True, slots=True)
class Entry:
    """A task with the name of what it is for; `is_begun`: somebody said so; `is_over`: it should have ended."""

    task: PlannedTask
    name: str
    is_begun: bool = False
    is_over: bool = False


@dataclass(frozen=True, slots=True)
class Running:
    """A safety clock that runs: by when the next step has to begin."""

    until: datetime
    name: str
    text: str
    reason: str


@dataclass(frozen=True, slots=True)
class ToThaw:
    """Frozen food to take out, when and for what; `advice` tells how long it takes by the model."""

    at: datetime
    name: str
    foods: tuple[str, ...]
    advice: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Turning:
    """Something of the plan that gets ready, or food that is past its best, on a day."""

    day: date
    words: str


class Today:
    """One moment of a plan; `now` is the time of the household without its zone."""

    def __init__(self, current: Current, now: datetime) -> None:
        self._current, self._now = current, now
        self._runs = {run.key: run for run in current.plan.runs}
        self._open = [task for task in current.plan.tasks if not current.standing.is_done(task)]

    def now(self) -> tuple[Entry, ...]:
        """What goes on: begun, or planned for this minute."""
        return tuple(self._entry(task) for task in self._open if self._goes_on(task))

    def unticked(self) -> tuple[Entry, ...]:
        """Of today and yesterday what should have ended and needs somebody, with no word on it."""
        first = self._now.date() - timedelta(days=1)
        return tuple(
            self._entry(task)
            for task in self._open
            if task.end <= self._now and task.end.date() >= first and not self._goes_on(task) and _needs_somebody(task)
        )

    def next(self) -> tuple[Entry, ...]:
        """What begins next, today or on the next day with work."""
        later = [task for task in self._open if task.start > self._now and not self._goes_on(task)]
        later = [task for task in later if task.start.date() == later[0].start.date()]
        return tuple(self._entry(task) for task in later[:NEXT])

    def done(self) -> tuple[Entry, ...]:
        """What somebody said is done, of today."""
        tasks = (t for t in self._current.plan.tasks if self._current.standing.is_done(t))
        return tuple(self._entry(task) for task in tasks if task.end.date() == self._now.date())

    def clocks(self) -> tuple[Running, ...]:
        """Safety clocks that run now, the first to end first."""
        return tuple(sorted(self._clocks(), key=lambda clock: (clock.until, clock.name)))

    def meals(self) -> tuple[PlannedMeal, ...]:
        """The meals of today that are still to come."""
        return tuple(m for m in self._current.plan.meals if m.at.date() == self._now.date() and m.at >= self._now)

    def thaw(self) -> tuple[ToThaw, ...]:
        """What to take out of the freezer, from now on."""
        found = [
            ToThaw(task.start, run.name, _frozen(run), tuple(a for a in run.advice if a.startswith("Take ")))
            for task in self._open
            if task.key.endswith(THAW_STEP) and task.start <= self._now + timedelta(hours=THAW_AHEAD_H)
            for run in (self._runs[task.run],)
            if task.end > self._now or self._goes_on(task)
        ]
        return tuple(found)

    def turning(self) -> tuple[Turning, ...]:
        """What gets ready or goes past its best today or tomorrow."""
        tomorrow = self._now.date() + timedelta(days=1)
        ready = [
            Turning(made.ready_on, f"{made.name} is ready")
            for run, made in self._made()
            if run.day < made.ready_on and self._now.date() <= made.ready_on <= tomorrow
        ]
        goes = [
            Turning(lot.best_by, f"{lot.product} is at its best until then: eat it")
            for lot in self._current.kept.folder.larder
            if self._now.date() <= lot.best_by <= tomorrow
        ]
        return tuple(sorted([*ready, *goes], key=lambda one: (one.day, one.words)))

    def _made(self) -> Iterator[tuple[PlannedRun, Made]]:
        return ((run, made) for run in self._current.plan.runs for made in run.made if made.place is not Place.FREEZER)

    def _clocks(self) -> Iterator[Running]:
        worked_out = self._current.standing.worked_out
        spans = {placed.task: placed for placed in worked_out.timetable.placed}
        tasks = {task.key: task for task in self._current.plan.tasks}
        for lag in worked_out.problem.lags:
            if not lag.is_safety or not lag.max_lag or lag.before not in spans or lag.after not in tasks:
                continue
            after = tasks[lag.after]
            ended = moment(self._current.plan.start, spans[lag.before].end)
            until = ended + timedelta(minutes=lag.max_lag)
            is_begun = self._current.standing.is_begun(after) or self._current.standing.is_done(after)
            if ended <= self._now < max(until, after.start) and after.start > self._now and not is_begun:
                yield Running(until, self._name(after), after.text, lag.reason)

    def _goes_on(self, task: PlannedTask) -> bool:
        return self._current.standing.is_begun(task) or task.start <= self._now < task.end

    def _entry(self, task: PlannedTask) -> Entry:
        return Entry(task, self._name(task), self._current.standing.is_begun(task), task.end <= self._now)

    def _name(self, task: PlannedTask) -> str:
        return self._runs[task.run].name if task.run in self._runs else ""


def _needs_somebody(task: PlannedTask) -> bool:
    return task.attention is not Attention.FREE


def _frozen(run: PlannedRun) -> tuple[str, ...]:
    return tuple(taken.food.removesuffix(FROZEN) for taken in run.taken if taken.food.endswith(FROZEN))
