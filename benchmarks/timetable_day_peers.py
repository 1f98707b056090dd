"""Two other ways of solving a kitchen day: our model given to CP-SAT at once, and PyJobShop as far as it can say it."""

from __future__ import annotations

import time

from pyjobshop import Model as Shop
from pyjobshop import solve as pyjobshop_solve

from stillroom.model.work import Attention
from stillroom.timetable.effort import Effort
from stillroom.timetable.goals import comfort
from stillroom.timetable.model import Model
from stillroom.timetable.problem import Outcome, Problem, Span, Task, Timetable
from stillroom.timetable.ways import demands_of, presence, ways

WORKERS = 2
LATE_WEIGHT = 10**6


def promise_at_once(problem: Problem, seconds: float) -> float | None:
    """Seconds until the solver alone has proved that nothing need be late."""
    begun = time.perf_counter()
    model = Model(problem, ways(problem))
    model.aim_at_promise()
    outcome = model.solve(Effort(seconds, 1, WORKERS), seconds)
    return time.perf_counter() - begun if outcome is Outcome.OPTIMAL and model.objective == 0 else None


def at_once(problem: Problem, seconds: float) -> Timetable:
    """All rules and both goals in one model, nothing late allowed, no draft, no hint, not cut into parts."""
    begun = time.perf_counter()
    found = ways(problem)
    model = Model(problem, found)
    model.aim_at_comfort(comfort(problem, found), 0)
    left = seconds - (time.perf_counter() - begun)
    outcome = model.solve(Effort(left, 1, WORKERS), left)
    placed = tuple(model.placed[task.key] for task in problem.tasks) if model.placed else ()
    return Timetable(outcome, placed)


def pyjobshop_promise(problem: Problem, seconds: float) -> float | None:
    """Seconds until PyJobShop has proved that nothing need be late.

    It can't say that an oven has one setting at a time, nor our comfort: what it solves is a little easier.
    """
    begun = time.perf_counter()
    shop = _shop(problem)
    result = pyjobshop_solve(shop.data(), time_limit=seconds, num_workers=WORKERS, random_seed=1)
    is_kept = result.status.value == "Optimal" and round(result.objective) == 0
    return time.perf_counter() - begun if is_kept else None


def _shop(problem: Problem) -> Shop:
    shop = Shop()
    last = max(task.latest_end for task in problem.tasks)
    hands = {
        worker.name: shop.add_renewable(1, _away(presence(problem, (worker.name,)), last)) for worker in problem.workers
    }
    everybody = presence(problem, [worker.name for worker in problem.workers])
    near = shop.add_renewable(problem.near_limit, _away(everybody, last))
    things = {
        item.name: shop.add_consumable(item.capacity) if item.is_used_up else shop.add_renewable(item.capacity)
        for item in problem.resources
    }
    tasks = {
        task.key: shop.add_task(_job(shop, task), task.earliest, latest_end=task.latest_end) for task in problem.tasks
    }
    for task in problem.tasks:
        for mode in task.modes:
            demands = [(things[name], amount) for name, amount in demands_of(mode).items()]
            names = mode.workers or tuple(hands)
            people = [hands[name] for name in names] if task.attention is Attention.HANDS else [None]
            for person in [near] if task.attention is Attention.NEAR else people:
                taken = demands if person is None else [*demands, (person, 1)]
                shop.add_mode(tasks[task.key], [item[0] for item in taken], mode.minutes, [item[1] for item in taken])
    for lag in problem.lags:
        shop.add_end_before_start(tasks[lag.before], tasks[lag.after], lag.min_lag)
        if lag.max_lag is not None:
            shop.add_start_before_end(tasks[lag.after], tasks[lag.before], -lag.max_lag)
    shop.set_objective(weight_total_tardiness=1)
    return shop


def _job(shop: Shop, task: Task):  # type: ignore[no-untyped-def]
    return shop.add_job(due_date=task.due) if task.due is not None else None


def _away(present: tuple[Span, ...], last: int) -> list[tuple[int, int]]:
    """The gaps between hours of presence."""
    found, begin = [], 0
    for span in present:
        if begin < span.start:
            found.append((begin, span.start))
        begin = span.end
    return [*found, (begin, last)] if begin < last else found
