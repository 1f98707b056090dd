"""Times the timetable on made-up weeks: `python benchmarks/timetable_weeks.py [seconds]`.

For each week: tasks, seconds to the first whole timetable (time limit short: promise only), outcome at the limit.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_weeks import kitchen_week

from stillroom.timetable.check import check
from stillroom.timetable.components import components
from stillroom.timetable.effort import Effort
from stillroom.timetable.search import Search
from stillroom.timetable.solve import solve
from stillroom.timetable.ways import ways

WEEKS = ((80, 1), (140, 2), (60, 7), (100, 7), (150, 7), (200, 7), (250, 7))


def main() -> None:
    """Prints one line per week."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    solve(kitchen_week(0, 5), seconds=0.1)  # the solver library is loaded
    for tasks, days in WEEKS:
        for seed in (1, 2, 3):
            problem = kitchen_week(seed, tasks, days)
            begun = time.perf_counter()
            found = ways(problem)
            outcomes = []
            parts = components(problem, found) if all(found.values()) else ()
            for part in parts:
                search = Search(part, found)
                search.keep_promise(Effort(20.0, 1, 2), 20.0)
                outcomes.append(search.outcome.value)
            promise_s = time.perf_counter() - begun
            answer = solve(problem, seconds=seconds)
            faults = len(check(problem, answer))
            print(
                f"{len(problem.tasks):4d} tasks {days} days seed {seed}: {len(parts)} parts, promise {promise_s:.2f} s "
                f"{sorted(set(outcomes))}, after {answer.seconds:5.2f} s {answer.outcome.value}, "
                f"{faults} faults",
                flush=True,
            )


if __name__ == "__main__":
    main()
