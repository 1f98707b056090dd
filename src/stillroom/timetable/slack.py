"""Slack in a timetable: minutes kept free after tasks, and clocks that are planned shorter than they are."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from stillroom.model.work import Attention
from stillroom.timetable.problem import Lag, Mode, Placed, Problem, Task
from stillroom.timetable.simulate import ON_TIME_MIN
from stillroom.timetable.spread import Spread, quantile

MOST_EARLY_MIN = 45  # a dish may be planned to be done so much earlier than its hours allow, to be on time
# Of all days a dish ends, and each other step of it keeps, within its slack; and minutes in which its cook has nothing
# else to do before it. Found by simulating weeks of the demo household, for 95 of 100 meals on time.
DISH_SHARE, STEP_SHARE, BEFORE_DISH_MIN = 0.98, 0.75, 8
CLOCK_SHARE = 0.2  # of all times are so short that a clock starts sooner than the planned wait allows for
TIGHT_MIN = 30  # a clock with less room has none for slack


@dataclass(frozen=True, slots=True)
class Slack:
    """Minutes kept free before and after tasks [by key], and minutes that clocks are planned shorter."""

    before: Mapping[str, int] = field(default_factory=dict)
    after: Mapping[str, int] = field(default_factory=dict)
    clocks: Mapping[Lag, int] = field(default_factory=dict)

    def __add__(self, other: Slack) -> Slack:
        """Both together."""
        return Slack(
            {key: self.before.get(key, 0) + other.before.get(key, 0) for key in {**self.before, **other.before}},
            {key: self.after.get(key, 0) + other.after.get(key, 0) for key in {**self.after, **other.after}},
            {lag: self.clocks.get(lag, 0) + other.clocks.get(lag, 0) for lag in {**self.clocks, **other.clocks}},
        )

    @property
    def total_min(self) -> int:
        """All minutes together."""
        return sum(sum(part.values()) for part in (self.before, self.after, self.clocks))

    def reduced(self, factors: Mapping[str, float]) -> Slack:
        """Less of it for some tasks [by key]."""
        return Slack(
            {key: round(factors.get(key, 1.0) * minutes) for key, minutes in self.before.items()},
            {key: round(factors.get(key, 1.0) * minutes) for key, minutes in self.after.items()},
            {lag: round(factors.get(lag.after, 1.0) * minutes) for lag, minutes in self.clocks.items()},
        )

    def times(self, factor: float) -> Slack:
        """So many times as much of it."""
        return Slack(
            {key: round(factor * minutes) for key, minutes in self.before.items()},
            {key: round(factor * minutes) for key, minutes in self.after.items()},
            {lag: round(factor * minutes) for lag, minutes in self.clocks.items()},
        )


def usual_slack(problem: Problem, spreads: Mapping[str, Spread]) -> Slack:
    """What most timetables need: after work, more of it after dishes, and for clocks that may start early.

    After its last step a dish has slack for all steps that follow each other by short clocks up to it.
    """
    tasks = {task.key: task for task in problem.tasks}
    dishes = {task.group for task in problem.tasks if task.due is not None}
    tails = {task.key: _tail(task.key, problem.lags) for task in problem.tasks if task.due is not None}
    counted = {key for tail in tails.values() for key in tail}
    followers = {lag.after for lag in problem.lags}
    before, after = {}, {}
    for task in problem.tasks:
        if task.due is not None:
            tail = [_beyond(tasks[key], spreads[key], DISH_SHARE) for key in tails[task.key]]
            # Independent times: their spreads add up as squares.
            after[task.key] = max(0, round(math.hypot(*tail)) - ON_TIME_MIN)
        elif task.group in dishes and task.attention is not Attention.FREE and task.key not in counted:
            after[task.key] = max(0, round(_beyond(task, spreads[task.key], STEP_SHARE)))
        if task.group in dishes and task.attention is Attention.HANDS and task.key not in followers:
            before[task.key] = BEFORE_DISH_MIN
    clocks = {
        lag: min(_room(lag) // 2, int(-_beyond(tasks[lag.before], spreads[lag.before], CLOCK_SHARE)))
        for lag in problem.lags
        if lag.is_safety and lag.max_lag is not None
    }
    return Slack(before, after, clocks)


def _tail(key: str, lags: Sequence[Lag]) -> list[str]:
    """The task and those that lead to it by clocks with little room for slack."""
    found = [key]
    for late in found:
        found.extend(
            lag.before for lag in lags if lag.after == late and lag.max_lag is not None and _room(lag) <= TIGHT_MIN
        )
    return list(dict.fromkeys(found))


def with_earlier_dishes(problem: Problem) -> Problem:
    """What is due may be done before its hours begin: what slack is allowed to use."""
    return replace(problem, tasks=tuple(_earlier(task, MOST_EARLY_MIN) for task in problem.tasks))


class Padding:
    """The problem in which tasks take their slack with them.

    Slack that a clock has no room for is kept after the task that ends the clock. What is due may start earlier by the
    slack after it. Clocks are shorter by their slack, but not than their least wait.
    """

    def __init__(self, problem: Problem, slack: Slack) -> None:
        self._tasks = {task.key: task for task in problem.tasks}
        room = {lag: max(0, _room(lag) - slack.clocks.get(lag, 0)) for lag in problem.lags if lag.max_lag is not None}
        starting: dict[str, list[Lag]] = {}
        for lag in room:
            starting.setdefault(lag.before, []).append(lag)
        after: dict[str, int] = {}
        carried: dict[str, int] = {}
        for key, task in self._tasks.items():
            wanted = slack.after.get(key, 0) + carried.get(key, 0)
            if task.due is not None:
                wanted = min(wanted, _most_early(task))
            after[key] = _taken(wanted, starting.get(key, ()), room)
            if after[key] < wanted:
                next_key = min(starting[key], key=lambda lag: room[lag]).after
                carried[next_key] = carried.get(next_key, 0) + wanted - after[key]
        self._before = {key: slack.before.get(key, 0) for key in self._tasks}
        self.problem = replace(
            problem,
            tasks=tuple(_longer(task, self._before[task.key], after[task.key]) for task in problem.tasks),
            lags=tuple(
                lag if lag.max_lag is None else replace(lag, max_lag=lag.min_lag + room[lag]) for lag in problem.lags
            ),
        )

    def taken_off(self, placed: Sequence[Placed]) -> tuple[Placed, ...]:
        """The same timetable, each task with its own minutes."""
        found = []
        for item in placed:
            start = item.start + self._before[item.task]
            found.append(replace(item, start=start, end=start + self._tasks[item.task].modes[item.mode].minutes))
        return tuple(found)


def _longer(task: Task, before: int, after: int) -> Task:
    if before + after == 0:
        return task
    modes = tuple(Mode(mode.minutes + before + after, mode.demands, mode.workers) for mode in task.modes)
    earlier = _earlier(task, min(after, MOST_EARLY_MIN))
    return replace(earlier, earliest=earlier.earliest - before, modes=modes)


def _most_early(task: Task) -> int:
    """Minutes by which it may be planned to be done before it is due."""
    return max(0, task.latest_end - task.earliest - max(mode.minutes for mode in task.modes)) + MOST_EARLY_MIN


def _earlier(task: Task, minutes: int) -> Task:
    return task if task.due is None else replace(task, earliest=task.earliest - minutes)


def _taken(wanted: int, lags: Sequence[Lag], room: dict[Lag, int]) -> int:
    """As much of the slack as the clocks have room for; it is taken from their room."""
    got = min([wanted, *(room[lag] for lag in lags)])
    for lag in lags:
        room[lag] -= got
    return got


def _room(lag: Lag) -> int:
    return 0 if lag.max_lag is None else lag.max_lag - lag.min_lag


def _beyond(task: Task, spread: Spread, share: float) -> float:
    """Minutes by which the quantile of its time lies above the planned time (below: negative)."""
    minutes = min(mode.minutes for mode in task.modes)
    return quantile(minutes, spread, share) - minutes
