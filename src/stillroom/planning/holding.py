"""As much of a split as the days hold with slack, filled up with what else fits, as a split of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from stillroom.allocation.answer import tightness_of
from stillroom.allocation.problem import Allocation, Outcome, Problem, Run
from stillroom.allocation.solve import solve as allocate
from stillroom.errors import StillroomError
from stillroom.household.folder import Folder
from stillroom.planning.filling import Filling
from stillroom.planning.fitting import Fitting, RunId, makers_first
from stillroom.planning.just import just
from stillroom.planning.split import Split
from stillroom.timetable.slack import Slack
from stillroom.work_clock import WorkClock

SPLIT_S = 1.5
TRIES = 3  # to fit once more what splitting the food among the runs has changed


class NoPlan(StillroomError):  # noqa: N818 - told to the cook as it is
    """No plan was found; the message says what stands in the way."""


@dataclass(frozen=True, slots=True)
class Held:
    """A split that the days hold with the usual slack and `more`; dishes with a factor have less of it."""

    allocation: Allocation
    has_shared_loads: bool = False
    factors: Mapping[RunId, float] = field(default_factory=dict)
    more: Slack = field(default_factory=Slack)
    untried: frozenset[RunId] = frozenset()  # runs of the split that there was no time to fit in


class Holding:
    """Splits the food, and makes of a split what the days hold."""

    def __init__(self, task: Split, folder: Folder, seed: int, clock: WorkClock) -> None:
        self._task, self._folder, self._seed, self._clock = task, folder, seed, clock
        self.split_s = 0.0  # that went into splitting

    def split(self, problem: Problem) -> Allocation:
        """The best split found; NoPlan when there is none."""
        begun = self._clock.now_s
        allocation = allocate(problem, seconds=SPLIT_S, seed=self._seed, clock=self._clock)
        self.split_s += self._clock.now_s - begun
        if allocation.outcome not in (Outcome.OPTIMAL, Outcome.FEASIBLE):
            raise NoPlan(f"No way was found to split the food ({allocation.outcome.value}); add hours, jars or days.")
        return allocation

    def held(self, allocation: Allocation, deadline: float, more: Slack | None = None) -> Held:
        """What the days hold of a split, with dishes for meals without one and uses for what would be lost."""
        fitting = Fitting(self._task, self._folder, self._seed, self._clock, deadline, more=more)
        runs = Filling(self._task, fitting, self._clock).fill(fitting.keep(allocation))
        for _ in range(TRIES):
            found = self.split(just(self._task.problem, runs))
            runs = tuple(run for run in found.runs if run.activity in self._task.variants)
            if fitting.fits(runs):
                break
            runs = fitting.keep(found)
        else:
            found, runs = self._dishes_alone(fitting, runs)
        used = tightness_of(self._task.problem, found.runs)  # told by the brisk pace, whatever was asked
        shared = fitting.needs_shared_loads(runs)
        untried = frozenset(fitting.untried)
        return Held(replace(found, used=used), shared, fitting.factors, more or Slack(), untried)

    def _dishes_alone(self, fitting: Fitting, runs: tuple[Run, ...]) -> tuple[Allocation, tuple[Run, ...]]:
        """Of runs that did not settle those that come first, with what they are made of; none where they don't fit."""
        dishes = makers_first(runs, [run for run in runs if fitting.is_first(run)])
        for wanted in (dishes, []):
            found = self.split(just(self._task.problem, wanted))
            runs = tuple(run for run in found.runs if run.activity in self._task.variants)
            if fitting.fits(runs):
                break
        return found, runs
