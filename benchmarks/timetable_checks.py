"""Many made-up days, each solved, re-planned and checked: `python benchmarks/timetable_checks.py FIRST LAST`.

Each seed draws its own day: 5 to 150 tasks on one to three days, windows or none, an effort of a moment or of some. The
timetable is checked without the solver; the day is then simulated, stopped when a third of it has begun, planned anew
and checked again.
"""

from __future__ import annotations

import random
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_days import kitchen_day
from unlucky import unlucky

from stillroom.timetable.check import check
from stillroom.timetable.replan import replan
from stillroom.timetable.solve import solve


def main() -> None:
    """Counts of outcomes, and every fault."""
    first, last = int(sys.argv[1]), int(sys.argv[2])
    begun, counts, faults, tasks = time.perf_counter(), Counter[str](), 0, 0
    for seed in range(first, last + 1):
        chance = random.Random(f"checks {seed}")
        size, windows = chance.choice((5, 10, 20, 30, 40, 60, 80, 110, 150)), chance.choice((0.0, 0.3, 0.7))
        days = chance.randint(1, 3)
        problem = kitchen_day(seed, size, days, windows).problem
        answer = solve(problem, seconds=chance.choice((0.05, 0.2)), seed=seed, workers=chance.choice((1, 2)))
        found = check(problem, answer)
        counts[answer.outcome.value + (", something late" if answer.lateness_min else "")] += 1
        tasks += len(answer.placed)
        if answer.placed:
            rest = replan(problem, answer, unlucky(problem, answer, seed), seconds=0.1, workers=1)
            found = (*found, *check(rest.problem, rest.timetable))
            counts["re-planned"] += 1
        for sentence in found:
            print(f"seed {seed}: {sentence}", flush=True)
        faults += len(found)
    told = ", ".join(f"{number} {word}" for word, number in sorted(counts.items()))
    print(
        f"{last - first + 1} days, {tasks} tasks: {told}; {faults} faults, {time.perf_counter() - begun:.0f} s",
        flush=True,
    )
    if faults:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
