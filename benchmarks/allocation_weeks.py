"""How fast random weeks are split, and how near to the best: python benchmarks/allocation_weeks.py [weeks] [seconds].

Prints for each week: seconds, gap, whether the check passes, for `solve` ("ours") beside the same programme given whole
to HiGHS and SCIP.
"""

from __future__ import annotations

import statistics
import sys
from pathlib import Path

from ortools.math_opt.python import mathopt

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "allocation"))

from weeks import week

from stillroom.allocation.check import check
from stillroom.allocation.solve import search, solve


def main() -> None:
    weeks = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 4.0
    names = sys.argv[3].split(",") if len(sys.argv) > 3 else ["ours", "HIGHS", "GSCIP"]
    for name in names:
        took, gaps = [], []
        for seed in range(weeks):
            problem = week(seed)
            if name == "ours":
                answer = solve(problem, seconds=seconds)
            else:
                answer = search(problem, 0.0, None, seconds=seconds, seed=1, solver=mathopt.SolverType[name])
            faults = check(problem, answer)
            took.append(answer.seconds)
            gaps.append(answer.gap)
            print(
                f"{name:6} week {seed:2}: {len(problem.lots)} lots, {len(problem.activities)} activities, "
                f"{answer.outcome.value:9} {answer.objective:9.2f} stake {answer.stake:6.1f} "
                f"gap {100 * answer.gap:6.2f} % in {answer.seconds:5.2f} s, "
                f"{len(answer.runs)} runs, {len(answer.unmet)} missed" + "".join(f"\n    {fault}" for fault in faults)
            )
        print(
            f"{name}: median {statistics.median(took):.2f} s, longest {max(took):.2f} s, "
            f"median gap {100 * statistics.median(gaps):.2f} %, worst {100 * max(gaps):.2f} %"
        )


if __name__ == "__main__":
    main()
