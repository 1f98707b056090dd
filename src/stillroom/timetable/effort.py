"""How long and how hard to search."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from stillroom.timetable.allowance import Allowance
from stillroom.timetable.draft import Draft
from stillroom.timetable.problem import Outcome
from stillroom.work_clock import WorkClock, wall_s

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

STEPS_PER_SECOND = 0.1  # deterministic time of the solver in a second of the clock (measured: 0.04 to 0.3)
# What a search by the solver takes, measured on questions of the demo week: to build and simplify, and to search.
RULE_S, BRANCH_S, STEP_S = 1.2e-5, 4e-5, 1.5
ASK_S_A_TASK = 6e-6  # to look at a problem before anything is searched
LAY_OUT_S_A_TASK = 3e-5  # to get a part ready for drafts


class Effort:
    """A budget of seconds that runs from now on, and how to search.

    With one worker the steps of the solver and of the drafts are counted instead of the clock, so that the same
    question has the same answer on every machine.
    """

    def __init__(self, seconds: float, seed: int, workers: int, clock: WorkClock | None = None) -> None:
        self.seed, self.workers = seed, workers
        self.clock = clock or WorkClock()
        self._budget = seconds
        self._begun = time.perf_counter()

    @property
    def is_counted(self) -> bool:
        """Whether steps are counted instead of the clock."""
        return self.workers == 1

    @property
    def seconds(self) -> float:
        """What is left; less than nothing when it is overdrawn."""
        return self._budget - (0.0 if self.is_counted else time.perf_counter() - self._begun)

    def allowance(self, draft: Draft, seconds: float) -> Allowance:
        """Drafting for so many seconds; to be charged when it is done."""
        return Allowance(draft, seconds, is_counted=self.is_counted)

    def charge(self, allowance: Allowance) -> None:
        """Takes what was used off the budget."""
        self.use(allowance.seconds_used)

    def use(self, seconds: float) -> None:
        """Takes so much off the budget, unless that runs by the clock."""
        if self.is_counted:
            self._budget -= seconds
        self.clock.charge(seconds)

    def run(self, model: cp_model.CpModel, solver: cp_model.CpSolver, seconds: float, workers: int = 0) -> Outcome:
        """Solves within `seconds` and takes what was counted off the budget; `workers` where not all of them."""
        from ortools.sat.python import cp_model

        parameters = solver.parameters
        parameters.random_seed = self.seed
        parameters.num_workers = workers or self.workers
        if self.is_counted:
            parameters.max_deterministic_time = max(0.001, seconds * STEPS_PER_SECOND)
            parameters.max_time_in_seconds = wall_s(seconds)
        else:
            parameters.max_time_in_seconds = max(0.01, seconds)
        begun = time.perf_counter()
        status = solver.solve(model)
        took = time.perf_counter() - begun
        searched = BRANCH_S * solver.num_branches + STEP_S * solver.deterministic_time
        self.use(RULE_S * len(model.proto.constraints) + searched if self.is_counted else took)
        if status == cp_model.MODEL_INVALID:
            raise ValueError(f"The timetable model is invalid: {model.validate()}")
        return {
            cp_model.OPTIMAL: Outcome.OPTIMAL,
            cp_model.FEASIBLE: Outcome.FEASIBLE,
            cp_model.INFEASIBLE: Outcome.INFEASIBLE,
        }.get(status, Outcome.OUT_OF_TIME)
