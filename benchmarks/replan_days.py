"""Re-plans made-up days that went otherwise: `python benchmarks/replan_days.py [days of each size] [long seconds]`.

A day is simulated with a spread of 0.4 and looked at when a third of its tasks have begun: what has happened by then is
held, the rest is planned anew. Told for each size: milliseconds of the first answer and seconds of the whole (95 of 100
stay below), by the clock and, since other programs may be at work, of the processor; the price above the best of a long
search and above what is proved; the share of open tasks that move by more than 5 min. Beside it stands the time of a
plain loop of the same machine.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_days import kitchen_day
from plan_demo import reference_seconds
from unlucky import unlucky

from stillroom.timetable.check import check
from stillroom.timetable.replan import replan
from stillroom.timetable.rest import rest_of
from stillroom.timetable.solve import solve

SIZES = ((30, 1), (60, 1), (80, 1), (110, 1), (140, 1), (160, 2))


def main() -> None:
    """One line for each size."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    long_s = float(sys.argv[2]) if len(sys.argv) > 2 else 10.0
    solve(kitchen_day(0, 10).problem, seconds=0.1)  # the solver library is loaded
    for tasks, days in SIZES:
        first_ms, first_cpu_ms, whole_s, whole_cpu_s, above_best, above_bound, far, open_, faults = (
            [],
            [],
            [],
            [],
            [],
            [],
            [],
            [],
            0,
        )
        for seed in range(many):
            day = kitchen_day(seed, tasks, days)
            seen = unlucky(day.problem, day.witness, seed)
            begun, cpu = time.perf_counter(), time.process_time()
            rest_of(day.problem, day.witness, seen)
            first_ms.append(1000 * (time.perf_counter() - begun))
            first_cpu_ms.append(1000 * (time.process_time() - cpu))
            begun, cpu = time.perf_counter(), time.process_time()
            found = replan(day.problem, day.witness, seen)
            whole_s.append(time.perf_counter() - begun)
            whole_cpu_s.append(time.process_time() - cpu)
            faults += len(check(found.problem, found.timetable))
            best = replan(day.problem, day.witness, seen, seconds=long_s)
            above_best.append((1 + found.price) / (1 + min(best.price, found.price)) - 1)
            above_bound.append((1 + found.price) / (1 + best.bound) - 1)
            moved = sum(abs(item.after.start - item.before.start) > 5 for item in found.moved)
            far.append(moved / max(1, len(found.open_keys)))
            open_.append(len(found.open_keys))
        print(
            f"{tasks:3d} tasks, {min(open_)}-{max(open_)} open: first answer {_high(first_ms):.0f} ms (processor "
            f"{_high(first_cpu_ms):.0f}), whole {_high(whole_s):.2f} s (processor {_high(whole_cpu_s):.2f}; "
            f"{_high(whole_s) / reference_seconds():.1f} yardsticks), above the best {statistics.mean(above_best):.2%} "
            f"(most {max(above_best):.2%}), above the bound {statistics.mean(above_bound):.2%}, "
            f"{statistics.mean(far):.0%} of the open moved (most {max(far):.0%}), {faults} faults",
            flush=True,
        )


def _high(values: list[float]) -> float:
    """95 of 100 are not above."""
    return sorted(values)[min(len(values) - 1, round(0.95 * len(values)))]


if __name__ == "__main__":
    main()
