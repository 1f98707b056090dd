"""Whether every answer passes its check: python benchmarks/allocation_checks.py FIRST LAST.

Small random weeks with every kind of rule (tests/allocation/brute_force.py), seeds FIRST to LAST: each answer must pass
the check, which shares no code with the solver, and be as good as the best of all combinations of levels. So must what
would be done instead of each of its runs.
"""

from __future__ import annotations

import random
import sys
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "allocation"))

from brute_force import best_worth, small_problem

from stillroom.allocation.check import check, check_runs
from stillroom.allocation.next_best import next_best
from stillroom.allocation.problem import Outcome
from stillroom.allocation.solve import GAP, solve

ROUNDING = 2e-4


def main() -> None:
    """Counts answers, next bests and faults; names each seed that has one."""
    first, last = int(sys.argv[1]), int(sys.argv[2])
    instead = 0
    faults: list[str] = []
    for seed in range(first, last + 1):
        problem = small_problem(random.Random(seed))
        answer, best = solve(problem, seconds=5), best_worth(problem)
        faults += [f"{seed}: {words}" for words in check(problem, answer)]
        if answer.outcome is not Outcome.OPTIMAL or answer.objective < best - GAP * max(0.0, answer.stake) - ROUNDING:
            faults.append(f"{seed}: {answer.objective} of {best}, {answer.outcome}")
        if answer.objective > best + ROUNDING or answer.bound < best - ROUNDING:
            faults.append(f"{seed}: {answer.objective} and bound {answer.bound} beside {best}")
        free = replace(problem, cuts=())
        for run in answer.runs:
            found = next_best(free, answer, run)
            if (
                found is not None and not found.room
            ):  # where others need the room it makes, a rule breaks until there is
                instead += 1
                faults += [
                    f"{seed}: instead of {run}: {words}" for words in check_runs(free, found.beside(answer.runs))
                ]
    print(f"{last - first + 1} small weeks, {instead} next bests, {len(faults)} faults", *faults, sep="\n")
    if faults:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
