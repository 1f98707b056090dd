"""What still fits beside runs: a dish for each meal without one, then uses for food that is left over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stillroom.allocation.answer import unmet_of
from stillroom.allocation.check_worth import waste_g
from stillroom.allocation.problem import Allocation, Outcome, Run
from stillroom.planning.fitting import Fitting
from stillroom.planning.split import Split
from stillroom.planning.wished import Wishes
from stillroom.work_clock import WorkClock

LEAST_G = 100.0
WISHES_S = 0.05  # to work out the ways of using one food


class Filling:
    """Adds runs that fit, with slack, until the time of the fitting is up; meals are seen to in any case."""

    def __init__(self, task: Split, fitting: Fitting, clock: WorkClock) -> None:
        self._task, self._fitting, self._clock = task, fitting, clock
        self._full: set[tuple[str, int]] = set()  # recipe and day of which not even the least fits; runs only get more

    def fill(self, runs: Sequence[Run]) -> tuple[Run, ...]:
        """The runs and as many more as fit, those for what is worth most first."""
        filled = tuple(run for run in runs if run.activity in self._task.variants)
        meals = {(meal.key, meal.role): meal.day for meal in self._task.problem.meals}
        for key, role, _ in unmet_of(self._task.problem, filled):
            wishes = self._wishes(filled)
            filled = self._with_one(filled, wishes, wishes.by_day_of_meal(role, meals[key, role])) or filled
        tried: set[str] = set()
        while not self._fitting.is_over:
            wishes = self._wishes(filled)
            lot = next((lot for lot in self._left_over(wishes) if lot not in tried), None)
            if lot is None:
                break
            more = self._with_one(filled, wishes, wishes.by_day_of_lot(lot))
            filled = more or filled
            if more is None:
                tried.add(lot)
        return filled

    def _wishes(self, runs: tuple[Run, ...]) -> Wishes:
        self._clock.charge(WISHES_S)
        return Wishes(self._task, runs)

    def _with_one(
        self, runs: tuple[Run, ...], wishes: Wishes, alike: Iterator[tuple[tuple[str, int], list[Run]]]
    ) -> tuple[Run, ...] | None:
        """The runs and one more: of the first recipe and day that has room for the least of it as much as fits."""
        for key, sizes in alike:
            if key in self._full:
                continue
            right = [run for run in sizes if wishes.is_right(run)]
            if not right:
                continue
            least = self._fitting.with_run(right[0], right[:1], runs)
            if least is None:
                self._full.add(key)
                continue
            larger = (run for run in right[:0:-1] if run.loads > right[0].loads and self._fitting.fits((*runs, run)))
            return (*runs, next(larger, right[0]))
        return None

    def _left_over(self, wishes: Wishes) -> list[str]:
        """Lots of which something would be lost or given away, worth most first; then those that would only be kept."""
        left = wishes.fresh_left_g()
        waste = waste_g(self._task.problem, Allocation(Outcome.FEASIBLE, wishes.runs, (), (), ()))
        worth = {key: grams * self._task.worth.get(item, 0.0) for key, (item, grams) in left.items()}
        keys = (key for key, (_, grams) in left.items() if grams > LEAST_G)
        return sorted(keys, key=lambda key: (waste.get(key, 0.0) <= LEAST_G, -worth[key], key))
