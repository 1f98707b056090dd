"""A second opinion on tiny timetables: every rule as a loop over minutes, and every placement tried."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stillroom.model.work import Attention
from stillroom.timetable.problem import Placed, Problem, Task

Placement = Mapping[str, Placed]


def placements(problem: Problem) -> Iterator[dict[str, Placed]]:
    """Every right timetable of all tasks."""
    yield from _extended(problem, 0, {})


def least_lateness(problem: Problem) -> int | None:
    """The least sum of minutes past due over all timetables; None when there is none."""
    return min((lateness(problem, placed) for placed in placements(problem)), default=None)


def lateness(problem: Problem, placed: Placement) -> int:
    """Sum of minutes past due."""
    return sum(max(0, placed[task.key].end - task.due) for task in problem.tasks if task.due is not None)


def options(problem: Problem, task: Task) -> Iterator[Placed]:
    """Every start, mode and person within the hours of the task."""
    for number, mode in enumerate(task.modes):
        names: tuple[str | None, ...] = (None,)
        if task.attention is Attention.HANDS:
            names = mode.workers or tuple(worker.name for worker in problem.workers)
        for start in range(task.earliest, task.latest_end - mode.minutes + 1):
            for name in names:
                yield Placed(task.key, start, start + mode.minutes, number, name)


def is_right(problem: Problem, placed: Placement) -> bool:
    """Whether the tasks placed so far break no rule."""
    tasks = {task.key: task for task in problem.tasks}
    return (
        all(_is_staffed(problem, tasks[key], job) for key, job in placed.items())
        and all(_is_minute_right(problem, tasks, placed, minute) for minute in _minutes(placed))
        and _are_waits_right(problem, placed)
        and _do_stores_last(problem, tasks, placed)
    )


def _extended(problem: Problem, number: int, placed: dict[str, Placed]) -> Iterator[dict[str, Placed]]:
    if number == len(problem.tasks):
        yield placed
        return
    for option in options(problem, problem.tasks[number]):
        longer = {**placed, option.task: option}
        if is_right(problem, longer):
            yield from _extended(problem, number + 1, longer)


def _minutes(placed: Placement) -> range:
    return range(min(job.start for job in placed.values()), max(job.end for job in placed.values()))


def _is_staffed(problem: Problem, task: Task, job: Placed) -> bool:
    if task.attention is Attention.FREE:
        return True
    allowed = task.modes[job.mode].workers or tuple(worker.name for worker in problem.workers)
    names = (job.worker,) if task.attention is Attention.HANDS else allowed
    spans = [span for worker in problem.workers if worker.name in names for span in worker.presence]
    if job.start == job.end:
        return any(span.start <= job.start <= span.end for span in spans)
    return all(any(span.start <= minute < span.end for span in spans) for minute in range(job.start, job.end))


def _is_minute_right(problem: Problem, tasks: Mapping[str, Task], placed: Placement, minute: int) -> bool:
    running = [(tasks[key], job) for key, job in placed.items() if job.start <= minute < job.end]
    busy = [job.worker for task, job in running if task.attention is Attention.HANDS]
    near = sum(task.attention is Attention.NEAR for task, _ in running)
    if len(set(busy)) < len(busy) or near > problem.near_limit:
        return False
    for resource in problem.resources:
        demands = [
            demand
            for task, job in running
            for demand in task.modes[job.mode].demands
            if demand.resource == resource.name
        ]
        settings = {demand.setting for demand in demands if demand.setting}
        is_full = not resource.is_used_up and sum(demand.amount for demand in demands) > resource.capacity
        if is_full or len(settings) > 1:
            return False
    return True


def _do_stores_last(problem: Problem, tasks: Mapping[str, Task], placed: Placement) -> bool:
    left = {resource.name: resource.capacity for resource in problem.resources if resource.is_used_up}
    for key, job in placed.items():
        for demand in tasks[key].modes[job.mode].demands:
            if demand.resource in left:
                left[demand.resource] -= demand.amount
    return all(amount >= 0 for amount in left.values())


def _are_waits_right(problem: Problem, placed: Placement) -> bool:
    for lag in problem.lags:
        if lag.before in placed and lag.after in placed:
            wait = placed[lag.after].start - placed[lag.before].end
            if wait < lag.min_lag or (lag.max_lag is not None and wait > lag.max_lag):
                return False
    return True
