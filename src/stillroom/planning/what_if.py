"""The same household planned twice, as it is and with something changed, side by side."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from stillroom.household.folder import Folder
from stillroom.model.plan import Plan, PlannedRun
from stillroom.model.wish import Wish
from stillroom.planning.figures import Figures, figures
from stillroom.planning.pipeline import work_out
from stillroom.planning.settling import Progress
from stillroom.planning.what_if_words import read_changes

TELL_RUNS = 8
LEAST_KG = 0.3  # a smaller difference is not told
EVENING_MIN = 15


@dataclass(frozen=True, slots=True)
class WhatIf:
    """Two plans and their figures; `changes` says what is different, `sentences` what comes of it."""

    changes: tuple[str, ...]
    sentences: tuple[str, ...]
    now: Figures
    then: Figures
    plan_now: Plan
    plan_then: Plan


def what_if(
    folder: Folder,
    asked: Sequence[str],
    *,
    seconds: float = 10.0,
    seed: int = 1,
    plan_now: Plan | None = None,
    wishes: Sequence[Wish] = (),
    progress: Progress = print,
) -> WhatIf:
    """Plans the folder with the changes asked for, and as it is unless that plan is at hand; `wishes` hold for both.

    Each plan takes about `seconds`. Raises InputError, before anything is planned, when a change can't be read.
    """
    changed, changes = read_changes(asked, folder)

    def planned(home: Folder) -> Plan:
        return work_out(
            home,
            days=folder.days,
            seconds=seconds,
            seed=seed,
            progress=progress,
            is_explained=False,
            wishes=wishes,
        ).plan

    if plan_now is None:
        progress(f"first the plan as things are (about {seconds:.0f} s)")
        plan_now = planned(folder)
    progress(f"now the plan if {' and '.join(changes)} (about {seconds:.0f} s)")
    plan_then = planned(changed)
    now, then = figures(folder, plan_now), figures(changed, plan_then)
    sentences = (
        *_sums(now, then),
        *_left(plan_now, plan_then),
        *_runs(plan_now, plan_then),
        *_chance(now, then, plan_now, plan_then),
    )
    return WhatIf(changes, sentences, now, then, plan_now, plan_then)


def _sums(now: Figures, then: Figures) -> Iterator[str]:
    if (now.meals_on_time, now.meals_wanted) != (then.meals_on_time, then.meals_wanted):
        yield (
            f"{then.meals_on_time} of {then.meals_wanted} meals are whole and on time, "
            f"instead of {now.meals_on_time} of {now.meals_wanted}."
        )
    before, after = _share(now), _share(then)
    if round(before, 3) == round(after, 3):
        yield f"As much of what comes in is kept as now: {after:.1%} of its worth."
    else:
        more = "more" if after > before else "less"
        yield f"{after:.1%} of the worth of what comes in is kept, instead of {before:.1%}: {more} than now."
    if abs(then.mean_evening_min - now.mean_evening_min) >= EVENING_MIN:
        way = "later" if then.mean_evening_min > now.mean_evening_min else "earlier"
        minutes = abs(then.mean_evening_min - now.mean_evening_min)
        yield f"Work ends {minutes} min {way}, taken over the days."


def _share(found: Figures) -> float:
    return found.worth_kept / found.worth_in if found.worth_in > 0 else 1.0


def _left(now: Plan, then: Plan) -> Iterator[str]:
    """What is given away or lost, food by food, largest difference first."""
    before, after = _gone(now), _gone(then)
    by_food = {food: after.get(food, 0.0) - before.get(food, 0.0) for food in {**before, **after}}
    for food, kg in sorted(by_food.items(), key=lambda entry: (-abs(entry[1]), entry[0])):
        if abs(kg) >= LEAST_KG:
            words = "more" if kg > 0 else "less"
            yield f"{abs(kg):.1f} kg {words} {food.removesuffix(', fresh')} is given away or lost."


def _gone(plan: Plan) -> Mapping[str, float]:
    total: dict[str, float] = defaultdict(float)
    for part in plan.left:
        if part.is_lost or part.is_given_away:
            total[part.food] += part.mass_g / 1000
    return total


def _runs(now: Plan, then: Plan) -> Iterator[str]:
    """What is done more, less, newly or not at all, by the food it takes."""
    before, after = _by_name(now), _by_name(then)
    told = []
    for name in {**before, **after}:
        old, new = before.get(name, ()), after.get(name, ())
        kg = _kg(new) - _kg(old)
        if abs(kg) >= LEAST_KG:
            told.append((abs(kg), name, f"{name}: {_amount(new)} instead of {_amount(old)}."))
    for _, _, words in sorted(told, key=lambda entry: (-entry[0], entry[1]))[:TELL_RUNS]:
        yield words
    if len(told) > TELL_RUNS:
        yield f"{len(told) - TELL_RUNS} more recipes change too."


def _by_name(plan: Plan) -> Mapping[str, Sequence[PlannedRun]]:
    found: dict[str, list[PlannedRun]] = defaultdict(list)
    for run in plan.runs:
        found[run.name].append(run)
    return found


def _kg(runs: Sequence[PlannedRun]) -> float:
    return sum(taken.mass_g for run in runs for taken in run.taken) / 1000


def _amount(runs: Sequence[PlannedRun]) -> str:
    if not runs:
        return "none"
    jars: dict[str, int] = defaultdict(int)
    for run in runs:
        jars[run.jar] += run.jars
    days = ", ".join(f"{run.day:%a}" for run in runs)
    counted = " and ".join(f"{count} {jar} jars" for jar, count in jars.items() if jar)
    return f"{counted or f'{_kg(runs):.1f} kg'} ({days})"


def _chance(now: Figures, then: Figures, plan_now: Plan, plan_then: Plan) -> Iterator[str]:
    """That the search itself leaves something open, where that is as much as the difference."""
    open_share = max(plan_now.effort.gap, plan_then.effort.gap)
    if abs(_share(then) - _share(now)) < open_share:
        if open_share > 1:
            yield "How near the two plans are to the best is not known; a small difference may be chance."
        else:
            yield f"The search may miss up to {open_share:.1%} of a plan's gain: so small a difference may be chance."
