"""How well impossible days are explained: python benchmarks/why_not.py [days] [stretch].

Days of the demo kitchen are filled with runs of random recipes for as long as a timetable is found. Then either one run
too many is added or hours are taken from people, half an hour at a time, until no timetable can be kept. Times are of
the processor, and time limits are stretched by as much as others keep it busy, and by a factor for a processor that is
slow. Beside them stands the time of a plain loop of the same machine, so that figures of two machines can be compared.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from plan_demo import reference_seconds

from stillroom.allocation.opening import loads_of
from stillroom.allocation.problem import Run
from stillroom.household.folder import read_folder
from stillroom.model.kitchen import Kitchen
from stillroom.planning.crew import MEAL_GROUP
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.rearranging import Arrangement, Rearranging
from stillroom.planning.split import split
from stillroom.timetable.changes import bare_question
from stillroom.timetable.check import check
from stillroom.timetable.problem import Outcome
from stillroom.timetable.proof import Prover
from stillroom.timetable.why_not import WAYS_SECONDS, WHY_SECONDS, WhyNot, why_not

DEMO = Path(__file__).parent.parent / "examples" / "demo"
FOLDER = read_folder(DEMO)
TASK = split(FOLDER, known_recipes(FOLDER), FOLDER.days)
REARRANGING = Rearranging(TASK, FOLDER)
MOST_RUNS = 9
TARGET_S = 0.3


def impossible_days(count: int) -> Iterator[tuple[str, Arrangement]]:
    """(how it was made, arrangement of runs and hours), each proved impossible."""
    for seed in range(count):
        made = _impossible_day(random.Random(seed))
        if made is not None:
            yield made


def main() -> None:
    """A line for each day, then how long it took, how small the cores are, and how often there are two ways out."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    stretch = float(sys.argv[2]) if len(sys.argv) > 2 else 1.0
    why_not(REARRANGING.problem_of(REARRANGING.start(())))  # the solver library is loaded
    answers = []
    for how, state in impossible_days(count):
        problem = REARRANGING.problem_of(state)
        busy = stretch * _busy()
        begun = time.process_time()
        question = bare_question(problem, REARRANGING.names(state), (MEAL_GROUP,))
        answer = why_not(question, why_seconds=WHY_SECONDS * busy, ways_seconds=WAYS_SECONDS * busy)
        used = time.process_time() - begun
        why_s = used * answer.why_seconds / (answer.why_seconds + answer.ways_seconds)
        answers.append((answer, why_s, used - why_s))
        assert all(check(way.problem, way.timetable) == () for way in answer.ways_out)
        print(f"{how:12s} {len(problem.tasks):3d} tasks, {_line(*answers[-1])}", flush=True)
    _summary(answers, stretch)


def _busy() -> float:
    """How many seconds of the clock a second of the processor takes just now, since others are at work."""
    begun, used = time.perf_counter(), time.process_time()
    reference_seconds()
    return max(1.0, (time.perf_counter() - begun) / (time.process_time() - used))


def _line(answer: WhyNot, why_s: float, ways_s: float) -> str:
    core = answer.core
    size = f"{len(core.blocks):2d} runs {len(core.rules)} rules" if core else answer.outcome.value
    tried = " (tried by kind)" if core and core.is_smallest_by_kind else " (not all tried)"
    tried = "" if core is None or core.is_smallest else tried
    steps = "+".join(str(len(way.steps)) for way in answer.ways_out)
    return f"{size}{tried} {why_s:.2f} s, ways out of {steps or 'no'} steps {ways_s:.2f} s: {answer.sentence}"


def _summary(answers: Sequence[tuple[WhyNot, float, float]], stretch: float) -> None:
    def share(told: Iterable[bool]) -> str:
        each = list(told)
        return f"{sum(each)} of {len(each)} ({sum(each) / len(each):.0%})"

    found = [answer for answer, _, _ in answers]
    yardstick = reference_seconds()
    print(f"times are of the processor; the yardstick took {yardstick:.2f} s")
    for what, place in (("why", 1), ("ways out", 2)):
        seconds = [entry[place] for entry in answers]
        middle, most = statistics.median(seconds), _tenth(seconds)
        print(
            f"{what}: median {middle:.2f} s ({middle / yardstick:.2f} yardsticks), "
            f"nine of ten within {most:.2f} s ({most / yardstick:.2f})"
        )
    sizes = Counter(len(answer.core.rules) for answer in found if answer.core and answer.core.is_smallest)
    print(f"rules in a core, and how often: {dict(sorted(sizes.items()))}")
    print("smallest, every part proved to matter:", share(bool(a.core and a.core.is_smallest) for a in found))
    by_kind = (bool(a.core and a.core.is_smallest_by_kind) for a in found)
    print("smallest, every run and kind of rule proved to matter:", share(by_kind))
    print("told by numbers or at most five rules:", share(bool(a.overload or a.short_by or a.rules) for a in found))
    in_time = (bool(a.overload or a.short_by or a.rules) and why_s <= stretch * TARGET_S for a, why_s, _ in answers)
    print(f"and within {stretch * TARGET_S:.2f} s:", share(in_time))
    print("two ways out:", share(len(a.ways_out) >= 2 for a in found))
    most = max((len(way.steps) for a in found for way in a.ways_out), default=0)
    print(f"changes in a way out: at most {most}")
    print("of two kinds:", share(len({way.kinds for way in a.ways_out}) >= 2 for a in found))


def _tenth(seconds: list[float]) -> float:
    return statistics.quantiles(seconds, n=10)[-1] if len(seconds) > 1 else seconds[0]


def _impossible_day(chance: random.Random) -> tuple[str, Arrangement] | None:
    day = chance.randrange(FOLDER.days)
    state, spare = _full_day(chance, day)
    if spare is not None and chance.random() < 0.5:
        return "one run more", replace(state, runs=(*state.runs, spare))
    for _ in range(60):
        state = replace(state, kitchen=_shorter(chance, state.kitchen, day))
        if Prover().verdict(REARRANGING.problem_of(state)).outcome is Outcome.INFEASIBLE:
            return "hours taken", state
    return None


def _full_day(chance: random.Random, day: int) -> tuple[Arrangement, Run | None]:
    """Runs that one day can keep, no two dishes of one meal alike in role, and one that is too many."""
    state, spare = REARRANGING.start(()), None
    served: set[str] = set()
    activities = [a for a in TASK.problem.activities if a.key in TASK.variants and day in a.days]
    for activity in chance.sample(activities, k=min(len(activities), 4 * MOST_RUNS)):
        roles = {serving.role for serving in activity.servings}
        if roles & served or any(run.activity.split("/")[0] == activity.family for run in state.runs):
            continue
        most = max(activity.smallest, min(activity.largest, 2 * (activity.level_per_load or activity.largest)))
        level = chance.uniform(activity.smallest, most)
        if activity.level_step:
            level = max(activity.smallest, round(level / activity.level_step) * activity.level_step)
        run = Run(activity.key, day, level, loads_of(activity, level), ())
        fuller = replace(state, runs=(*state.runs, run))
        outcome = Prover(seconds=0.5).verdict(REARRANGING.problem_of(fuller)).outcome
        if outcome is Outcome.FEASIBLE and len(state.runs) < MOST_RUNS:
            state, served = fuller, served | roles
        elif outcome is Outcome.INFEASIBLE:
            spare = run
    return state, spare


def _shorter(chance: random.Random, kitchen: Kitchen, day: int) -> Kitchen:
    """Half an hour less of one stretch of one person on a day."""
    on = FOLDER.start + timedelta(days=day)
    spans = [(person, span) for person in kitchen.people for span in person.presence if span.day == on]
    if not spans:
        return kitchen
    person, span = chance.choice(spans)
    begins, ends = datetime.combine(on, span.start), datetime.combine(on, span.end)
    if chance.random() < 0.5:
        begins += timedelta(minutes=30)
    else:
        ends -= timedelta(minutes=30)
    left = (replace(span, start=begins.time(), end=ends.time()),) if begins < ends else ()
    kept = tuple(new for old in person.presence for new in (left if old is span else (old,)))
    people = tuple(replace(p, presence=kept) if p is person else p for p in kitchen.people)
    return replace(kitchen, people=people)


if __name__ == "__main__":
    main()
