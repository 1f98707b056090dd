"""Answers that are known from elsewhere: textbooks, dynamic programming, closed forms, plain enumeration."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small import activity, capacity, lot, problem

from stillroom.allocation.check import check
from stillroom.allocation.problem import Activity, Lot, Outcome, Problem, Usage
from stillroom.allocation.solve import GAP, solve


def test_wyndor_glass() -> None:
    """Hillier and Lieberman, Introduction to Operations Research (from memory; the corner is checked by hand):
    max 3x+5y, x<=4, 2y<=12, 3x+2y<=18 gives 36 at (2, 6).
    """
    doors = activity("doors", takes="", value_per_level=3, usages=(Usage("p1", per_level=1), Usage("p3", per_level=3)))
    windows = activity(
        "windows", takes="", value_per_level=5, usages=(Usage("p2", per_level=2), Usage("p3", per_level=2))
    )
    plants = (capacity(4, name="p1"), capacity(12, name="p2"), capacity(18, name="p3"))
    task = problem(doors, windows, capacities=plants)
    answer = solve(task, seconds=5)
    assert answer.objective == pytest.approx(36, rel=GAP)
    assert answer.bound >= 36 - 1e-6
    assert check(task, answer) == ()


def test_knapsack_by_dynamic_programming() -> None:
    weights = (23, 31, 29, 44, 53, 38, 63, 85, 89, 82)
    profits = (92, 57, 49, 68, 60, 43, 67, 84, 87, 72)
    best = [0] * 166
    for weight, profit in zip(weights, profits, strict=True):
        for room in range(165, weight - 1, -1):
            best[room] = max(best[room], best[room - weight] + profit)
    runs = tuple(
        activity(
            f"item {n}", takes="", value_per_level=p, largest=1, level_step=1, usages=(Usage("sack", per_level=w),)
        )
        for n, (w, p) in enumerate(zip(weights, profits, strict=True))
    )
    task = problem(*runs, capacities=(capacity(165, name="sack"),))
    answer = solve(task, seconds=5)
    assert best[165] == 309  # the optimum printed with this well-known instance
    assert answer.objective == pytest.approx(309, rel=GAP)
    assert answer.bound >= 309 - 1e-6
    assert check(task, answer) == ()


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=1, max_size=5), st.integers(1, 40))
def test_divisible_knapsack_by_density(things: list[tuple[int, int]], room: int) -> None:
    """The best of divisible things fill the sack by value per weight."""
    runs = tuple(
        activity(f"{n}", takes="flour", grams=float(weight), largest=2.0, value_per_level=float(value))
        for n, (weight, value) in enumerate(things)
    )
    task = problem(*runs, lots=(lot("flour", float(room), 0, 5),))
    left, best = float(room), 0.0
    for weight, value in sorted(things, key=lambda thing: -thing[1] / thing[0]):
        level = min(2.0, left / weight)
        best, left = best + level * value, left - level * weight
    answer = solve(task, seconds=5)
    assert answer.objective == pytest.approx(best, rel=GAP)
    assert check(task, answer) == ()


@st.composite
def tiny_problems(draw: st.DrawFn) -> Problem:
    """Two days, one food in up to three lots, up to three activities with whole levels, hands, loads and variants."""
    lots, often = [], draw(st.integers(1, 2))
    for number in range(draw(st.integers(1, 3))):
        first = draw(st.integers(0, 1))
        last = draw(st.integers(first, 3))
        lots.append(Lot(f"lot {number}", "food", 100.0 * draw(st.integers(1, 4)), first, last, 0.01))
    activities = tuple(
        activity(
            f"way {number}",
            takes="food",
            grams=100.0 * draw(st.integers(1, 2)),
            days=(0, 1),
            smallest=float(draw(st.integers(1, 2))),
            largest=2.0,
            level_step=1.0,
            level_per_load=1.0,
            value_per_level=float(draw(st.integers(0, 5))),
            cost_per_run=float(draw(st.integers(0, 2))),
            at_most=often,
            family=draw(st.sampled_from(("", "same"))),
            usages=(
                Usage("hands", fixed=float(draw(st.integers(0, 3))), per_load=float(draw(st.integers(0, 3)))),
                *((Usage("hands", -1, fixed=1.0),) if draw(st.booleans()) else ()),
            ),
        )
        for number in range(draw(st.integers(1, 3)))
    )
    hands = capacity(float(draw(st.integers(1, 8))), float(draw(st.integers(1, 8))))
    return problem(*activities, lots=tuple(lots), days=2, capacities=(hands,))


@settings(max_examples=60, deadline=None)
@given(tiny_problems())
def test_small_weeks_by_enumeration(task: Problem) -> None:
    answer = solve(task, seconds=5)
    best = _best_by_enumeration(task)
    assert check(task, answer) == ()
    assert answer.outcome is Outcome.OPTIMAL
    assert answer.objective <= best + 1e-6
    assert answer.bound >= best - 1e-4
    assert answer.objective >= best - GAP * answer.stake - 2e-4


def _best_by_enumeration(task: Problem) -> float:
    """Every combination of levels 0, 1, 2 of every activity on both days."""
    cells = [(way, day) for way in task.activities for day in (0, 1)]
    worths = (
        _worth(task, dict(zip([(way.key, day) for way, day in cells], levels, strict=True)))
        for levels in itertools.product((0, 1, 2), repeat=len(cells))
    )
    return max(worth for worth in worths if worth is not None)


def _worth(task: Problem, levels: dict[tuple[str, int], int]) -> float | None:
    """Value less cost and spoilage; None when a rule is broken."""
    ways = {way.key: way for way in task.activities}
    hands, wanted, worth = [0.0, 0.0], [0.0, 0.0], 0.0
    for (key, day), level in levels.items():
        way = ways[key]
        if level == 0:
            continue
        if level < way.smallest or any(not 0 <= day + usage.day_offset < 2 for usage in way.usages):
            return None
        for usage in way.usages:
            hands[day + usage.day_offset] += usage.fixed + usage.per_load * level
        wanted[day] += way.inputs[0].grams_per_level * level
        worth += way.value_per_level * level - way.cost_per_run
    if any(used > offered for used, offered in zip(hands, task.capacities[0].per_day, strict=True)):
        return None
    return None if _too_varied(task.activities, levels) else _less_waste(task.lots, wanted, worth)


def _too_varied(ways: tuple[Activity, ...], levels: dict[tuple[str, int], int]) -> bool:
    families = [[way] for way in ways if not way.family] + [[way for way in ways if way.family]]
    done = [sum(levels[way.key, day] > 0 for way in family for day in (0, 1)) for family in families]
    if any(days > min((way.at_most for way in family), default=9) for days, family in zip(done, families, strict=True)):
        return True
    return any(sum(levels[way.key, day] > 0 for way in ways if way.family) > 1 for day in (0, 1))


def _less_waste(lots: tuple[Lot, ...], wanted: list[float], worth: float) -> float | None:
    """Earliest last day first is best for one food: exchange argument."""
    left = {one.key: one.amount_g for one in lots}
    for day in (0, 1):
        short = wanted[day]
        for one in sorted(lots, key=lambda one: one.last_day):
            if one.first_day <= day <= one.last_day:
                given = min(short, left[one.key])
                left[one.key] -= given
                short -= given
        if short > 1e-9:
            return None
    return worth - sum(left[one.key] * one.worth_per_g for one in lots if one.last_day < 2)
