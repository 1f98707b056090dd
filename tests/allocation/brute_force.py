"""Small random problems with every kind of rule, and their best answer by trying everything: no solver, no check.

Raw food comes in lots and in jars from the shelf; stock is made of it; both can be used. Levels are 0, 1 or 2. Because
all lots of an item are worth the same, what goes off first is used first, and everything else follows from the levels.
"""

from __future__ import annotations

import itertools
import math
import random
from collections import defaultdict
from collections.abc import Iterator, Mapping

from stillroom.allocation.problem import (
    Activity,
    Capacity,
    Cut,
    GivesBack,
    Input,
    Lot,
    MealNeed,
    Output,
    Pool,
    PoolUse,
    Problem,
    Serving,
    Target,
    TargetStep,
    Usage,
)

DAYS = 3
JAR = GivesBack("jars", 1.0, 150.0, after_days=1, is_whole=True)
WORTH = {"raw": 0.01, "jarred": 0.002, "stock": 0.005}
CELLS = 4

Levels = Mapping[tuple[str, int], int]
Stores = list[tuple[int, int, float]]  # first day, last day, grams


def small_problem(chance: random.Random) -> Problem:
    """A problem with at most four (activity, day) places."""
    lots = [
        Lot(f"raw {n}", "raw", 100.0 * chance.randint(1, 3), first, first + chance.randint(0, 3), WORTH["raw"])
        for n in range(chance.randint(1, 3))
        for first in [chance.randint(0, 1)]
    ]
    lots.append(Lot("shelf", "jarred", 300.0, 0, DAYS, WORTH["jarred"], is_store=True, gives_back=(JAR,)))
    places = chance.sample(list(itertools.product("abc", range(DAYS))), CELLS)
    often, within = chance.randint(1, 2), chance.choice((1, 2, 99))
    activities = tuple(
        _activity(chance, key, tuple(sorted(day for name, day in places if name == key)), often, within)
        for key in sorted({name for name, _ in places})
    )
    cut = Cut(tuple((key, day, float(chance.randint(1, 2))) for key, day in places[:2]))
    return Problem(
        DAYS,
        tuple(lots),
        activities,
        (Capacity("hands", tuple(float(chance.randint(1, 7)) for _ in range(DAYS)), "hands", "min"),),
        (Pool("jars", float(chance.randint(0, 2)), "jars", ""), Pool("freezer", 2.0, "freezer", "L")),
        (MealNeed("dinner", 1, "main", 2.0, 3.0), MealNeed("supper", 1, "main", 1.0, 1.0)),
        (Target("put up", ((100.0, 0.02), (100.0, 0.01))),),
        (cut,) if chance.random() < 0.5 else (),
    )


def _activity(chance: random.Random, key: str, days: tuple[int, ...], often: int, within: int) -> Activity:
    item = chance.choice(("raw", "raw", "jarred", "stock"))
    makes = item != "stock" and chance.random() < 0.4
    output = Output("stock", 100.0, chance.randint(0, 1), chance.randint(0, 1), WORTH["stock"])
    family = chance.choice(("", "same"))
    return Activity(
        key,
        key,
        "jar",
        days,
        smallest=float(chance.randint(1, 2)),
        largest=2.0,
        inputs=(Input((item,), 100.0 * chance.randint(1, 2)),),
        outputs=(output,) if makes else (),
        usages=(
            Usage("hands", 0, float(chance.randint(0, 2)), float(chance.randint(0, 1)), float(chance.randint(0, 2))),
            *((Usage("hands", 1, 1.0),) if chance.random() < 0.3 else ()),
        ),
        pools=tuple(PoolUse(name, 1.0) for name in ("jars", "freezer") if chance.random() < 0.4),
        servings=(Serving("main", 1.0, chance.randint(0, 1)),) if chance.random() < 0.4 else (),
        targets=(TargetStep("put up", 100.0),) if chance.random() < 0.4 else (),
        value_per_level=float(chance.randint(0, 4)),
        cost_per_run=float(chance.randint(0, 1)),
        level_step=1.0,
        level_per_load=float(chance.randint(1, 2)),
        at_most=often if family else chance.randint(1, 2),
        within_days=within if family else 99,
        family=family,
    )


def best_worth(problem: Problem) -> float:
    """The best of all combinations of levels."""
    places = [(activity.key, day) for activity in problem.activities for day in activity.days]
    worths = (
        worth(problem, {place: level for place, level in zip(places, levels, strict=True) if level})
        for levels in itertools.product((0, 1, 2), repeat=len(places))
    )
    return max(found for found in worths if found is not None)


def worth(problem: Problem, levels: Levels) -> float | None:
    """What the levels are worth; None where they break a rule."""
    known = {activity.key: activity for activity in problem.activities}
    runs = [(known[key], day, level) for (key, day), level in levels.items()]
    if any(level < activity.smallest for activity, _, level in runs) or _is_cut(problem, levels):
        return None
    if not _is_varied(runs) or not _is_within_hours(problem, runs):
        return None
    wanted: dict[str, list[float]] = defaultdict(lambda: [0.0] * DAYS)
    for activity, day, level in runs:
        wanted[activity.inputs[0].items[0]][day] += activity.inputs[0].grams_per_level * level
    if not _is_within_pools(problem, runs, wanted["jarred"]):
        return None
    total = sum(a.value_per_level * level - a.cost_per_run for a, _, level in runs) + _of_targets(problem, runs)
    for item, stores in _stores(problem, runs).items():
        waste = _wasted(stores, wanted[item])
        if waste is None:
            return None
        total -= WORTH[item] * (sum(wanted[item]) if item == "jarred" else waste)
    return total - _of_missed(problem, runs)


def _is_cut(problem: Problem, levels: Levels) -> bool:
    return any(all(levels.get((key, day), 0) >= level for key, day, level in cut.choices) for cut in problem.cuts)


def _is_varied(runs: list[tuple[Activity, int, int]]) -> bool:
    days: dict[str, list[int]] = defaultdict(list)
    for activity, day, _ in runs:
        days[activity.family or activity.key].append(day)
    for name, done in days.items():
        one = next(activity for activity, _, _ in runs if (activity.family or activity.key) == name)
        if len(set(done)) < len(done):
            return False
        if any(len([d for d in done if first <= d < first + one.within_days]) > one.at_most for first in done):
            return False
    return True


def _is_within_hours(problem: Problem, runs: list[tuple[Activity, int, int]]) -> bool:
    hands = [0.0] * (DAYS + 1)
    for activity, day, level in runs:
        for usage in activity.usages:
            loads = math.ceil(level / activity.level_per_load)
            hands[day + usage.day_offset] += usage.fixed + usage.per_level * level + usage.per_load * loads
    last = any(usage.day_offset + day >= DAYS for activity, day, _ in runs for usage in activity.usages)
    return not last and all(used <= there for used, there in zip(hands, problem.capacities[0].per_day, strict=False))


def _is_within_pools(problem: Problem, runs: list[tuple[Activity, int, int]], jarred: list[float]) -> bool:
    for pool in problem.pools:
        for until in range(DAYS):
            inside = sum(level for a, day, level in runs if day <= until for use in a.pools if use.pool == pool.name)
            if pool.name == "jars":
                inside -= math.floor(sum(jarred[:until]) / JAR.grams)
            if inside > pool.amount:
                return False
    return True


def _stores(problem: Problem, runs: list[tuple[Activity, int, int]]) -> Mapping[str, Stores]:
    found: dict[str, Stores] = {"raw": [], "jarred": [], "stock": []}
    for lot in problem.lots:
        found[lot.item].append((lot.first_day, lot.last_day, lot.amount_g))
    for activity, day, level in runs:
        for output in activity.outputs:
            first = day + output.ready_after
            found["stock"].append((first, first + output.keeps_days, output.grams_per_level * level))
    return found


def _wasted(stores: Stores, wanted: list[float]) -> float | None:
    """Grams that go off within the days when the first to go off is used first; None where there is too little."""
    left = [[first, last, grams] for first, last, grams in sorted(stores, key=lambda store: store[1])]
    for day, grams in enumerate(wanted):
        short = grams
        for store in left:
            if store[0] <= day <= store[1]:
                given = min(short, store[2])
                store[2] -= given
                short -= given
        if short > 1e-9:
            return None
    return sum(grams for _, last, grams in left if last < DAYS)


def _of_targets(problem: Problem, runs: list[tuple[Activity, int, int]]) -> float:
    put_up = sum(step.amount_per_level * level for activity, _, level in runs for step in activity.targets)
    total = 0.0
    for units, value in problem.targets[0].steps:
        total += value * min(units, max(0.0, put_up))
        put_up -= units
    return total


def _of_missed(problem: Problem, runs: list[tuple[Activity, int, int]]) -> float:
    """The dearest meals of a day are served first."""
    total = 0.0
    for day in range(DAYS):
        served = sum(
            s.portions_per_level * level for a, on, level in runs for s in a.servings if on + s.day_offset == day
        )
        for meal in sorted(_meals(problem, day), key=lambda meal: -meal.penalty):
            given = min(meal.portions, served)
            served -= given
            total += meal.penalty * (meal.portions - given)
    return total


def _meals(problem: Problem, day: int) -> Iterator[MealNeed]:
    return (meal for meal in problem.meals if meal.day == day)
