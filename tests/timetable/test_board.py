"""Room on the board, against a count of every minute."""

from __future__ import annotations

import random

import pytest
from kitchen_days import kitchen_day

from stillroom.model.work import Attention
from stillroom.timetable.problem import Mode, Placed, Problem, Resource, Task
from stillroom.timetable.rooms import Rooms
from stillroom.timetable.ways import Way, ways

Laid = list[tuple[Task, Placed]]


def has_room(problem: Problem, laid: Laid, task: Task, way: Way, start: int) -> bool:
    """Whether the task fits, said minute by minute."""
    mode = task.modes[way.mode]
    return (
        any(first <= start <= last for first, last in way.starts)
        and all(is_left(laid, mode, resource) for resource in problem.resources if resource.is_used_up)
        and all(is_free(problem, laid, task, way, minute) for minute in range(start, start + way.minutes))
    )


def is_left(laid: Laid, mode: Mode, resource: Resource) -> bool:
    used = sum(amount_of(other.modes[item.mode], resource.name) for other, item in laid)
    asked = amount_of(mode, resource.name)
    return asked == 0 or used + asked <= resource.capacity


def is_free(problem: Problem, laid: Laid, task: Task, way: Way, minute: int) -> bool:
    running = [(other, item) for other, item in laid if item.start <= minute < item.end]
    if way.worker is not None and any(item.worker == way.worker for _, item in running):
        return False
    near = sum(other.attention is Attention.NEAR for other, _ in running)
    if task.attention is Attention.NEAR and near >= problem.near_limit:
        return False
    for resource in problem.resources:
        asked = amount_of(task.modes[way.mode], resource.name)
        taken = sum(amount_of(other.modes[item.mode], resource.name) for other, item in running)
        is_full = not resource.is_used_up and asked > 0 and asked + taken > resource.capacity
        ours = settings_of(task.modes[way.mode], resource.name)
        theirs = {name for other, item in running for name in settings_of(other.modes[item.mode], resource.name)}
        if is_full or (ours and theirs - ours):
            return False
    return True


def amount_of(mode: Mode, name: str) -> int:
    return sum(demand.amount for demand in mode.demands if demand.resource == name)


def settings_of(mode: Mode, name: str) -> set[str]:
    return {demand.setting for demand in mode.demands if demand.resource == name and demand.setting}


@pytest.mark.parametrize("seed", range(6))
def test_first_and_last_start_with_room(seed: int) -> None:
    """Waits play no part here: tasks are put wherever the board has room."""
    problem = kitchen_day(seed, 30, 1, 0.0).problem
    found, chance = ways(problem), random.Random(seed)
    rooms = Rooms(problem, found, 0)
    board = rooms.board()
    laid: Laid = []
    for task in chance.sample(problem.tasks, len(problem.tasks)):
        number = chance.randrange(len(found[task.key]))
        way, room = found[task.key][number], rooms.of(task, found[task.key])[number]
        low = chance.randrange(400, 1000)
        high = low + chance.randrange(300)
        starts = [start for start in range(low, high + 1) if has_room(problem, laid, task, way, start)]
        assert board.first(room, low, high) == (starts[0] if starts else None)
        assert board.last(room, low, high) == (starts[-1] if starts else None)
        if starts:
            start = chance.choice(starts)
            board.take(room, start)
            laid.append((task, Placed(task.key, start, start + way.minutes, way.mode, way.worker)))
        if len(laid) > 5 and chance.random() < 0.3:
            back, item = laid.pop(chance.randrange(len(laid)))
            where = next(
                index
                for index, other in enumerate(found[back.key])
                if (other.mode, other.worker) == (item.mode, item.worker)
            )
            board.give_back(rooms.of(back, found[back.key])[where], item.start)
    assert len(laid) > 5
