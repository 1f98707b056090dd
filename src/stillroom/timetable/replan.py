"""The rest of a timetable when work is late or done sooner: an answer at once, and a better one within a second.

Started tasks stay as they are. First the repair rule answers; then a search from that answer brings meals back on time
and moves as little as it can. Safety clocks are kept; one that can't be kept any more is named.
"""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass, replace

from stillroom.timetable.components import components, restricted
from stillroom.timetable.effort import Effort
from stillroom.timetable.near import Found, Wishes, price, search_near
from stillroom.timetable.problem import Lag, Outcome, Placed, Problem, Timetable
from stillroom.timetable.progress import Progress
from stillroom.timetable.rest import Rest, rest_of
from stillroom.timetable.ways import ways

MANY, NARROW_MIN, NARROW_SHARE = 60, 30, 0.5  # larger parts are searched near the answer first, for half of the time
HARD_SHARE = 0.6  # of the time is for keeping safety clocks that the repair rule breaks
PLACED = (Outcome.OPTIMAL, Outcome.FEASIBLE)


@dataclass(frozen=True, slots=True)
class Moved:
    """An open task that starts at another minute or is done by somebody else."""

    task: str
    before: Placed
    after: Placed


@dataclass(frozen=True, slots=True)
class Replanned:
    """The rest of the timetable, the problem it is right for, and what is different.

    `broken` holds the wait [min] of each safety clock that was not kept or can't be kept any more. `late_min` holds
    the minutes by which what is due ends late. `bound` is a price below which no answer was left.
    """

    problem: Problem
    timetable: Timetable
    moved: tuple[Moved, ...]
    broken: Mapping[Lag, int]
    late_min: Mapping[str, int]
    open_keys: tuple[str, ...]
    price: int
    bound: float


def replan(
    problem: Problem, timetable: Timetable, seen: Progress, *, seconds: float = 0.8, seed: int = 1, workers: int = 2
) -> Replanned:
    """The rest from `seen.now` on, found in about `seconds` [s]; with 0 seconds the answer of the repair rule.

    Only parts of the rest that what happened disturbs are searched; everything else stays as it was planned.
    """
    begun = time.perf_counter()
    rest = rest_of(problem, timetable, seen)
    search = _Search(rest, timetable)
    if seconds > 0:
        search.improve(Effort(seconds - (time.perf_counter() - begun if workers > 1 else 0.0), seed, workers))
    return search.replanned()


class _Search:
    def __init__(self, rest: Rest, timetable: Timetable) -> None:
        self._rest = rest
        self._before = {item.task: item for item in timetable.placed}
        self._answer = {item.task: item for item in rest.placed}
        self._parts = components(rest.problem, ways(rest.problem))
        self._bounds = [float(self._price(part)) for part in self._parts]

    def improve(self, effort: Effort) -> None:
        """Searches the parts that are disturbed, each for a time by its size."""
        disturbed = [number for number, part in enumerate(self._parts) if self._is_disturbed(part)]
        todo = sum(len(self._parts[number].tasks) for number in disturbed)
        for number in sorted(disturbed, key=lambda number: len(self._parts[number].tasks)):
            part = self._parts[number]
            seconds = effort.seconds * len(part.tasks) / todo
            todo -= len(part.tasks)
            if effort.seconds > 0:
                self._bounds[number] = self._improve(part, effort, seconds)

    def replanned(self) -> Replanned:
        """The answer as it is now."""
        placed = tuple(self._answer[task.key] for task in self._rest.problem.tasks)
        late = {t.key: self._answer[t.key].end - t.due for t in self._rest.problem.tasks if t.due is not None}
        return Replanned(
            self._rest.problem,
            Timetable(Outcome.FEASIBLE, placed, lateness_min=sum(max(0, minutes) for minutes in late.values())),
            tuple(
                Moved(key, self._before[key], self._answer[key])
                for key in self._rest.open_keys
                if (self._before[key].start, self._before[key].worker)
                != (self._answer[key].start, self._answer[key].worker)
            ),
            {
                **self._rest.past,
                **{lag: wait for lag in self._rest.broken if (wait := self._wait(lag)) > (lag.max_lag or 0)},
            },
            {key: minutes for key, minutes in late.items() if minutes > 0},
            self._rest.open_keys,
            sum(self._price(part) for part in self._parts),
            sum(self._bounds),
        )

    def _improve(self, part: Problem, effort: Effort, seconds: float) -> float:
        """Clocks that the answer breaks are kept first, if they can be; returns a bound on the price."""
        wishes = self._wishes(part)
        run_out = [lag for lag in wishes.clocks if lag in self._rest.run_out]
        if len(run_out) < len(wishes.clocks):
            hard = restricted(self._rest.hard, {task.key for task in part.tasks})
            kept = Wishes(wishes.planned, run_out)
            found = search_near(hard, kept, None, effort, HARD_SHARE * seconds)
            seconds *= 1 - HARD_SHARE
            if found.outcome in PLACED:
                self._answer |= {item.task: item for item in found.placed}
                part, wishes = hard, kept
            if found.outcome is Outcome.OPTIMAL:
                return found.bound
        if len(part.tasks) > MANY:
            found = search_near(self._narrowed(part), wishes, self._items(part), effort, NARROW_SHARE * seconds)
            self._adopt(part, wishes, found)
            seconds *= 1 - NARROW_SHARE
        found = search_near(part, wishes, self._items(part), effort, seconds)
        self._adopt(part, wishes, found)
        return max(0.0, found.bound)

    def _items(self, part: Problem) -> list[Placed]:
        return [self._answer[task.key] for task in part.tasks]

    def _adopt(self, part: Problem, wishes: Wishes, found: Found) -> None:
        if found.outcome in PLACED:
            better = {item.task: item for item in found.placed}
            if price(part, wishes, better) < self._price(part):
                self._answer |= better

    def _narrowed(self, part: Problem) -> Problem:
        """The part with every task kept near where it was planned and where it is now: most good answers are there."""
        tasks = []
        for task in part.tasks:
            here = self._answer[task.key]
            then = self._before.get(task.key, here)
            first, last = min(here.start, then.start) - NARROW_MIN, max(here.end, then.end) + NARROW_MIN
            tasks.append(
                replace(task, earliest=max(task.earliest, first), latest_end=min(task.latest_end, last))
                if task.key in self._rest.open_keys
                else task
            )
        return replace(part, tasks=tuple(tasks))

    def _is_disturbed(self, part: Problem) -> bool:
        keys = {task.key for task in part.tasks}
        open_ = [key for key in self._rest.open_keys if key in keys]
        return any(self._answer[key].start != self._before[key].start for key in open_)

    def _wishes(self, part: Problem) -> Wishes:
        keys = {task.key for task in part.tasks}
        planned = {key: self._before[key] for key in self._rest.open_keys if key in keys}
        return Wishes(planned, [lag for lag in self._rest.broken if lag.after in keys])

    def _price(self, part: Problem) -> int:
        return price(part, self._wishes(part), self._answer)

    def _wait(self, lag: Lag) -> int:
        return self._answer[lag.after].start - self._answer[lag.before].end
