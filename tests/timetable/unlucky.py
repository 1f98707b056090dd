"""Days that go otherwise than planned, for tests and benchmarks."""

from __future__ import annotations

from stillroom.model.work import Attention
from stillroom.timetable.problem import Problem, Timetable
from stillroom.timetable.progress import Progress, progress
from stillroom.timetable.simulate import simulate
from stillroom.timetable.spread import Spread

SIGMA = 0.4


def unlucky(problem: Problem, timetable: Timetable, seed: int, share: float = 1 / 3) -> Progress:
    """What has happened of a simulated day when a share of its tasks have begun."""
    spreads = {task.key: Spread(SIGMA) for task in problem.tasks if task.attention is not Attention.FREE}
    _, went = simulate(problem, timetable, spreads, days=1, seed=seed).day(0)
    items = sorted(went.placed, key=lambda item: item.start)
    now = items[int(len(items) * share)].start
    started = {item.task: item.start for item in items if item.start <= now}
    finished = {item.task: item.end for item in items if item.end <= now}
    who = {item.task: item.worker for item in items if item.worker is not None}
    return progress(problem, timetable, now=now, started=started, finished=finished, who=who)
