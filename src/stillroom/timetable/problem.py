"""What a timetable is asked for and what it answers. Minutes count from midnight of the first day.

Nothing here knows food: tasks, workers, resources, lags.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stillroom.model.work import Attention


@dataclass(frozen=True, slots=True)
class Span:
    """Minutes [start, end)."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if self.end < self.start:
            raise ValueError(f"A span must not end ({self.end}) before it starts ({self.start}).")


@dataclass(frozen=True, slots=True)
class Worker:
    """A person and the spans in which they are in the kitchen."""

    name: str
    presence: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Resource:
    """Equipment with a number of places (burners, oven trays, one canner).

    Of what is used up (ice, lids of one size) `capacity` is all there is, and no task gives back what it takes.
    """

    name: str
    capacity: int
    is_used_up: bool = False


@dataclass(frozen=True, slots=True)
class Demand:
    """Places of a resource taken for the whole task, or an amount that it uses up.

    Tasks with different non-empty settings never overlap on one resource (an oven has one temperature).
    """

    resource: str
    amount: int
    setting: str = ""


@dataclass(frozen=True, slots=True)
class Mode:
    """One way of doing a task; `workers` empty means anyone."""

    minutes: int
    demands: tuple[Demand, ...] = ()
    workers: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.minutes < 0:
            raise ValueError(f"A mode must not take {self.minutes} minutes.")


@dataclass(frozen=True, slots=True)
class Task:
    """Something that runs without a break for the minutes of the mode chosen.

    HANDS: one worker, present for the whole task and doing nothing else with their hands.
    NEAR: at least one worker is in the kitchen at every minute, and at most `Problem.near_limit` such tasks at once.
    FREE: nobody. `due` is when it ought to end (comfort); `earliest` and `latest_end` are hard.
    """

    key: str
    label: str
    group: str  # the run it belongs to
    modes: tuple[Mode, ...]
    attention: Attention
    earliest: int
    latest_end: int
    due: int | None = None

    def __post_init__(self) -> None:
        if not self.modes:
            raise ValueError(f"Task {self.key} has no mode.")


@dataclass(frozen=True, slots=True)
class Lag:
    """`after` starts at least `min_lag` and at most `max_lag` minutes after the end of `before`."""

    before: str
    after: str
    min_lag: int
    max_lag: int | None
    reason: str = ""
    is_safety: bool = False


@dataclass(frozen=True, slots=True)
class Problem:
    """A timetable to be found. Keys and names are unique; every name referred to exists."""

    tasks: tuple[Task, ...]
    lags: tuple[Lag, ...]
    workers: tuple[Worker, ...]
    resources: tuple[Resource, ...]
    near_limit: int = 3

    def __post_init__(self) -> None:
        keys = {task.key for task in self.tasks}
        if len(keys) != len(self.tasks):
            raise ValueError("Two tasks share a key.")
        resources = {resource.name for resource in self.resources}
        workers = {worker.name for worker in self.workers}
        for lag in self.lags:
            if lag.before not in keys or lag.after not in keys:
                raise ValueError(f"The lag {lag.before} → {lag.after} names a task that is not there.")
        for task in self.tasks:
            for mode in task.modes:
                if any(demand.resource not in resources for demand in mode.demands):
                    raise ValueError(f"Task {task.key} needs equipment that is not there.")
                if any(name not in workers for name in mode.workers):
                    raise ValueError(f"Task {task.key} needs a person who is not there.")


class Outcome(StrEnum):
    """How the search ended."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    OUT_OF_TIME = "out of time"


@dataclass(frozen=True, slots=True)
class Placed:
    """One task in the timetable; `worker` is set for HANDS."""

    task: str
    start: int
    end: int
    mode: int
    worker: str | None = None


@dataclass(frozen=True, slots=True)
class Timetable:
    """The answer. `placed` is empty unless the outcome is OPTIMAL or FEASIBLE.

    OPTIMAL: both the promise and comfort are proved; `is_promise_proved` alone says that no less lateness is possible.
    """

    outcome: Outcome
    placed: tuple[Placed, ...]
    seconds: float = 0.0
    lateness_min: int = 0  # minutes past due over all tasks
    is_promise_proved: bool = False
