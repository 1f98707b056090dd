"""A timetable falls into parts that can't disturb each other; each is solved alone."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Mapping, Sequence

from stillroom.model.work import Attention
from stillroom.timetable.problem import Problem, Task
from stillroom.timetable.ways import Way


def components(problem: Problem, ways: Mapping[str, Sequence[Way]]) -> tuple[Problem, ...]:
    """Parts joined by a wait, or by a worker, a resource or the near limit in hours that overlap."""
    parent = {task.key: task.key for task in problem.tasks}

    def root(key: str) -> str:
        while parent[key] != key:
            parent[key] = parent[parent[key]]
            key = parent[key]
        return key

    for lag in problem.lags:
        parent[root(lag.after)] = root(lag.before)
    for users in _users(problem, ways).values():
        reach, leader = -1, ""
        for first, last, key in sorted(users):
            if leader and first < reach:
                parent[root(key)] = root(leader)
            if last > reach:
                reach, leader = last, key
    parts: dict[str, set[str]] = {}
    for task in problem.tasks:
        parts.setdefault(root(task.key), set()).add(task.key)
    return tuple(restricted(problem, keys) for keys in parts.values())


def restricted(problem: Problem, keys: Collection[str]) -> Problem:
    """The same problem with these tasks only, and the waits among them."""
    return Problem(
        tuple(task for task in problem.tasks if task.key in keys),
        tuple(lag for lag in problem.lags if lag.before in keys and lag.after in keys),
        problem.workers,
        problem.resources,
        problem.near_limit,
    )


def _users(problem: Problem, ways: Mapping[str, Sequence[Way]]) -> Mapping[Hashable, list[tuple[int, int, str]]]:
    """(first minute, last minute, task) of all that may use a shared thing; what is used up has no hours."""
    users: dict[Hashable, list[tuple[int, int, str]]] = {}
    stores = {("resource", resource.name) for resource in problem.resources if resource.is_used_up}
    for task in problem.tasks:
        first = min(way.starts[0][0] for way in ways[task.key])
        last = max(way.starts[-1][1] + way.minutes for way in ways[task.key])
        for thing in _things(task, ways[task.key]):
            users.setdefault(thing, []).append((0, 1, task.key) if thing in stores else (first, last, task.key))
    return users


def _things(task: Task, ways: Sequence[Way]) -> set[tuple[str, str]]:
    things = {("resource", demand.resource) for way in ways for demand in task.modes[way.mode].demands}
    things |= {("worker", way.worker) for way in ways if way.worker is not None}
    if task.attention is Attention.NEAR:
        things.add(("near", ""))
    return things
