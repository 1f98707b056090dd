"""The rest of a plan after it was planned anew, and what has changed, for people."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from stillroom.model.plan import PlannedTask
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.pipeline import WorkedOut
from stillroom.planning.supply import minutes_from, moment
from stillroom.planning.tasks import Piece
from stillroom.planning.underway import with_timetable
from stillroom.planning.what_now import what_now
from stillroom.timetable.near import FAR_MIN
from stillroom.timetable.problem import Lag, Placed, Timetable
from stillroom.timetable.progress import Progress
from stillroom.timetable.replan import Moved, Replanned


@dataclass(frozen=True, slots=True)
class LateMeal:
    """A meal that is not on the table in time."""

    name: str
    at: datetime
    ready: datetime


@dataclass(frozen=True, slots=True)
class BrokenClock:
    """A safety clock that can't be kept any more, and what to do with the food."""

    run: str
    step: str
    waits_min: int
    may_wait_min: int
    reason: str
    do: str


@dataclass(frozen=True, slots=True)
class Move:
    """A task that moves by more than five minutes, or to somebody else."""

    number: int
    run: str
    text: str
    before: datetime
    after: datetime
    person_before: str | None
    person: str | None


@dataclass(frozen=True, slots=True)
class LongerHours:
    """Somebody who is needed past their hours."""

    name: str
    until: datetime
    more_min: int


@dataclass(frozen=True, slots=True)
class Told:
    """What has changed, and the tasks that go on or are to come, each with its number."""

    now: datetime
    late: tuple[LateMeal, ...]
    broken: tuple[BrokenClock, ...]
    moves: tuple[Move, ...]
    small_moves: int  # tasks that move by five minutes or less
    longer: tuple[LongerHours, ...]
    going_on: tuple[tuple[int, PlannedTask], ...]
    to_come: tuple[tuple[int, PlannedTask], ...]


def moved_on(kept: KeptPlan, seen: Progress, found: Replanned) -> KeptPlan:
    """The kept plan with the times that happened, and the new ones of what is to come; numbers stay."""
    worked_out = kept.worked_out
    modes = {task.key: len(task.modes) for task in worked_out.problem.tasks}
    new = {item.task: item for item in found.timetable.placed}
    happened = {**seen.finished, **seen.going_on}

    def now(item: Placed) -> Placed:
        if item.task in happened:
            span = happened[item.task]
            return replace(item, start=span.start, end=span.end, worker=seen.who.get(item.task, item.worker))
        after = new[item.task]
        return after if after.mode < modes[item.task] else replace(after, mode=item.mode)

    placed = tuple(now(item) for item in worked_out.timetable.placed)
    timetable = replace(worked_out.timetable, placed=placed)
    return kept.model_copy(update={"worked_out": with_timetable(worked_out, timetable), "numbers": kept.numbered})


def told(kept: KeptPlan, seen: Progress, found: Replanned) -> Told:
    """What is to be said of a kept plan when the rest was planned anew."""
    return _Teller(kept, seen, found).told()


class _Teller:
    def __init__(self, kept: KeptPlan, seen: Progress, found: Replanned) -> None:
        self._kept, self._seen, self._found = kept, seen, found
        self._before: WorkedOut = kept.worked_out
        self._start: date = kept.folder.start
        self._pieces: Mapping[str, Piece] = kept.worked_out.pieces
        self._number = {key: number for number, key in enumerate(kept.numbered, 1)}
        self._names = {run.key: run.name for run in kept.worked_out.plan.runs}

    def told(self) -> Told:
        after = moved_on(self._kept, self._seen, self._found).worked_out
        tasks = [(self._number[task.key], task) for task in after.plan.tasks if task.key in self._number]
        open_ = set(self._found.open_keys)
        moved = [move for move in self._found.moved if move.task in self._pieces]
        told = [move for move in moved if _is_worth_telling(move)]
        return Told(
            moment(self._start, self._seen.now),
            tuple(self._late(after.timetable)),
            tuple(self._broken(lag, wait) for lag, wait in self._found.broken.items()),
            tuple(self._move(move) for move in sorted(told, key=lambda move: move.after.start)),
            len(moved) - len(told),
            tuple(self._longer(after.timetable)),
            tuple((number, task) for number, task in tasks if task.key in self._seen.going_on),
            tuple((number, task) for number, task in tasks if task.key in open_),
        )

    def _late(self, timetable: Timetable) -> Iterator[LateMeal]:
        """Meals with a dish that ends after its hour and is not done already."""
        due = {task.key: task.due for task in self._before.problem.tasks if task.due is not None}
        ends = {item.task: item.end for item in timetable.placed}
        for meal in self._before.plan.meals:
            minute = minutes_from(self._start, meal.at.date(), meal.at.time())
            late = [ends[key] for key in self._found.late_min if due.get(key) == minute and self._is_of(key, meal.runs)]
            if late:
                yield LateMeal(meal.name, meal.at, moment(self._start, max(late)))

    def _is_of(self, key: str, runs: tuple[str, ...]) -> bool:
        return not runs or (key in self._pieces and self._run_key(key) in runs)

    def _broken(self, lag: Lag, wait: int) -> BrokenClock:
        piece = self._pieces.get(lag.after)
        has_jars = piece is not None and self._has_jars(self._run_key(lag.after))
        do = what_now(piece.hold if piece else "", lag.reason, is_in_jars=has_jars)
        step = piece.text if piece else ""
        return BrokenClock(self._run_name(lag.after), step, wait, lag.max_lag or 0, lag.reason, do)

    def _has_jars(self, run: str) -> bool:
        return any(planned.key == run and planned.jars > 0 for planned in self._before.plan.runs)

    def _move(self, move: Moved) -> Move:
        return Move(
            self._number[move.task],
            self._run_name(move.task),
            self._pieces[move.task].text,
            moment(self._start, move.before.start),
            moment(self._start, move.after.start),
            move.before.worker,
            move.after.worker,
        )

    def _longer(self, timetable: Timetable) -> Iterator[LongerHours]:
        """The last minute past their hours at which somebody is needed, on each day."""
        for worker in self._before.problem.workers:
            for span in worker.presence:
                beyond = [
                    item.end
                    for item in timetable.placed
                    if item.worker == worker.name
                    and item.task not in self._seen.finished
                    and span.start <= item.start <= span.end + 180
                    and item.end > span.end
                    and not any(other.start <= item.start < other.end for other in worker.presence if other != span)
                ]
                if beyond:
                    yield LongerHours(worker.name, moment(self._start, max(beyond)), max(beyond) - span.end)

    def _run_key(self, key: str) -> str:
        run = self._pieces[key].run
        return f"{run[0]}@{run[1]}" if run else ""

    def _run_name(self, key: str) -> str:
        return self._names.get(self._run_key(key), "") if key in self._pieces else ""


def _is_worth_telling(move: Moved) -> bool:
    is_far = abs(move.after.start - move.before.start) > FAR_MIN
    return is_far or move.before.worker != move.after.worker
