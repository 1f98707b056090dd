"""Published instances as timetable problems: FREE tasks, the last due at 0, so that lateness is the makespan."""

from __future__ import annotations

import re
from pathlib import Path

from stillroom.model.work import Attention
from stillroom.timetable.problem import Demand, Lag, Mode, Problem, Resource, Task

DATA = Path(__file__).parent / "data"


def read_sm(name: str) -> Problem:
    """A PSPLIB file: precedence and renewable resources."""
    text = (DATA / name).read_text()
    successors = {row[0]: row[3:] for row in _rows(_between(text, "PRECEDENCE RELATIONS:", "****")) if len(row) >= 3}
    works = {row[0]: (row[2], row[3:]) for row in _rows(_between(text, "REQUESTS/DURATIONS:", "\n****"))}
    capacities = _rows(_between(text, "RESOURCEAVAILABILITIES:", "****"))[0]
    lags = [Lag(str(job), str(other), 0, None) for job, others in successors.items() for other in others]
    horizon = sum(minutes for minutes, _ in works.values())
    return _problem(works, capacities, lags, horizon)


def read_sch(name: str) -> Problem:
    """A ProGen/max file: waits from start to start; `a b [-5]` means that b starts at the earliest 5 before a."""
    lines = [re.sub(r"[\[\]]", "", line) for line in (DATA / name).read_text().splitlines() if line.strip()]
    count = int(lines[0].split()[0]) + 2
    arcs = [list(map(int, line.split())) for line in lines[1 : count + 1]]
    rows = [list(map(int, line.split())) for line in lines[count + 1 : 2 * count + 1]]
    works = {row[0]: (row[2], row[3:]) for row in rows}
    capacities = list(map(int, lines[2 * count + 1].split()))
    lags = []
    reach = 0
    for job, _, number, *rest in arcs:
        for other, wait in zip(rest[:number], rest[number:], strict=True):
            reach += max(0, wait)
            if wait >= 0:
                lags.append(Lag(str(job), str(other), wait - works[job][0], None))
            else:
                lags.append(Lag(str(other), str(job), -(10**5), -wait - works[other][0]))
    return _problem(works, capacities, lags, reach + sum(minutes for minutes, _ in works.values()))


def _problem(works: dict[int, tuple[int, list[int]]], capacities: list[int], lags: list[Lag], horizon: int) -> Problem:
    tasks = []
    for job, (minutes, amounts) in works.items():
        demands = tuple(Demand(f"R{number}", amount) for number, amount in enumerate(amounts) if amount)
        due = 0 if job == max(works) else None
        tasks.append(
            Task(str(job), f"job {job}", f"job {job}", (Mode(minutes, demands),), Attention.FREE, 0, horizon, due)
        )
    resources = tuple(Resource(f"R{number}", capacity) for number, capacity in enumerate(capacities))
    return Problem(tuple(tasks), tuple(lags), (), resources)


def _between(text: str, begin: str, end: str) -> str:
    rest = text.split(begin, 1)[1]
    return rest.split(end, 1)[0]


def _rows(text: str) -> list[list[int]]:
    return [
        list(map(int, line.split())) for line in text.splitlines() if re.fullmatch(r"[\d\s]+", line) and line.strip()
    ]
