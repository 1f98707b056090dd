"""Verifies that every gram of an allocation exists, is usable on its day, and is used once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stillroom.allocation.problem import Activity, Problem, Run

GRAMS = 0.1  # a kitchen scale shows no less
GRAMS_SHARE = 1e-5


@dataclass(frozen=True, slots=True)
class Food:
    """What there is of a lot, or of what a run makes, and from when to when it is usable."""

    item: str
    grams: float
    first_day: int
    last_day: int
    worth_per_g: float
    is_store: bool
    made_by: str = ""


def all_food(problem: Problem, runs: Sequence[Run]) -> dict[str, Food]:
    """Every lot of the problem and every output of a run, by key."""
    found = {
        lot.key: Food(lot.item, lot.amount_g, lot.first_day, lot.last_day, lot.worth_per_g, lot.is_store)
        for lot in problem.lots
    }
    known = {activity.key: activity for activity in problem.activities}
    for run in runs:
        for out in known[run.activity].outputs:
            ready = run.day + out.ready_after
            found[f"run:{run.activity}:{run.day}:{out.item}"] = Food(
                out.item,
                out.grams_per_level * run.level,
                ready,
                ready + out.keeps_days,
                out.worth_per_g,
                False,
                f"{run.activity} on day {run.day}",
            )
    return found


def check_food(problem: Problem, runs: Sequence[Run]) -> Iterator[str]:
    """Sentences for food that is not there, not yet, no longer, or of the wrong kind or amount."""
    known = {activity.key: activity for activity in problem.activities}
    food = all_food(problem, runs)
    used: dict[str, float] = defaultdict(float)
    for run in runs:
        name = f"{run.activity} on day {run.day}"
        for taken in run.taken:
            used[taken.lot] += taken.grams
            lot = food.get(taken.lot)
            if lot is None:
                yield f"{name}: takes from {taken.lot}, which does not exist."
            elif lot.item != taken.item:
                yield f"{name}: takes {taken.item} from {taken.lot}, which is {lot.item}."
            elif not lot.first_day <= run.day <= lot.last_day:
                yield f"{name}: takes {taken.lot}, usable only on days {lot.first_day} to {lot.last_day}."
            if not taken.grams >= 0:
                yield f"{name}: takes {taken.grams:g} g of {taken.lot}."
        yield from _feeding(name, known[run.activity], run)
    for key, grams in used.items():
        if key in food and grams > food[key].grams + GRAMS + GRAMS_SHARE * food[key].grams:
            yield f"{key}: {grams:.6g} g used of {food[key].grams:.6g} g."
    yield from _from_nothing(food, runs)


def _feeding(name: str, activity: Activity, run: Run) -> Iterator[str]:
    """Each input can be given its grams: for every set of inputs, what only they accept is not more than they want.

    Inputs that share items may divide them in any way, so the grams are matched by augmenting flow.
    """
    supply: dict[str, float] = defaultdict(float)
    for taken in run.taken:
        supply[taken.item] += taken.grams
    wants = [needed.grams_per_level * run.level for needed in activity.inputs]
    total, given = sum(wants), sum(supply.values())
    slack = GRAMS + GRAMS_SHARE * total
    if abs(total - given) > slack * max(1, len(run.taken)):
        yield f"{name}: needs {total:.6g} g, takes {given:.6g} g."
    elif total - _matched(activity, wants, supply) > slack * max(1, len(run.taken)):
        yield f"{name}: what it takes does not fit what its inputs accept."


def _matched(activity: Activity, wants: list[float], supply: dict[str, float]) -> float:
    """Grams that can be given to the inputs at once (maximum flow by augmenting paths)."""
    left, short = dict(supply), list(wants)
    flow: dict[tuple[str, int], float] = defaultdict(float)
    accepts = [set(needed.items) for needed in activity.inputs]
    while path := _path(left, short, flow, accepts):
        amount = min(left[path[0][0]], short[path[-1][1]], *(flow[back] for back in path[1::2]), float("inf"))
        left[path[0][0]] -= amount
        short[path[-1][1]] -= amount
        for step, edge in enumerate(path):
            flow[edge] += -amount if step % 2 else amount
    return sum(wants) - sum(short)


def _path(
    left: dict[str, float], short: list[float], flow: dict[tuple[str, int], float], accepts: list[set[str]]
) -> list[tuple[str, int]]:
    """A way from an item that is left to an input that is short: given, taken back, given, …"""
    tiny = 1e-9
    todo: list[list[tuple[str, int]]] = [
        [(item, n)] for item in sorted(left) if left[item] > tiny for n, fits in enumerate(accepts) if item in fits
    ]
    seen = {n for (_, n), *_ in todo}
    while todo:
        path = todo.pop(0)
        number = path[-1][1]
        if short[number] > tiny:
            return path
        for item in sorted({i for (i, n), grams in flow.items() if n == number and grams > tiny}):
            for other, fits in enumerate(accepts):
                if item in fits and other not in seen:
                    seen.add(other)
                    todo.append([*path, (item, number), (item, other)])
    return []


def _from_nothing(food: dict[str, Food], runs: Sequence[Run]) -> Iterator[str]:
    """No run may, through what it makes, feed itself."""
    feeds: dict[str, set[str]] = {
        f"{run.activity} on day {run.day}": {food[t.lot].made_by for t in run.taken if t.lot in food} - {""}
        for run in runs
    }
    settled: set[str] = set()
    while True:
        ready = {name for name, needs in feeds.items() if name not in settled and needs <= settled}
        if not ready:
            break
        settled |= ready
    for name in sorted(set(feeds) - settled):
        yield f"{name}: is made from what it makes itself."
