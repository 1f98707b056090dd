"""How long and how hard to search."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.timetable.allowance import Allowance
from stillroom.timetable.draft import Draft
from stillroom.timetable.problem import Outcome

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

STEPS_PER_SECOND = 0.12  # deterministic time of the solver in a second of the clock (measured: 0.12 to 1)


@dataclass(slots=True)
class Effort:
    """Seconds left, and how to search.

    With one worker the steps of the solver and of the drafts are counted instead of the clock, so that the same
    question has the same answer on every machine.
    """

    seconds: float
    seed: int
    workers: int

    def allowance(self, draft: Draft, seconds: float) -> Allowance:
        """Drafting for so many seconds; `charge` takes what was used off the budget."""
        return Allowance(draft, seconds, is_counted=self.workers == 1)

    def charge(self, allowance: Allowance) -> None:
        """Takes what was used off the budget."""
        self.seconds -= allowance.seconds_used

    def run(self, model: cp_model.CpModel, solver: cp_model.CpSolver, seconds: float, workers: int = 0) -> Outcome:
        """Solves within `seconds` and takes what was used off the budget; `workers` where not all of them."""
        from ortools.sat.python import cp_model

        parameters = solver.parameters
        parameters.random_seed = self.seed
        parameters.num_workers = workers or self.workers
        if self.workers == 1:
            parameters.max_deterministic_time = max(0.01, seconds * STEPS_PER_SECOND)
        else:
            parameters.max_time_in_seconds = max(0.01, seconds)
        begun = time.perf_counter()
        status = solver.solve(model)
        used = time.perf_counter() - begun
        self.seconds -= solver.deterministic_time / STEPS_PER_SECOND if self.workers == 1 else used
        if status == cp_model.MODEL_INVALID:
            raise ValueError(f"The timetable model is invalid: {model.validate()}")
        return {
            cp_model.OPTIMAL: Outcome.OPTIMAL,
            cp_model.FEASIBLE: Outcome.FEASIBLE,
            cp_model.INFEASIBLE: Outcome.INFEASIBLE,
        }.get(status, Outcome.OUT_OF_TIME)
