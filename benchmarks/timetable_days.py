"""Made-up kitchen days beside two peers, in parts that are kept in a file.

    python benchmarks/timetable_days.py run TASKS FIRST LAST FILE [LONG]    seeds FIRST to LAST, one line of FILE each
    python benchmarks/timetable_days.py table FILE                          what the lines say together

The promise: seconds until all is placed and on time, proved. Comfort: what is above the best of LONG seconds (60) or of
any run of the same day. Two workers everywhere; building of models is counted. Every timetable is checked.
"""

from __future__ import annotations

import json
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_days import kitchen_day
from timetable_day_peers import at_once, promise_at_once, pyjobshop_promise

from stillroom.timetable.check import check
from stillroom.timetable.components import components
from stillroom.timetable.effort import Effort
from stillroom.timetable.goals import comfort, discomfort
from stillroom.timetable.problem import Problem, Timetable
from stillroom.timetable.search import Search
from stillroom.timetable.solve import solve
from stillroom.timetable.ways import ways

SIZES = {40: (1, 1.5, 3.0), 80: (1, 1.5, 3.0), 150: (2, 1.0, 5.0)}  # tasks: days, two limits for comfort
PROMISE_S = 20.0
LONG_S = 60.0


def promise(problem: Problem) -> float | None:
    """Seconds of our promise, if it is proved that nothing is late."""
    begun = time.perf_counter()
    found = ways(problem)
    searches = [Search(part, found) for part in components(problem, found)]
    for search in searches:
        search.keep_promise(Effort(PROMISE_S, 1, 2), PROMISE_S)
    is_kept = all(search.is_promise_proved and search.placed and search.lateness_min == 0 for search in searches)
    return time.perf_counter() - begun if is_kept else None


def cost(problem: Problem, answer: Timetable) -> int | None:
    """The discomfort of an answer in which nothing is late."""
    if faults := check(problem, answer):
        raise AssertionError(faults[0])
    if not answer.placed or answer.lateness_min:
        return None
    return discomfort(problem, comfort(problem, ways(problem)), {item.task: item for item in answer.placed})


def measured(tasks: int, seed: int, long_s: float) -> dict[str, object]:
    """All that is told of one day."""
    days, *limits = SIZES[tasks]
    problem = kitchen_day(seed, tasks, days).problem
    row: dict[str, object] = {"tasks": tasks, "seed": seed}
    row["promise"] = [promise(problem), promise_at_once(problem, PROMISE_S), pyjobshop_promise(problem, PROMISE_S)]
    for limit in limits:
        begun = time.perf_counter()
        answer = solve(problem, seconds=limit)
        used = time.perf_counter() - begun
        row[f"{limit:g}"] = [cost(problem, answer), cost(problem, at_once(problem, limit))]
        row[f"{limit:g} used"] = used
    row["long"] = cost(problem, solve(problem, seconds=long_s))
    return row


def gaps(rows: list[dict[str, object]], limit: str, place: int) -> str:
    """Mean and most per cent above the best, and how many days have no answer."""
    found, missing = [], 0
    for row in rows:
        known = [value for key in row if key == "long" or key in ("1", "1.5", "3", "5") for value in _numbers(row[key])]
        (value,) = [_list(row[limit])[place]]
        if value is None:
            missing += 1
        else:
            found.append(100 * (value - min(known)) / max(1.0, min(known)))
    none = f", {missing} without" if missing else ""
    return (f"{statistics.mean(found):.1f} % ({max(found):.1f})" if found else "none") + none


def promises(rows: list[dict[str, object]], place: int) -> str:
    """Middle and most seconds of the promise."""
    found = [_list(row["promise"])[place] for row in rows]
    kept = [value for value in found if value is not None]
    none = f", {len(found) - len(kept)} not in {PROMISE_S:g} s" if len(kept) < len(found) else ""
    return (f"{statistics.median(kept):.2f} s ({max(kept):.2f})" if kept else "none") + none


def table(file: Path) -> None:
    """One row for each size: promise and comfort, ours and the peers'."""
    rows = [json.loads(line) for line in file.read_text().splitlines()]
    print("| tasks | days | promise: ours | at once | PyJobShop | limit | comfort: ours | at once |")
    print("| --- " * 8 + "|")
    for tasks, (_, *limits) in SIZES.items():
        here = [row for row in rows if row["tasks"] == tasks]
        for number, limit in enumerate(f"{limit:g}" for limit in limits if here):
            first = [str(tasks), str(len(here)), *(promises(here, place) for place in range(3))]
            cells = [*(first if number == 0 else [""] * 5), f"{limit} s", gaps(here, limit, 0), gaps(here, limit, 1)]
            print("| " + " | ".join(cells) + " |")


def _list(value: object) -> list[float | None]:
    return value if isinstance(value, list) else [value]  # type: ignore[list-item]


def _numbers(value: object) -> list[float]:
    return [item for item in _list(value) if item is not None]


def main() -> None:
    """Measures, or tells what was measured."""
    if sys.argv[1] == "table":
        table(Path(sys.argv[2]))
        return
    tasks, first, last = map(int, sys.argv[2:5])
    long_s = float(sys.argv[6]) if len(sys.argv) > 6 else LONG_S
    warm = kitchen_day(0, 10).problem  # libraries are loaded
    solve(warm, seconds=0.1), pyjobshop_promise(warm, 1.0)
    with Path(sys.argv[5]).open("a") as file:
        for seed in range(first, last + 1):
            print(json.dumps(measured(tasks, seed, long_s)), file=file, flush=True)


if __name__ == "__main__":
    main()
