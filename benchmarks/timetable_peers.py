"""Two other ways of solving the published instances, to stand beside ours: the plainest model, and PyJobShop's."""

from __future__ import annotations

import time
from dataclasses import dataclass

from ortools.sat.python import cp_model
from psplib.ProjectInstance import ProjectInstance
from published import DATA, instance, problem_of, rows
from pyjobshop.read import read
from pyjobshop.solve import solve as pyjobshop_solve

from stillroom.timetable.check import check
from stillroom.timetable.problem import Outcome
from stillroom.timetable.solve import solve

WORKERS = 2


@dataclass(frozen=True)
class Answer:
    """A makespan, None where nothing was found; whether it (or that there is none) is proved; seconds with building."""

    makespan: int | None
    is_proved: bool
    seconds: float


def ours(name: str, seconds: float) -> Answer:
    """The timetable of this package, checked."""
    problem = problem_of(name)
    begun = time.perf_counter()
    found = solve(problem, seconds=seconds, workers=WORKERS)
    used = time.perf_counter() - begun
    if faults := check(problem, found):
        raise AssertionError(f"{name}: {faults[0]}")
    if not found.placed:
        return Answer(None, found.outcome is Outcome.INFEASIBLE, used)
    return Answer(max(placed.end for placed in found.placed), found.is_promise_proved, used)


def pyjobshop(name: str, seconds: float) -> Answer:
    """PyJobShop's own reading and model, with OR-Tools."""
    data = read(DATA / name, rows()[name]["format"])
    begun = time.perf_counter()
    result = pyjobshop_solve(data, solver="ortools", time_limit=seconds, num_workers=WORKERS, random_seed=1)
    used = time.perf_counter() - begun
    status = result.status.value
    makespan = round(result.objective) if status in ("Optimal", "Feasible") else None
    return Answer(makespan, status in ("Optimal", "Infeasible"), used)


def plain(name: str, seconds: float) -> Answer:
    """The model that one writes down first: intervals, cumulatives, the last end."""
    read_in = instance(name)
    begun = time.perf_counter()
    model = _plain_model(read_in)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.random_seed = WORKERS, 1
    solver.parameters.max_time_in_seconds = max(0.01, seconds - (time.perf_counter() - begun))
    status = solver.solve(model)
    used = time.perf_counter() - begun
    is_found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    is_proved = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return Answer(round(solver.objective_value) if is_found else None, is_proved, used)


def _plain_model(read_in: ProjectInstance) -> cp_model.CpModel:
    model = cp_model.CpModel()
    horizon = sum(max(mode.duration for mode in activity.modes) for activity in read_in.activities)
    horizon += sum(max(0, delay) for activity in read_in.activities for delay in activity.delays or ())
    starts = [model.new_int_var(0, horizon, "") for _ in read_in.activities]
    ends = [model.new_int_var(0, horizon, "") for _ in read_in.activities]
    taken: list[list[tuple[cp_model.IntervalVar, cp_model.IntVar, int]]] = [[] for _ in read_in.resources]
    for activity, start, end in zip(read_in.activities, starts, ends, strict=True):
        chosen = [model.new_bool_var("") for _ in activity.modes]
        model.add_exactly_one(chosen)
        for mode, literal in zip(activity.modes, chosen, strict=True):
            interval = model.new_optional_interval_var(start, mode.duration, end, literal, "")
            for found, amount in zip(taken, mode.demands, strict=True):
                if amount:
                    found.append((interval, literal, amount))
        for number, other in enumerate(activity.successors):
            ready = end if activity.delays is None else start + activity.delays[number]
            model.add(starts[other] >= ready)
    for resource, found in zip(read_in.resources, taken, strict=True):
        if resource.renewable:
            model.add_cumulative([item[0] for item in found], [item[2] for item in found], resource.capacity)
        else:
            model.add(sum(amount * literal for _, literal, amount in found) <= resource.capacity)
    model.minimize(ends[-1])
    return model
