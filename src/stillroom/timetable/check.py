"""Verifies any timetable without the solver; the sentences are for the cook.

Knows nothing of how a timetable was found: everything is worked out again from the problem, minute by minute where
things change.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from stillroom.model.work import Attention
from stillroom.timetable.problem import Mode, Outcome, Placed, Problem, Task, Timetable


def check(problem: Problem, timetable: Timetable) -> tuple[str, ...]:
    """A sentence for each rule that the timetable breaks; empty when it is right.

    A timetable that says it found nothing is right when it places nothing.
    """
    if timetable.outcome not in (Outcome.OPTIMAL, Outcome.FEASIBLE):
        return ("Tasks are placed although nothing was found.",) if timetable.placed else ()
    return tuple(_Check(problem, timetable).sentences())


@dataclass(frozen=True, slots=True)
class _Job:
    """A task as it is placed, in a mode that exists."""

    task: Task
    mode: Mode
    placed: Placed

    @property
    def start(self) -> int:
        return self.placed.start

    @property
    def end(self) -> int:
        return self.placed.end

    def overlaps(self, other: _Job) -> bool:
        """Whether both run at the same minute; an instant runs at none."""
        return max(self.start, other.start) < min(self.end, other.end)


class _Check:
    def __init__(self, problem: Problem, timetable: Timetable) -> None:
        self._problem = problem
        self._timetable = timetable
        tasks = {task.key: task for task in problem.tasks}
        self._jobs: dict[str, _Job] = {}
        for placed in timetable.placed:
            task = tasks.get(placed.task)
            if task is not None and 0 <= placed.mode < len(task.modes):
                self._jobs.setdefault(placed.task, _Job(task, task.modes[placed.mode], placed))

    def sentences(self) -> Iterator[str]:
        """Everything that is wrong, rule by rule."""
        yield from self._every_task_once()
        for job in self._jobs.values():
            yield from self._own_hours(job)
            yield from self._people(job)
        yield from self._one_thing_at_a_time()
        yield from self._few_things_near()
        yield from self._places()
        yield from self._stores()
        yield from self._settings()
        yield from self._waits()

    def _every_task_once(self) -> Iterator[str]:
        labels = {task.key: task.label for task in self._problem.tasks}
        times = dict.fromkeys(labels, 0)
        for placed in self._timetable.placed:
            if placed.task not in labels:
                yield f"“{placed.task}” is in the timetable but not in the work."
                continue
            times[placed.task] += 1
            if placed.task in labels and placed.task not in self._jobs:
                yield f"{labels[placed.task]} is to be done in way {placed.mode}, which does not exist."
        for key, count in times.items():
            if count == 0:
                yield f"{labels[key]} is missing from the timetable."
            elif count > 1:
                yield f"{labels[key]} is in the timetable {count} times."

    def _own_hours(self, job: _Job) -> Iterator[str]:
        label, task = job.task.label, job.task
        if job.end != job.start + job.mode.minutes:
            yield f"{label} takes {job.mode.minutes} min but is given {job.end - job.start} min."
        if job.start < task.earliest:
            yield f"{label} starts at {_at(job.start)}, before it may start at {_at(task.earliest)}."
        if job.end > task.latest_end:
            yield f"{label} ends at {_at(job.end)}, after it must have ended at {_at(task.latest_end)}."

    def _people(self, job: _Job) -> Iterator[str]:
        label, name = job.task.label, job.placed.worker
        if job.task.attention is not Attention.HANDS:
            if name is not None:
                yield f"{label} is given to {name} although it takes nobody's hands."
            if job.task.attention is Attention.NEAR:
                yield from self._someone_near(job)
            return
        hours = self._hours()
        if name is None or name not in hours:
            yield f"{label} is given to {name or 'nobody'}, who is not one of the people in the kitchen."
            return
        if job.mode.workers and name not in job.mode.workers:
            yield f"{label} is given to {name}, but only {' or '.join(job.mode.workers)} can do it."
        yield from _inside(job, hours[name], name)

    def _someone_near(self, job: _Job) -> Iterator[str]:
        allowed = job.mode.workers or tuple(self._hours())
        spans = sorted(span for name, hours in self._hours().items() if name in allowed for span in hours)
        yield from _inside(job, spans, " or ".join(job.mode.workers) or "anyone")

    def _hours(self) -> Mapping[str, list[tuple[int, int]]]:
        return {
            worker.name: sorted((span.start, span.end) for span in worker.presence) for worker in self._problem.workers
        }

    def _one_thing_at_a_time(self) -> Iterator[str]:
        hands = [job for job in self._jobs.values() if job.task.attention is Attention.HANDS]
        for job, other in _pairs(hands):
            if job.placed.worker == other.placed.worker and job.overlaps(other):
                yield (
                    f"{job.placed.worker} is to do {job.task.label} and {other.task.label} "
                    f"at the same time, at {_at(max(job.start, other.start))}."
                )

    def _few_things_near(self) -> Iterator[str]:
        near = [job for job in self._jobs.values() if job.task.attention is Attention.NEAR]
        limit = self._problem.near_limit
        for minute, running in _moments(near):
            if len(running) > limit:
                yield (
                    f"At {_at(minute)} {len(running)} things must be minded at once, "
                    f"but at most {limit} can be: {_labels(running)}."
                )

    def _places(self) -> Iterator[str]:
        for resource in self._problem.resources:
            if resource.is_used_up:
                continue
            users = [job for job in self._jobs.values() if _amount(job, resource.name) > 0]
            for minute, running in _moments(users):
                taken = sum(_amount(job, resource.name) for job in running)
                if taken > resource.capacity:
                    yield (
                        f"At {_at(minute)} {taken} places of the {resource.name} are needed, "
                        f"but it has {resource.capacity}: {_labels(running)}."
                    )

    def _stores(self) -> Iterator[str]:
        for resource in self._problem.resources:
            taken = sum(_amount(job, resource.name) for job in self._jobs.values())
            if resource.is_used_up and taken > resource.capacity:
                yield f"{taken} of the {resource.name} are used up, but there are only {resource.capacity}."

    def _settings(self) -> Iterator[str]:
        for job, other in _pairs(list(self._jobs.values())):
            if not job.overlaps(other):
                continue
            for name, first, second in _clashes(job.mode, other.mode):
                yield (
                    f"At {_at(max(job.start, other.start))} the {name} is to be at {first} for {job.task.label} "
                    f"and at {second} for {other.task.label}."
                )

    def _waits(self) -> Iterator[str]:
        for lag in self._problem.lags:
            if lag.before not in self._jobs or lag.after not in self._jobs:
                continue
            before, after = self._jobs[lag.before], self._jobs[lag.after]
            wait = after.start - before.end
            why = f" ({lag.reason})" if lag.reason else ""
            safety = "Safety: " if lag.is_safety else ""
            fact = f"{safety}{after.task.label} starts {_waited(wait)} {before.task.label} ends"
            if wait < lag.min_lag:
                yield f"{fact}, but must wait at least {lag.min_lag} min{why}."
            if lag.max_lag is not None and wait > lag.max_lag:
                yield f"{fact}, but may wait at most {lag.max_lag} min{why}."


def _inside(job: _Job, hours: list[tuple[int, int]], who: str) -> Iterator[str]:
    """The job needs `who` from its start to its end."""
    here = job.start
    for start, end in hours:
        if start <= here <= end:
            here = end
    if here >= job.end and any(start <= job.start <= end for start, end in hours):
        return
    label = job.task.label
    if any(start <= job.start < end for start, end in hours):
        yield f"{label} ends at {_at(job.end)}, but {who} leaves the kitchen at {_at(here)}."
        return
    later = min((start for start, _ in hours if start > job.start), default=None)
    if later is None:
        yield f"{label} starts at {_at(job.start)}, after {who} has left the kitchen."
    else:
        yield f"{label} starts at {_at(job.start)}, before {who} is in the kitchen at {_at(later)}."


def _moments(jobs: list[_Job]) -> Iterator[tuple[int, list[_Job]]]:
    """Each minute at which one of the jobs starts, with those that run then."""
    for minute in sorted({job.start for job in jobs}):
        yield minute, [job for job in jobs if job.start <= minute < job.end]


def _pairs(jobs: list[_Job]) -> Iterator[tuple[_Job, _Job]]:
    for number, job in enumerate(jobs):
        for other in jobs[number + 1 :]:
            yield job, other


def _clashes(mode: Mode, other: Mode) -> Iterator[tuple[str, str, str]]:
    for first in mode.demands:
        for second in other.demands:
            settings = {first.setting, second.setting} - {""}
            if first.resource == second.resource and len(settings) == 2:
                yield first.resource, first.setting, second.setting


def _amount(job: _Job, resource: str) -> int:
    return sum(demand.amount for demand in job.mode.demands if demand.resource == resource)


def _labels(jobs: list[_Job]) -> str:
    return ", ".join(job.task.label for job in jobs)


def _waited(wait: int) -> str:
    return f"{wait} min after" if wait >= 0 else f"{-wait} min before"


def _at(minute: int) -> str:
    """07:10 on day 2; the first day is day 1."""
    day, rest = divmod(minute, 24 * 60)
    return f"{rest // 60:02d}:{rest % 60:02d} on day {day + 1}"
