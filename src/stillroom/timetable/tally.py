"""What a draft costs, kept unit by unit, so that moving one unit is counted in a moment."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.timetable.draft import Draft
from stillroom.timetable.goals import EARLY_WEIGHT, WAIT_WEIGHT, Mark, inner_lags
from stillroom.timetable.work import Work

LATE_WEIGHT = 10**6  # a minute late outweighs all comfort


class Tally:
    """Costs of units, and of marks that several units share (the end of a day)."""

    def __init__(self, work: Work, marks: Sequence[Mark]) -> None:
        number = {task.key: index for index, task in enumerate(work.problem.tasks)}
        self._marks: list[list[tuple[int, int, int]]] = [[] for _ in work.units]  # task, minute, weight
        self._shared: list[tuple[list[int], int, int]] = []
        for mark in marks:
            tasks = [number[key] for key in mark.keys]
            if len(tasks) == 1:
                self._marks[work.unit_of[tasks[0]]].append((tasks[0], mark.minute - work.origin, mark.weight))
            else:
                self._shared.append((tasks, mark.minute - work.origin, mark.weight))
        self._waits: list[list[tuple[int, int, int]]] = [[] for _ in work.units]
        for lag in inner_lags(work.problem):
            before, after = number[lag.before], number[lag.after]
            self._waits[work.unit_of[after]].append((before, after, lag.min_lag))
        self._due: list[list[tuple[int, int]]] = [[] for _ in work.units]
        for task, due in enumerate(work.due):
            if due is not None:
                self._due[work.unit_of[task]].append((task, due))

        self.least_late, self.least = self._least(work)

    def _least(self, work: Work) -> tuple[int, int]:
        """What no timetable can avoid, because each task by itself costs it: minutes late, and the whole cost."""
        first_end = [min(room.first + room.minutes for room in rooms) for rooms in work.rooms]
        late = early = 0
        for task, due in enumerate(work.due):
            if due is not None:
                late += max(0, first_end[task] - due)
                early += max(0, due - work.last_end[task])
        single = ((first_end[task], minute, weight) for found in self._marks for task, minute, weight in found)
        shared = ((max(first_end[task] for task in tasks), minute, weight) for tasks, minute, weight in self._shared)
        over = sum(weight * max(0, end - minute) for end, minute, weight in (*single, *shared))
        return late, LATE_WEIGHT * late + EARLY_WEIGHT * early + over

    def late(self, draft: Draft) -> int:
        """Minutes past due of all that is laid."""
        end = draft.end
        return sum(
            max(0, end[task] - due) for found in self._due for task, due in found if draft.room[task] is not None
        )

    def latest(self, draft: Draft) -> int:
        """The unit that is most late."""
        end = draft.end
        over = [max([end[task] - due for task, due in found], default=-1) for found in self._due]
        return over.index(max(over))

    def of_unit(self, draft: Draft, unit: int) -> int:
        """What a laid unit costs by itself."""
        start, end = draft.start, draft.end
        cost = 0
        for task, due in self._due[unit]:
            over = end[task] - due
            cost += LATE_WEIGHT * over if over > 0 else -EARLY_WEIGHT * over
        for before, after, least in self._waits[unit]:
            cost += WAIT_WEIGHT * (start[after] - end[before] - least)
        for task, minute, weight in self._marks[unit]:
            if end[task] > minute:
                cost += weight * (end[task] - minute)
        return cost

    def cost(self, draft: Draft) -> int:
        """What a whole draft costs."""
        return sum(self.of_unit(draft, unit) for unit in range(len(draft.work.units))) + self.shared(draft)

    def shared(self, draft: Draft) -> int:
        """What all that is laid costs together; `end` of what is not laid must be 0."""
        end = draft.end
        cost = 0
        for tasks, minute, weight in self._shared:
            last = max([end[task] for task in tasks])
            if last > minute:
                cost += weight * (last - minute)
        return cost
