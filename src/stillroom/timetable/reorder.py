"""Less lateness by laying the units in another order: a local search over orders, with annealing.

Each order is laid early, then late from the ends found, then early again (forward-backward improvement: K. Y. Li,
R. J. Willis, European Journal of Operational Research 56 (1992) 370–379), which closes gaps. A step shuffles the units
within a stretch of the order. The numbers below are ours,
tuned on the published instances.
"""

from __future__ import annotations

import math
import random

from stillroom.timetable.draft import Draft, Laid
from stillroom.timetable.modes import Modes
from stillroom.timetable.start import last_start, lay_early
from stillroom.timetable.tally import Tally

FRESH, BLUR = 10, 0.1  # fresh starts before the search, their order blurred by so much of all minutes
STRETCH = (4, 20)  # units that a step shuffles
SPREADS = (3.0, 8.0, 20.0)  # places by which a unit may move
HEAT = 0.1  # of the mean minutes of a task: a worsening that is taken once in e times


class Reorder:
    """The search from a whole draft on; the modes are free, or as `modes` has chosen them."""

    def __init__(self, draft: Draft, tally: Tally, modes: Modes, chance: random.Random) -> None:
        self._draft, self._tally, self._modes, self._chance = draft, tally, modes, chance
        minutes = [min(room.minutes for room in rooms) for rooms in draft.work.rooms]
        self._heat = max(0.1, HEAT * sum(minutes) / max(1, len(minutes)))
        self._order = self._by_start()
        self._fresh = FRESH
        self._late = self.late = tally.late(draft)
        self.best: Laid = draft.laid()

    def step(self) -> None:
        """One other order, and perhaps other modes."""
        if not self._is_taken():
            self._modes.undo()

    def _is_taken(self) -> bool:
        draft = self._draft
        self._fresh -= 1
        keys = self._drawn() if self._fresh >= 0 else self._shuffled()
        if lay_early(draft, draft.work.in_order(keys)) is not None:
            return False
        laid = draft.laid()
        if not self._lay_late() or lay_early(draft, self._by_start()) is not None:
            draft.show(laid)
        late = self._tally.late(draft)
        if late > self._late and self._chance.random() >= math.exp((self._late - late) / self._heat):
            return False
        self._late, self._order = late, self._by_start()
        if late < self.late:
            self.late, self.best = late, draft.laid()
        return True

    def _drawn(self) -> list[float]:
        """For a fresh start: what must start early is early, by and large."""
        work = self._draft.work
        blur = BLUR * work.minutes
        return [last_start(work, unit) + self._chance.uniform(-blur, blur) for unit in range(len(work.units))]

    def _shuffled(self) -> list[float]:
        """The place of each unit in the order, those within a stretch of it changed at random."""
        keys = [0.0] * len(self._order)
        for place, unit in enumerate(self._order):
            keys[unit] = float(place)
        length = self._chance.randint(*STRETCH)
        first = self._chance.randrange(max(1, len(keys) - length))
        spread = self._chance.choice(SPREADS)
        stretch = self._order[first : first + length]
        self._modes.change([task for unit in stretch for task in self._draft.work.units[unit]])
        for unit in stretch:
            keys[unit] += self._chance.uniform(-spread, spread)
        return keys

    def _by_start(self) -> list[int]:
        """The units in the order of their starts."""
        start, work = self._draft.start, self._draft.work
        return work.in_order([float(min([start[task] for task in tasks])) for tasks in work.units])

    def _lay_late(self) -> bool:
        """Lays all anew, the last first and each as late as can be without more lateness."""
        draft = self._draft
        work, end = draft.work, list(draft.end)
        last = max(end)
        until = [last if due is None else max(due, end[task]) for task, due in enumerate(work.due)]
        keys = [-float(max([end[task] for task in tasks])) for tasks in work.units]
        draft.clear()
        for unit in work.in_order(keys, is_forward=False):
            tasks, task = work.units[unit], work.plain[unit]
            if task is not None:
                is_laid = draft.lay_before(task, until[task])
            else:
                is_laid = draft.lay_late(tasks, [until[task] for task in tasks])
            if not is_laid:
                return False
        return True
