"""The rules of a timetable one by one, so that each can be named, and taken away to see whether it matters.

A **block** is a run with the order of its steps and their minutes. What is not a rule is part of its block: minutes,
the order of steps, steps done in one go, the calendar day. The **household's own** groups (meals, rests, washing up)
are no blocks: they come with the people, and fall away with the rule that work takes people.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from stillroom.model.work import Attention
from stillroom.timetable.components import restricted
from stillroom.timetable.problem import Lag, Problem, Span, Task

DAY_MIN = 24 * 60


class Kind(StrEnum):
    """What a rule is about. In this order rules are tried to be done without: the last are told first."""

    BEGIN = "begin"
    END = "end"
    LINK = "link"
    WAIT = "wait"
    SETTING = "setting"
    PLACES = "places"
    MEAL = "meal"
    HOURS = "hours"
    PEOPLE = "people"


Subject = tuple[Kind, str | int | tuple[str, str, int]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule; `subject` is what it is about: a day, a minute, an equipment, or the reason and limit of a wait."""

    kind: Kind
    subject: str | int | tuple[str, str, int]
    keys: tuple[str, ...]  # the tasks that it binds
    is_safety: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """Work that is left out or kept as one."""

    group: str
    keys: tuple[str, ...]


def blocks_of(problem: Problem, own: Collection[str] = ()) -> tuple[Block, ...]:
    """Each group as a block, but for the household's own."""
    by_group: dict[str, list[str]] = {}
    for task in problem.tasks:
        if task.group not in own:
            by_group.setdefault(task.group, []).append(task.key)
    return tuple(Block(group, tuple(keys)) for group, keys in by_group.items())


def with_blocks(problem: Problem, blocks: Sequence[Block], own: Collection[str] = ()) -> Problem:
    """The problem with these blocks and what is the household's own."""
    keys = {key for block in blocks for key in block.keys}
    return restricted(problem, {task.key for task in problem.tasks if task.key in keys or task.group in own})


def rules_of(problem: Problem, blocks: Sequence[Block]) -> tuple[Rule, ...]:
    """All rules that bind the blocks, those that a cook would give up first in front."""
    keys = {key for block in blocks for key in block.keys}
    found: dict[Subject, list[str]] = {}
    hours = _Hours(problem)
    for task in (task for task in problem.tasks if task.key in keys):
        for subject in (*_of_work(task), *hours.rules(task)):
            found.setdefault(subject, []).append(task.key)
    safe: set[Subject] = set()
    group_of = {task.key: task.group for task in problem.tasks}
    for lag in (lag for lag in problem.lags if lag.before in keys and lag.after in keys):
        wait = _of_wait(lag, is_link=group_of[lag.before] != group_of[lag.after])
        if wait is not None:
            found.setdefault(wait, []).extend((lag.before, lag.after))
            safe |= {wait} if lag.is_safety else set()
    order = list(Kind)
    rules = (Rule(*subject, tuple(dict.fromkeys(bound)), subject in safe) for subject, bound in found.items())
    return tuple(sorted(rules, key=lambda rule: (order.index(rule.kind), rule.is_safety)))


def with_only(problem: Problem, blocks: Sequence[Block], rules: Collection[Rule], own: Collection[str] = ()) -> Problem:
    """These blocks under these rules alone. It serves to see what a rule does and is never a plan for anybody."""
    keys = {key for block in blocks for key in block.keys}
    kept: set[Subject] = {(rule.kind, rule.subject) for rule in rules}
    hours = _Hours(problem)
    tasks = [task for task in problem.tasks if task.key in keys]
    first = min((task.earliest for task in tasks), default=0) // DAY_MIN * DAY_MIN
    last = max((task.latest_end for task in tasks), default=0) + sum(_longest(task) for task in tasks)
    loose = [_loosened(task, kept, (first, -(-last // DAY_MIN) * DAY_MIN), hours) for task in tasks]
    if (Kind.PEOPLE, "") in kept:
        loose.extend(task for task in problem.tasks if task.group in own)
    total = sum(demand.amount for task in tasks for mode in task.modes for demand in mode.demands)
    resources = (
        r if (Kind.PLACES, r.name) in kept else replace(r, capacity=max(r.capacity, total)) for r in problem.resources
    )
    workers = (replace(worker, presence=hours.presence(worker.presence, kept, tasks)) for worker in problem.workers)
    return replace(
        problem,
        tasks=tuple(loose),
        lags=tuple(_lags(problem, keys, kept)),
        workers=tuple(workers),
        resources=tuple(resources),
    )


class _Hours:
    """When the kitchen opens and closes on each day: the first and last minute with a worker in it."""

    def __init__(self, problem: Problem) -> None:
        self._opened: dict[int, tuple[int, int]] = {}
        for span in (span for worker in problem.workers for span in worker.presence if span.start < span.end):
            day = span.start // DAY_MIN
            opens, closes = self._opened.get(day, (span.start, span.end))
            self._opened[day] = min(opens, span.start), max(closes, span.end)

    def rules(self, task: Task) -> Sequence[Subject]:
        """The hours of days, and what else gives a task its window."""
        return [*((Kind.HOURS, day) for day in self._days_of(task)), *self.windows_of(task)]

    def _days_of(self, task: Task) -> Sequence[int]:
        """Days whose hours bind a task: by its window, or because it needs somebody then."""
        first, last = task.earliest // DAY_MIN, max(task.earliest, task.latest_end - 1) // DAY_MIN
        if task.attention is not Attention.FREE:
            return range(first, last + 1)
        return [day for day in sorted({first, last}) if self._window(task, day) != (None, None)]

    def windows_of(self, task: Task) -> Sequence[tuple[Kind, int]]:
        """The rules that give a task its window, other than the hours of a day."""
        opens, closes = task.earliest // DAY_MIN, (task.latest_end - 1) // DAY_MIN
        found: list[tuple[Kind, int]] = []
        if self._window(task, opens)[0] is None:
            found.append((Kind.BEGIN, task.earliest) if task.due is None else (Kind.MEAL, task.due))
        if task.due == task.latest_end:
            found.append((Kind.MEAL, task.due))
        elif self._window(task, closes)[1] is None:
            found.append((Kind.END, task.latest_end))
        return list(dict.fromkeys(found))

    def presence(self, spans: Sequence[Span], kept: Collection[Subject], tasks: Sequence[Task]) -> tuple[Span, ...]:
        """Everybody is there all day on the days of the work whose hours are no rule."""
        days = {day for task in tasks for day in self._days_of(task) if (Kind.HOURS, day) not in kept}
        return (*spans, *(Span(day * DAY_MIN, (day + 1) * DAY_MIN) for day in sorted(days)))

    def window(self, task: Task, kept: Collection[Subject]) -> tuple[int, int]:
        """Earliest start and latest end where the hours of a day may be no rule any more."""
        opens, closes = task.earliest // DAY_MIN, (task.latest_end - 1) // DAY_MIN
        earliest, latest = task.earliest, task.latest_end
        if self._window(task, opens)[0] is not None and (Kind.HOURS, opens) not in kept:
            earliest = opens * DAY_MIN
        if self._window(task, closes)[1] is not None and (Kind.HOURS, closes) not in kept:
            latest = (closes + 1) * DAY_MIN
        return earliest, latest

    def _window(self, task: Task, day: int) -> tuple[int | None, int | None]:
        """The opening, if that is when the task may start, and the closing, if that is when it must have ended."""
        opens, closes = self._opened.get(day, (None, None))
        return (opens if task.earliest == opens else None, closes if task.latest_end == closes else None)


def _loosened(task: Task, kept: Collection[Subject], horizon: tuple[int, int], hours: _Hours) -> Task:
    earliest, latest = hours.window(task, kept)
    for kind, subject in hours.windows_of(task):
        if (kind, subject) in kept:
            continue
        if kind is Kind.MEAL:
            day = subject // DAY_MIN
            earliest, latest = min(earliest, day * DAY_MIN), max(latest, (day + 1) * DAY_MIN)
        elif kind is Kind.BEGIN:
            earliest = horizon[0]
        else:
            latest = horizon[1]
    attention = task.attention if (Kind.PEOPLE, "") in kept else Attention.FREE
    modes = tuple(
        replace(
            mode,
            demands=tuple(
                demand if (Kind.SETTING, demand.resource) in kept else replace(demand, setting="")
                for demand in mode.demands
            ),
        )
        for mode in task.modes
    )
    return replace(task, earliest=earliest, latest_end=latest, attention=attention, modes=modes, due=None)


def _of_work(task: Task) -> list[Subject]:
    """That somebody does it or minds it, equipment and its settings."""
    found: list[Subject] = []
    if task.attention is not Attention.FREE:
        found.append((Kind.PEOPLE, ""))
    for demand in (demand for mode in task.modes for demand in mode.demands):
        found.append((Kind.PLACES, demand.resource))
        found.extend([(Kind.SETTING, demand.resource)] if demand.setting else [])
    return list(dict.fromkeys(found))


def _of_wait(lag: Lag, *, is_link: bool) -> Subject | None:
    """The rule that a wait is: a limit, or that another run uses what this makes; None for the order of steps.

    Waits of one reason and one limit are one rule; without a reason each stands for itself.
    """
    if _is_one_go(lag) or (lag.max_lag is None and not is_link):
        return None
    limit = lag.max_lag if lag.max_lag is not None else lag.min_lag
    subject = (lag.reason, "", limit) if lag.reason else (lag.before, lag.after, limit)
    return (Kind.LINK if lag.max_lag is None else Kind.WAIT, subject)


def _lags(problem: Problem, keys: Collection[str], kept: Collection[Subject]) -> Iterator[Lag]:
    group_of = {task.key: task.group for task in problem.tasks}
    for lag in (lag for lag in problem.lags if lag.before in keys and lag.after in keys):
        subject = _of_wait(lag, is_link=group_of[lag.before] != group_of[lag.after])
        if subject is None or subject in kept:
            yield lag
        elif subject[0] is Kind.WAIT:
            yield replace(lag, max_lag=None)


def _is_one_go(lag: Lag) -> bool:
    """Two steps with no wait at all are really one: part of the block, not a rule."""
    return lag.min_lag == 0 == lag.max_lag


def _longest(task: Task) -> int:
    return max(mode.minutes for mode in task.modes)
