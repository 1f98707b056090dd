"""By how many minutes a day is too short, proved from both sides: with so many more it is kept, with fewer not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass

from stillroom.timetable.changes import everybody_longer
from stillroom.timetable.check import check
from stillroom.timetable.core import Core
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import DAY_MIN, Kind

FIRST_MIN, MOST_MIN, STEP_MIN = 30, 120, 5


@dataclass(frozen=True, slots=True)
class Longer:
    """Whoever is there at the end of a day stays `enough_min` longer, and all is kept; `too_few_min` are too few.

    `enough_min` is None where no time that was tried is enough; `too_few_min` is 0 where none more was tried in vain.
    """

    day: int
    too_few_min: int
    enough_min: int | None


def longer(
    problem: Problem, found: Core, prover: Prover, deadline: float, *, own: Collection[str] = (), asked: str = ""
) -> Longer | None:
    """As near as the time until the moment `deadline` of the prover's clock allows; None where nothing is proved.

    The day is one whose hours are in the way of the core that was `found`, that of the `asked` group if it can be.
    """
    keys = {key for block in found.blocks for key in block.keys}
    day = _day_of(problem, found, keys, asked)
    if day is None:
        return None
    too_few, enough, next_try = 0, None, FIRST_MIN
    while prover.clock.now_s <= deadline and too_few < next_try:
        more = everybody_longer(problem, day, next_try, own)
        if more is None:
            break
        verdict = prover.verdict(more)
        if verdict.outcome is Outcome.FEASIBLE and not check(more, verdict.timetable):
            enough = next_try
        elif verdict.part is not None and any(task.key in keys for task in verdict.part.tasks):
            too_few = next_try
        else:  # not known in time, or something else can't be done either
            break
        middle = (too_few + (enough or 0)) // 2 // STEP_MIN * STEP_MIN
        next_try = min(MOST_MIN, 2 * next_try) if enough is None else middle
    return Longer(day, too_few, enough) if enough is not None or too_few else None


def _day_of(problem: Problem, found: Core, keys: Collection[str], asked: str) -> int | None:
    """Of the days whose hours are in the way, else of all, that on which most begins of the asked, then of the rest."""
    work = [task for task in problem.tasks if task.key in keys]
    begun = Counter(task.earliest // DAY_MIN for task in work)
    of_asked = Counter(task.earliest // DAY_MIN for task in work if task.group == asked)
    hours = {rule.subject for rule in found.rules if rule.kind is Kind.HOURS and isinstance(rule.subject, int)}
    days = hours or set(begun) if work else ()
    return max(days, key=lambda day: (of_asked[day], begun[day], -day), default=None)
