"""Timetables by drafting alone, without the solver: a first in milliseconds, then less late, then more comfortable."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence

from stillroom.timetable.allowance import Allowance
from stillroom.timetable.draft import Draft
from stillroom.timetable.goals import Mark
from stillroom.timetable.modes import Modes
from stillroom.timetable.problem import Placed, Problem
from stillroom.timetable.reorder import Reorder
from stillroom.timetable.shake import Shake
from stillroom.timetable.start import first_draft
from stillroom.timetable.tally import Tally
from stillroom.timetable.ways import Way
from stillroom.timetable.work import Work


class Drafts:
    """The best draft so far of one part of a timetable; `comfort` are the marks that comfort counts."""

    def __init__(self, problem: Problem, ways: Mapping[str, Sequence[Way]], comfort: Sequence[Mark], seed: int) -> None:
        self.draft = Draft(Work(problem, ways))
        self._tally = Tally(self.draft.work, comfort)
        self._chance = random.Random(seed)
        self._modes = Modes(self.draft, self._chance)

    @property
    def is_of_use(self) -> bool:
        """Whether drafting pays: work that is tied together through and through is left to the solver."""
        return self.draft.work.is_loose

    @property
    def is_least_late(self) -> bool:
        """Whether nothing is later than it must be by itself: a proof that needs no search."""
        return self._tally.late(self.draft) == self._tally.least_late

    @property
    def is_most_comfortable(self) -> bool:
        """Whether each task by itself could not cost less: a proof that needs no search."""
        return self._tally.cost(self.draft) == self._tally.least

    def placed(self) -> dict[str, Placed]:
        """The draft as a timetable."""
        return self.draft.placed()

    def adopt(self, placed: Mapping[str, Placed]) -> None:
        """Goes on from a timetable found elsewhere."""
        self.draft.adopt(placed)
        self._modes.take_over()

    def first(self, allowance: Allowance) -> bool:
        """Makes a first draft; False when there is none soon."""
        laid = first_draft(self.draft, self._tally, allowance) if self._modes.do_last else None
        if laid is not None:
            self.draft.show(laid)
        return laid is not None

    def reorder(self, allowance: Allowance, is_over: Callable[[], bool]) -> None:
        """Makes the draft less late."""
        search = Reorder(self.draft, self._tally, self._modes, self._chance)
        while search.late > self._tally.least_late and not allowance.is_over and not is_over():
            search.step()
        self.draft.show(search.best)

    def shake(self, allowance: Allowance, is_over: Callable[[], bool]) -> None:
        """Makes the draft more comfortable."""
        self._modes.release()
        search = Shake(self.draft, self._tally, self._chance)
        while search.cost > self._tally.least and not allowance.is_over and not is_over():
            search.step(allowance.share_used)
        self.draft.show(search.best)
