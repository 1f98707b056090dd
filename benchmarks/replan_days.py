"""Re-plans made-up days that went otherwise: `python benchmarks/replan_days.py [days of each size] [long s] [TASKS …]`.

A day is simulated with a spread of 0.4 and looked at when a third of its tasks have begun: what has happened by then is
held, the rest is planned anew. One row for each size (or for those asked for): milliseconds of the first answer and
seconds of the whole, 95 of 100 below; the price above the best of a long search and above what is proved; the share of
open tasks that move by more than 5 min. Every new plan is checked.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_days import kitchen_day
from unlucky import unlucky

from stillroom.timetable.check import check
from stillroom.timetable.replan import replan
from stillroom.timetable.rest import rest_of

SIZES = ((30, 1), (60, 1), (80, 1), (110, 1), (140, 1), (160, 2))


def main() -> None:
    """One row for each size."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    long_s = float(sys.argv[2]) if len(sys.argv) > 2 else 10.0
    asked = [int(word) for word in sys.argv[3:]]
    replanned(10, 1, 0, 0.1)  # the solver library is loaded
    for tasks, days in SIZES:
        if not asked or tasks in asked:
            rows = [replanned(tasks, days, seed, long_s) for seed in range(many)]
            print(line(tasks, rows), flush=True)


def replanned(tasks: int, days: int, seed: int, long_s: float) -> dict[str, float]:
    """What is told of one day."""
    day = kitchen_day(seed, tasks, days)
    seen = unlucky(day.problem, day.witness, seed)
    begun = time.perf_counter()
    rest_of(day.problem, day.witness, seen)
    first_ms = 1000 * (time.perf_counter() - begun)
    begun = time.perf_counter()
    found = replan(day.problem, day.witness, seen)
    whole_s = time.perf_counter() - begun
    if faults := check(found.problem, found.timetable):
        raise AssertionError(faults[0])
    best = replan(day.problem, day.witness, seen, seconds=long_s)
    moved = sum(abs(item.after.start - item.before.start) > 5 for item in found.moved)
    return {
        "open": len(found.open_keys),
        "first": first_ms,
        "whole": whole_s,
        "above": 100 * ((1 + found.price) / (1 + min(best.price, found.price)) - 1),
        "bound": 100 * ((1 + found.price) / (1 + best.bound) - 1),
        "moved": 100 * moved / max(1, len(found.open_keys)),
    }


def line(tasks: int, rows: list[dict[str, float]]) -> str:
    """The row of a table."""
    of = {key: [row[key] for row in rows] for key in rows[0]}
    above, bound, moved = (
        f"{statistics.mean(of[key]):.1f} % ({max(of[key]):.1f})" for key in ("above", "bound", "moved")
    )
    opened = f"{min(of['open']):.0f}–{max(of['open']):.0f}"
    times = f"{_high(of['first']):.0f} ms | {_high(of['whole']):.2f} s"
    return f"| {tasks} | {opened} | {times} | {above} | {bound} | {moved} |"


def _high(values: list[float]) -> float:
    """95 of 100 are not above."""
    return sorted(values)[min(len(values) - 1, round(0.95 * len(values)))]


if __name__ == "__main__":
    main()
