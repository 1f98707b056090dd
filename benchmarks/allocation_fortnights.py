"""How near to the best fortnights are split: python benchmarks/allocation_fortnights.py FIRST LAST SECONDS [ways].

Random fortnights of the demo kitchen (fortnights.py: 40 arrivals in 14 days, 60 of our recipes, all invented), seeds
FIRST to LAST. `ways`, divided by commas: `ours`, the whole programme given as it is to `HIGHS` or `GSCIP` for the same
seconds, and `days`, our plan with its days proved by the timetable and its slack, as `stillroom plan` makes it.
`hours`: the whole programme without what no day holds even alone (day_limits.py), given to HiGHS; its bound holds
for every plan whose days can be kept, and for no other way, so only `days` is measured by it, beside the bound of all.
Gaps are shares of what the split is worth beside doing nothing, to the best bound that any way proved in this run.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "planning"))

from day_limits import Limits
from fortnights import DAYS, read_fortnight, some_recipes, write_fortnight
from ortools.math_opt.python import mathopt

from stillroom.allocation.check import check
from stillroom.allocation.opening import openings
from stillroom.allocation.problem import Allocation, Problem
from stillroom.allocation.solve import search, solve
from stillroom.household.folder import Folder
from stillroom.planning.settling import Settling
from stillroom.planning.split import Split, split
from stillroom.timetable.proof import Prover
from stillroom.work_clock import WorkClock


def main() -> None:
    """A line for each seed and way, then one for each way."""
    first, last, seconds = int(sys.argv[1]), int(sys.argv[2]), float(sys.argv[3])
    ways = sys.argv[4].split(",") if len(sys.argv) > 4 else ["ours", "HIGHS", "GSCIP"]
    gaps: dict[str, list[float]] = {way: [] for way in ways}
    for seed in range(first, last + 1):
        for way, gap in _fortnight(seed, seconds, ways):
            gaps[way].append(gap)
    for way, found in gaps.items():
        near = sum(gap <= 0.01 for gap in found)
        print(
            f"{way}: median gap {100 * statistics.median(found):.2f} %, worst {100 * max(found):.2f} %, "
            f"{near} of {len(found)} within 1 %"
        )


def _fortnight(seed: int, seconds: float, ways: Sequence[str]) -> Iterator[tuple[str, float]]:
    with tempfile.TemporaryDirectory() as name:
        write_fortnight(seed, Path(name))
        folder = read_fortnight(Path(name))
        task = split(folder, some_recipes(folder, seed), DAYS)
        found = {way: _answer(way, task, folder, seconds) for way in ways}
    bound = min(answer.bound for way, (answer, _) in found.items() if way != "hours")
    if "hours" in found and "days" in found:
        best, plan = min(bound, found["hours"][0].bound), found["days"][0]
        gap = (best - plan.objective) / max(plan.stake, 1e-6)
        print(f"{seed:3} days   gap {100 * gap:6.2f} % to {best:9.1f}, the bound that knows the hours of each day")
    for way, (answer, took) in found.items():
        gap = max(0.0, bound - answer.objective) / max(answer.stake, 1e-6)
        faults = "".join(f"\n    {fault}" for fault in check(task.problem, answer) if way != "hours")
        missed = sum(portions for _, _, portions in answer.unmet)
        print(
            f"{seed:3} {way:6} gap {100 * gap:6.2f} %  worth {answer.objective:9.1f} of {bound:9.1f} (own bound "
            f"{answer.bound:9.1f}), stake {answer.stake:6.1f}, {missed:.1f} portions missed, {took:.1f} s{faults}",
            flush=True,
        )
        yield way, gap


def _answer(way: str, task: Split, folder: Folder, seconds: float) -> tuple[Allocation, float]:
    begun = time.perf_counter()
    if way == "ours":
        answer = solve(task.problem, seconds=seconds)
    elif way == "hours":
        limits = Limits(task, folder, Prover()).cuts(openings(task.problem))
        answer = _plain(task.with_cuts(limits), "HIGHS", seconds)
    elif way == "days":
        answer = _with_days(task, folder, seconds)
    else:
        answer = _plain(task.problem, way, seconds)
    return answer, time.perf_counter() - begun


def _with_days(task: Split, folder: Folder, seconds: float) -> Allocation:
    """The split of the plan; its bound is that of the relaxed programme, which knows nothing of the clock."""
    clock = WorkClock()
    found = Settling(task, folder, clock, seconds, 1, lambda words: None).settle()
    return replace(found.allocation, bound=found.bound)


def _plain(problem: Problem, solver: str, seconds: float) -> Allocation:
    return search(problem, 0.0, None, seconds=seconds, seed=1, solver=mathopt.SolverType[solver])


if __name__ == "__main__":
    main()
