"""What the models say of a run of the plan: how to cool, freeze, thaw, keep hot, dry or let rise what it handles."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from stillroom.allocation.problem import Run
from stillroom.household.folder import Folder
from stillroom.model.plan import PlannedRun
from stillroom.model.recipe import Step
from stillroom.planning.batches import batch_keys, shares
from stillroom.planning.cooling import cooling_advice
from stillroom.planning.drying import drying_advice
from stillroom.planning.freezing import freezing_advice
from stillroom.planning.held import Held
from stillroom.planning.rising import rising_advice
from stillroom.planning.supply import moment
from stillroom.planning.thawing import thawing_advice
from stillroom.planning.variants import Variant
from stillroom.planning.waiting import waiting_advice
from stillroom.timetable.problem import Problem, Timetable


class Hours:
    """When the steps of each batch begin and end in the timetable, and what follows them."""

    def __init__(self, problem: Problem, timetable: Timetable, start: date) -> None:
        self._start = start
        self._spans = {placed.task: (placed.start, placed.end) for placed in timetable.placed}
        self._followers: dict[str, list[str]] = defaultdict(list)
        for lag in problem.lags:
            self._followers[lag.before].append(lag.after)

    def held(self, batches: Sequence[str], steps: Sequence[Step]) -> tuple[Held, ...]:
        """Every step of the batches that another task waits for."""
        return tuple(found for batch in batches for step in steps if (found := self._held(f"{batch}:{step.key}", step)))

    def _held(self, key: str, step: Step) -> Held | None:
        starts = [self._spans[after][0] for after in self._followers[key] if after in self._spans]
        if key not in self._spans or not starts:
            return None
        begin, end, then = (moment(self._start, minute) for minute in (*self._spans[key], min(starts)))
        return Held(step, begin, end, then)


def advised(planned: PlannedRun, run: Run, variant: Variant, folder: Folder, hours: Hours) -> PlannedRun:
    """The run with its advice."""
    held = hours.held(batch_keys(run), variant.recipe.steps)
    advice = (
        *cooling_advice(variant.recipe, max(shares(run, variant))),
        *freezing_advice(planned, variant.recipe, folder),
        *thawing_advice(planned, held, folder),
        *waiting_advice(variant, held, folder.kitchen.room_c),
        *drying_advice(variant.recipe, planned.taken, folder.kitchen.room_c),
        *rising_advice(variant.recipe, held, folder.kitchen.room_c),
    )
    return replace(planned, advice=advice)
