"""A small file that says how far the day has come: the time it is, what is begun, what is done.

Tasks are named by their numbers in the plan as it was printed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Annotated

from pydantic import Field

from stillroom.errors import InputError, Refusal
from stillroom.household.places import at
from stillroom.planning.crew import with_sittings
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.supply import minutes_from
from stillroom.planning.tasks import spreads
from stillroom.timetable.problem import Placed, Problem, Span
from stillroom.timetable.progress import Progress, progress
from stillroom.yaml_files import Written, read_yaml

_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})[ T])?(\d{1,2}:\d{2})")
_MINUTES = re.compile(r"(\d{1,4})(?: ?min)?")
MOST_LEFT_MIN = 24 * 60


class Begun(Written):
    """A task that is going on."""

    task: int
    at: str
    by: str = ""
    left: str = ""


class Done(Written):
    """A task that is done; `began` may be left out."""

    task: int
    at: str
    began: str = ""
    by: str = ""


class ProgressFile(Written):
    """The file as it is written."""

    now: str
    done_until: Annotated[str, Field(alias="done until")] = ""
    finished: tuple[Done, ...] = ()
    started: tuple[Begun, ...] = ()
    not_begun: Annotated[tuple[int, ...], Field(alias="not begun")] = ()


def read_progress(path: Path, kept: KeptPlan) -> Progress:
    """What has happened of a kept plan; FileError with line and field when the file is wrong.

    What was planned to be over by `done until` is done as planned, unless the file says otherwise; left out, that is
    midnight before the time it is. Everything else that the file does not name has not begun.
    Refusal when a process would be, or was, shorter than it was tested.
    """
    return _Reader(path, read_yaml(path, ProgressFile), kept).progress()


class _Reader:
    def __init__(self, path: Path, written: ProgressFile, kept: KeptPlan) -> None:
        self._path, self._written, self._kept = path, written, kept
        worked_out = kept.worked_out
        self._placed = {item.task: item for item in worked_out.timetable.placed}
        self._people = {worker.name for worker in worked_out.problem.workers}
        with at(path, "now"):
            self._now = self._minute(written.now)

    def progress(self) -> Progress:
        written, worked_out = self._written, self._kept.worked_out
        started: dict[str, int] = {}
        finished: dict[str, int] = {}
        left: dict[str, int] = {}
        who: dict[str, str] = {}
        for place, done in enumerate(written.finished):
            key = self._task(done.task, "finished", place, "task")
            finished[key] = self._happened(done.at, "finished", place, "at")
            if done.began:
                started[key] = self._happened(done.began, "finished", place, "began")
                self._in_order(started[key], finished[key], place)
                self._in_full(done.task, key, finished[key] - started[key])
            self._person(key, done.by, who, "finished", place)
        for place, begun in enumerate(written.started):
            key = self._task(begun.task, "started", place, "task")
            with at(self._path, "started", place, "task"):
                if key in finished or key in started:
                    raise InputError(f"task {begun.task} stands in this file twice.")
            started[key] = self._happened(begun.at, "started", place, "at")
            if begun.left:
                left[key] = self._left(begun.left, place)
                self._in_full(begun.task, key, self._now + left[key] - started[key])
            self._person(key, begun.by, who, "started", place)
        for item in self._as_planned({*started, *finished}):
            started[item.task], finished[item.task] = item.start, item.end
        problem = with_sittings(worked_out.problem)
        known = spreads(problem, worked_out.pieces)
        seen = progress(
            problem, worked_out.timetable, now=self._now, started=started, finished=finished, who=who, spreads=known
        )
        going_on = {key: Span(s.start, self._now + left[key]) if key in left else s for key, s in seen.going_on.items()}
        paused = self._pauses(problem, seen.finished)
        over = {item.task: Span(item.start, item.end) for item in paused if item.end <= self._now}
        still = {item.task: Span(item.start, item.end) for item in paused if item.end > self._now}
        return Progress(self._now, {**over, **seen.finished}, {**still, **going_on}, who)

    def _as_planned(self, named: set[str]) -> list[Placed]:
        """What was to be over by `done until`, but for what the file names."""
        until = self._until()
        open_ = {self._task(number, "not begun", place) for place, number in enumerate(self._written.not_begun)}
        pieces = self._kept.worked_out.pieces
        return [
            item
            for key, item in self._placed.items()
            if key in pieces and key not in named and key not in open_ and item.end <= until
        ]

    def _pauses(self, problem: Problem, finished: Mapping[str, Span]) -> list[Placed]:
        """Meals and rests, which nobody writes down: as planned, but nobody sits down before the dishes are done."""
        pieces = self._kept.worked_out.pieces
        waits = {lag.after for lag in problem.lags if lag.after not in pieces and lag.before not in finished}
        return [
            item
            for key, item in self._placed.items()
            if key not in pieces and key not in waits and item.start < self._now
        ]

    def _until(self) -> int:
        if not self._written.done_until:
            return self._now - self._now % (24 * 60)
        with at(self._path, "done until"):
            until = self._minute(self._written.done_until)
            if until > self._now:
                raise InputError("this is later than the time it is.")
        return until

    def _task(self, number: int, *place: int | str) -> str:
        keys = self._kept.numbered
        with at(self._path, *place):
            if not 1 <= number <= len(keys):
                raise InputError(f"there is no task {number}: the plan has tasks 1 to {len(keys)}.")
        return keys[number - 1]

    def _happened(self, text: str, *place: int | str) -> int:
        with at(self._path, *place):
            minute = self._minute(text)
            if minute > self._now:
                raise InputError(f"{text} is later than the time it is, {self._written.now}.")
        return minute

    def _in_order(self, start: int, end: int, place: int) -> None:
        with at(self._path, "finished", place, "began"):
            if start > end:
                raise InputError("it can't have begun after it ended.")

    def _in_full(self, number: int, key: str, minutes: int) -> None:
        """A canner load takes at least the minutes of its process; how long it takes to heat up may differ."""
        exact_min = self._kept.worked_out.pieces[key].exact_min if key in self._kept.worked_out.pieces else 0
        if minutes < exact_min:
            raise Refusal(
                f"Task {number} in {self._path} would last {minutes} min, and its process alone takes {exact_min} min: "
                "a process that was cut short is done again in full, from zero; what is not done "
                "again within two hours is chilled, frozen or thrown out."
            )

    def _person(self, key: str, name: str, who: dict[str, str], *place: int | str) -> None:
        if not name:
            return
        with at(self._path, *place, "by"):
            if name not in self._people:
                raise InputError(f"“{name}” is nobody in this kitchen; there are {', '.join(sorted(self._people))}.")
        if self._placed[key].worker is not None:
            who[key] = name

    def _left(self, text: str, place: int) -> int:
        with at(self._path, "started", place, "left"):
            match = _MINUTES.fullmatch(text)
            if match is None or not 1 <= int(match[1]) <= MOST_LEFT_MIN:
                raise InputError(f"“{text}” can't be read: write minutes like “25 min”, from 1 to {MOST_LEFT_MIN}.")
        return int(match[1])

    def _minute(self, text: str) -> int:
        """The minute of the plan; without a date on the day of `now`."""
        match = _CLOCK.fullmatch(text)
        start = self._kept.folder.start
        try:
            assert match is not None
            date = match[1] or (_CLOCK.fullmatch(self._written.now) or match)[1] or ""
            moment = datetime.fromisoformat(f"{date} {match[2]:0>5}")
        except (AssertionError, ValueError):
            raise InputError(
                f"“{text}” can't be read: write the time like 18:30, and “now” with its date, like 2027-04-09 18:30."
            ) from None
        minute = minutes_from(start, moment.date(), moment.time())
        last = max(item.end for item in self._placed.values())
        if not 0 <= minute <= last + 24 * 60:
            raise InputError(f"{moment:%Y-%m-%d} is not within this plan, which starts on {start}.")
        return minute
