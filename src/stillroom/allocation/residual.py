"""What is left of a problem when all runs but some are done: the question what could be done instead of those."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from stillroom.allocation.answer import served_portions
from stillroom.allocation.problem import Activity, Allocation, Lot, Problem, Run, Target, lot_made, made_by
from stillroom.allocation.shortages import Ledger

RunId = tuple[str, int]  # activity and day


def with_its_takers(allocation: Allocation, run: Run) -> tuple[Run, ...]:
    """A run and all that take what it makes, directly or through others: none of them can stay without it."""
    found = [run]
    for maker in found:
        for other in allocation.runs:
            if other not in found and any(_maker(part.lot) == (maker.activity, maker.day) for part in other.taken):
                found.append(other)
    return tuple(found)


def without(problem: Problem, allocation: Allocation, gone: Collection[Run]) -> tuple[Problem, Ledger]:
    """The problem that is left for the food, the hours and the meals of some runs, and what the others use.

    Only what takes food of these runs, or is made of it, or serves a meal that they serve, may be done instead, and
    not on a day on which it is done already. A pool has what it has from that day to the end. Cuts are left out:
    the clock must be asked again. No run that stays may take what one that is gone makes.
    """
    others = tuple(other for other in allocation.runs if other not in gone)
    ledger = Ledger(problem, replace(allocation, runs=others))
    served = served_portions(problem, others)
    meals = []
    for meal in sorted(problem.meals, key=lambda meal: -meal.penalty):
        given = min(meal.portions, served[meal.role, meal.day])
        served[meal.role, meal.day] -= given
        meals.append(replace(meal, portions=meal.portions - given))
    left = replace(
        problem,
        lots=tuple(_lots(problem, others, ledger)),
        activities=tuple(_activities(problem, others, gone)),
        capacities=tuple(
            replace(c, per_day=tuple(max(0.0, ledger.free(c.name, day)) for day in range(problem.days)))
            for c in problem.capacities
        ),
        pools=tuple(replace(pool, amount=max(0.0, ledger.pool_free(pool.name, 0))) for pool in problem.pools),
        meals=tuple(meal for meal in meals if meal.portions > 0),
        targets=tuple(_targets(problem, others)),
        cuts=(),
    )
    return left, ledger


def left_of(key: str) -> str:
    """The lot that is left of what another run makes."""
    return f"left of {key}"


def _maker(lot: str) -> RunId | None:
    return made_by(lot)[:2] if lot.startswith("run:") else None


def _lots(problem: Problem, others: Sequence[Run], ledger: Ledger) -> Iterator[Lot]:
    """What the other runs leave of each lot and of what they make."""
    for lot in problem.lots:
        yield replace(lot, amount_g=max(0.0, ledger.left_g(lot.key)))
    outputs = {activity.key: activity.outputs for activity in problem.activities}
    for other in others:
        for made in outputs[other.activity]:
            key, first = lot_made(other.activity, other.day, made.item), other.day + made.ready_after
            last, grams = first + made.keeps_days, max(0.0, ledger.left_g(key))
            yield Lot(left_of(key), made.item, grams, first, last, made.worth_per_g, gives_back=made.gives_back)


def _activities(problem: Problem, others: Sequence[Run], gone: Collection[Run]) -> Iterator[Activity]:
    """What might be done instead, on the days that variety and what is done already leave to it."""
    known = {activity.key: activity for activity in problem.activities}
    items = _reached(problem, {part.item for run in gone for part in run.taken})
    roles = {(s.role, run.day + s.day_offset) for run in gone for s in known[run.activity].servings}
    done: dict[str, list[int]] = defaultdict(list)
    for other in others:
        done[known[other.activity].family or other.activity].append(other.day)
    for activity in problem.activities:
        busy = done[activity.family or activity.key]
        takes = any(name in items for needed in activity.inputs for name in needed.items)
        days = [
            day
            for day in activity.days
            if day not in busy
            and (takes or any((s.role, day + s.day_offset) in roles for s in activity.servings))
            and not _is_often(activity, day, busy)
        ]
        if days:
            yield replace(activity, days=tuple(days), at_most=1)


def _reached(problem: Problem, items: set[str]) -> set[str]:
    """Items, what can be made of them, what can be made of that …"""
    reached, before = set(items), 0
    while len(reached) > before:
        before = len(reached)
        for activity in problem.activities:
            if any(name in reached for needed in activity.inputs for name in needed.items):
                reached.update(output.item for output in activity.outputs)
    return reached


def _is_often(activity: Activity, day: int, busy: Sequence[int]) -> bool:
    """Whether one more day would be more than variety allows."""
    span = activity.within_days
    return any(
        sum(first <= other < first + span for other in busy) >= activity.at_most
        for first in range(day - span + 1, day + 1)
    )


def _targets(problem: Problem, others: Sequence[Run]) -> Iterator[Target]:
    """What is still wanted."""
    known = {activity.key: activity for activity in problem.activities}
    put_up: dict[str, float] = defaultdict(float)
    for other in others:
        for step in known[other.activity].targets:
            put_up[step.target] += step.amount_per_level * other.level
    for target in problem.targets:
        steps = []
        for units, value in target.steps:
            filled = min(units, put_up[target.name])
            put_up[target.name] -= filled
            if units > filled:
                steps.append((units - filled, value))
        yield replace(target, steps=tuple(steps))
