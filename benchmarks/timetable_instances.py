"""The published instances beside two peers: `python benchmarks/timetable_instances.py [KIND …] [--each]`.

Every engine gets the same seconds of the clock, building of the model included, in the same run, one after the other
on each instance, with two workers. Needs the extra `bench`. Gaps are to the best value known, or to what a run proved
where that is better; an engine that has found nothing counts as 100 %. Impossible instances have no gap; they count as
proved. A proof that comes later than a twentieth past the limit is not counted. `--each` prints every instance.
"""

from __future__ import annotations

import os
import platform
import statistics
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from published import Known, known
from timetable_peers import Answer, ours, plain, pyjobshop

ENGINES = {"ours": ours, "plain": plain, "PyJobShop": pyjobshop}
SECONDS = (1.0, 5.0)
NOTHING = 100.0
LATE = 1.05


def best_value(instance: Known, answers: list[Answer]) -> int | None:
    """The best value known, or one that was proved here."""
    values = [answer.makespan for answer in answers if answer.is_proved and answer.makespan is not None]
    return None if instance.best is None else min([instance.best, *values])


def gap(best: int, answer: Answer) -> float:
    """Per cent above the best value."""
    return NOTHING if answer.makespan is None else 100 * (answer.makespan - best) / best


def cell(best: list[int | None], answers: list[Answer], limit: float) -> str:
    """Mean gap, and how many are proved in time."""
    mean = statistics.mean(gap(value, answer) for value, answer in zip(best, answers, strict=True) if value is not None)
    proved = sum(answer.is_proved and answer.seconds <= LATE * limit for answer in answers)
    return f"{mean:.2f} %, {proved}"


def main() -> None:
    """One row for each kind and limit."""
    asked = [word for word in sys.argv[1:] if not word.startswith("--")]
    machine = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
    print(f"{machine}, load {os.getloadavg()[0]:.1f}")
    print("| kind | instances | limit |" + "".join(f" {name}: mean gap, proved |" for name in ENGINES))
    print("| --- | --- | --- |" + " --- |" * len(ENGINES))
    for kind in dict.fromkeys(instance.kind for instance in known().values()):
        if asked and kind not in asked:
            continue
        instances = [instance for instance in known().values() if instance.kind == kind]
        for seconds in SECONDS:
            answers: dict[str, list[Answer]] = {name: [] for name in ENGINES}
            for instance in instances:
                for name, engine in ENGINES.items():
                    answers[name].append(engine(instance.name, seconds))
                if "--each" in sys.argv:
                    row = {name: (found[-1].makespan, round(found[-1].seconds, 2)) for name, found in answers.items()}
                    print(f"    {instance.name} best known {instance.best}: {row}", flush=True)
            best = [best_value(item, list(found)) for item, *found in zip(instances, *answers.values(), strict=True)]
            cells = "".join(f" {cell(best, answers[name], seconds)} |" for name in ENGINES)
            print(f"| {kind} | {len(instances)} | {seconds:g} s |{cells}", flush=True)


if __name__ == "__main__":
    main()
