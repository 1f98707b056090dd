"""How sure made-up days become, and what that costs: `python benchmarks/robust_days.py [days of each size] [seconds]`.

For each size, without slack and as chosen: meals on time (within ten minutes) and safety clocks kept on 1,000 fresh
simulated days at a spread of 0.25, evening minutes that the slack costs, milliseconds of one simulation. Beside it
stands the time of a plain loop of the same machine.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from statistics import fmean

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_days import kitchen_day
from plan_demo import reference_seconds

from stillroom.timetable.check import check
from stillroom.timetable.secure import Secured, secure
from stillroom.timetable.simulate import simulate
from stillroom.timetable.solve import solve

SIZES = ((15, 1), (25, 1), (35, 1), (50, 2), (80, 3))


def main() -> None:
    """One line for each size."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 8
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 6.0
    for tasks, days in SIZES:
        plain, chosen, prices, ms, sure, faults = [], [], [], [], 0, 0
        for seed in range(many):
            problem = kitchen_day(seed, tasks, days).problem
            without = solve(problem, seconds=seconds / 3, seed=1)
            found = secure(problem, seconds=seconds)
            if not isinstance(found, Secured) or not without.placed:
                continue
            before = simulate(problem, without, seed=2).chances()
            plain.append((before.of_all_meals, before.of_all_clocks))
            chosen.append((found.chances.of_all_meals, found.chances.of_all_clocks))
            prices.append(sum(price.later_min for price in found.prices) / days)
            begun = time.perf_counter()
            simulate(found.problem, found.timetable, seed=3)
            ms.append(1000 * (time.perf_counter() - begun))
            sure += found.is_sure
            faults += len(check(found.problem, found.timetable))
        print(
            f"{tasks} tasks in {days} days: meals {_share(plain, 0)} without slack, {_share(chosen, 0)} chosen; clocks "
            f"{_share(plain, 1)} and {_share(chosen, 1)}; sure enough {sure} of {len(chosen)}; evenings "
            f"{fmean(prices):+.0f} min a day; {fmean(ms):.0f} ms "
            f"({fmean(ms) / 1000 / reference_seconds():.3f} yardsticks), {faults} faults",
            flush=True,
        )


def _share(shares: list[tuple[float, float]], which: int) -> str:
    return f"{fmean(pair[which] for pair in shares):.1%}"


if __name__ == "__main__":
    main()
