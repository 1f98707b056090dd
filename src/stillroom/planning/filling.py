"""As many runs as fit, one after another: of a split that the days can't keep, and beside a plan that they can."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from stillroom.allocation.answer import unmet_of
from stillroom.allocation.check_worth import waste_g
from stillroom.allocation.problem import Allocation, Outcome, Run, made_by
from stillroom.household.folder import Folder
from stillroom.planning.rearranging import Rearranging
from stillroom.planning.split import Split
from stillroom.planning.wished import Wishes
from stillroom.planning.wishes import wished
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.proof import Prover
from stillroom.work_clock import WorkClock

TRY_SECONDS = 0.2  # for one run beside the others
WISHES_S = 0.025  # to work out ways of using one food
TRIES = 6  # ways of using one food, or of filling one place at a meal
LEAST_G = 100.0
MEALS_S = 6.0  # at least, for meals without a dish: nobody goes hungry for a few seconds


class Filling:
    """Adds runs for which a timetable is found, until the moment `deadline` of the clock."""

    def __init__(self, task: Split, folder: Folder, seed: int, clock: WorkClock, deadline: float) -> None:
        self._task, self._clock, self._deadline = task, clock, deadline
        self._rearranging = Rearranging(task, folder)
        self._prover = Prover(seed, TRY_SECONDS, clock)

    def keep(self, allocation: Allocation) -> tuple[Run, ...]:
        """Of a split what the days can keep: wishes, then dishes, then what is worth most; each with its makers."""
        runs = [run for run in allocation.runs if run.activity in self._task.variants]
        activities = {activity.key: activity for activity in self._task.problem.activities}
        worth = {run: sum(t.grams * self._task.worth.get(t.item, 0.0) for t in run.taken) for run in runs}
        kept: tuple[Run, ...] = ()
        wishes = wished(self._task.problem)

        def rank(run: Run) -> tuple[bool, bool, float]:
            return run.activity not in wishes, not activities[run.activity].servings, -worth[run]

        for run in sorted(runs, key=rank):
            more = (*kept, *(other for other in _with_its_makers(runs, run) if other not in kept))
            if len(more) > len(kept) and self._clock.now_s < self._deadline and self._fits(more):
                kept = more
        return kept

    def fill(self, allocation: Allocation) -> tuple[Run, ...]:
        """The runs of a plan, a dish for each meal without one, then runs for the food that would be lost."""
        runs = tuple(run for run in allocation.runs if run.activity in self._task.variants)
        meals = {(meal.key, meal.role): meal.day for meal in self._task.problem.meals}
        enough = max(self._deadline, self._clock.now_s + MEALS_S)
        for key, role, _ in unmet_of(self._task.problem, runs):
            runs = self._filled(runs, partial(Wishes.of_meal, role=role, day=meals[key, role]), enough)
        tried: set[str] = set()
        while (lot := next((lot for lot in self._lost(runs) if lot not in tried), None)) is not None:
            tried.add(lot)
            runs = self._filled(runs, partial(Wishes.of_lot, lot=lot), self._deadline)
        return runs

    def _lost(self, runs: tuple[Run, ...]) -> list[str]:
        """Lots of which something would be lost or given away, worth most first."""
        items = {lot.key: lot.item for lot in self._task.problem.lots}
        waste = waste_g(self._task.problem, Allocation(Outcome.FEASIBLE, runs, (), (), ()))
        worth = {k: grams * self._task.worth.get(items.get(k) or made_by(k)[2], 0.0) for k, grams in waste.items()}
        return sorted((key for key, grams in waste.items() if grams > LEAST_G), key=lambda key: -worth[key])

    def _filled(
        self, runs: tuple[Run, ...], wishes_of: Callable[[Wishes], list[Run]], deadline: float
    ) -> tuple[Run, ...]:
        """The runs and as many wishes as fit beside them, one after the other."""
        while self._clock.now_s < deadline:
            wishes = wishes_of(Wishes(self._task, runs))[:TRIES]
            self._clock.charge(WISHES_S)
            more = next((w for w in wishes if self._clock.now_s < deadline and self._fits((*runs, w))), None)
            if more is None:
                break
            runs = (*runs, more)
        return runs

    def _fits(self, runs: tuple[Run, ...]) -> bool:
        problem = self._rearranging.problem_of(self._rearranging.start(runs))
        return self._prover.verdict(problem).outcome is Fit.FEASIBLE


def _with_its_makers(runs: Sequence[Run], run: Run) -> list[Run]:
    """The run after every run that makes what it takes."""
    by_id = {(other.activity, other.day): other for other in runs}
    found = [run]
    for other in found:
        made = (made_by(taken.lot)[:2] for taken in other.taken if taken.lot.startswith("run:"))
        found.extend(by_id[key] for key in made if key in by_id and by_id[key] not in found)
    return found[::-1]
