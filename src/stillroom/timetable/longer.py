"""By how many minutes a day is too short, proved from both sides: with so many more it is kept, with fewer not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass

from stillroom.timetable.changes import everybody_longer
from stillroom.timetable.check import check
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import DAY_MIN

FIRST_MIN, MOST_MIN, STEP_MIN = 30, 120, 5


@dataclass(frozen=True, slots=True)
class Longer:
    """Whoever is there at the end of a day stays `enough_min` longer, and all is kept; `too_few_min` are too few.

    `enough_min` is None where no time that was tried is enough; `too_few_min` is 0 where none more was tried in vain.
    """

    day: int
    too_few_min: int
    enough_min: int | None


def longer(problem: Problem, prover: Prover, deadline: float, own: Collection[str] = ()) -> Longer | None:
    """As near as the time until the moment `deadline` of the prover's clock allows; None where nothing is proved."""
    day = _day_of(problem, own)
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
        elif verdict.outcome is Outcome.INFEASIBLE:
            too_few = next_try
        else:
            break
        middle = (too_few + (enough or 0)) // 2 // STEP_MIN * STEP_MIN
        next_try = min(MOST_MIN, 2 * next_try) if enough is None else middle
    return Longer(day, too_few, enough) if enough is not None or too_few else None


def _day_of(problem: Problem, own: Collection[str]) -> int | None:
    """The day on which most of the work begins."""
    days = Counter(task.earliest // DAY_MIN for task in problem.tasks if task.group not in own)
    return days.most_common(1)[0][0] if days else None
