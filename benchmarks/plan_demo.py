"""How long the demo plan takes and what it is worth: python benchmarks/plan_demo.py [times] [seconds].

Beside each run stands the time of a plain loop of the same machine, so that figures of two machines can be compared.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from stillroom.household.folder import read_folder
from stillroom.planning.pipeline import plan

DEMO = Path(__file__).parent.parent / "examples" / "demo"


def reference_seconds() -> float:
    """A loop of ten million additions, the yardstick."""
    begun = time.perf_counter()
    total = 0
    for number in range(10_000_000):
        total += number
    assert total
    return time.perf_counter() - begun


def main() -> None:
    """One line for each run."""
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 10.0
    for _ in range(times):
        yardstick = reference_seconds()
        begun = time.perf_counter()
        made = plan(read_folder(DEMO), seconds=seconds, progress=lambda words: None)
        took = time.perf_counter() - begun
        late = sum(not meal.is_on_time for meal in made.meals)
        given = sum(part.mass_g for part in made.left if not part.reason.startswith("keeps")) / 1000
        print(
            f"{took:5.1f} s ({took / yardstick:5.1f} yardsticks of {yardstick:.2f} s), {made.effort.rounds} rounds, "
            f"{len(made.tasks)} tasks, {len(made.runs)} runs, {late} meals late or missing, "
            f"{given:.1f} kg given away or lost, at most {made.effort.gap:.1%} below the best"
        )


if __name__ == "__main__":
    main()
