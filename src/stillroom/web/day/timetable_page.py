"""One day of a plan by the clock: people and equipment as columns, time downwards, and the same as a list."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from stillroom.model.plan import PlannedMeal, PlannedTask
from stillroom.model.work import Attention
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.supply import DAY_MIN, minutes_from

PX_PER_MIN = 1.7
WIDE, AXIS, HEAD, FOOT = 800, 46, 44, 10  # of the drawing [px]: all of it, the hours at the left, names above, below
PERSON_SHARE = 1.7  # a person's column is so much wider than a burner's
CHAR_PX, HEAD_CHAR_PX, LINE_PX = 6.5, 8.0, 14  # of the writing in a block and at the top, a careful guess
QUIET_DAY = (8 * 60, 20 * 60)
WATCH, ALONE = "in sight", "by itself"
SPARE = ("big burner", "ice bath")  # a big burner is one of the burners


@dataclass(frozen=True, slots=True)
class Block:
    """A task in a column [px]; `key` is empty for meals and rests."""

    key: str
    look: str
    x: float
    y: float
    width: float
    high: float
    lines: tuple[str, ...]
    title: str
    at: int = 0  # the minute of the day at which it begins


@dataclass(frozen=True, slots=True)
class Column:
    """A person or a piece of equipment with its blocks and the hours it is there."""

    name: str
    title: tuple[str, ...]  # its name in lines
    x: float
    width: float
    there: tuple[tuple[float, float], ...]
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """The drawing of a day."""

    high: float
    columns: tuple[Column, ...]
    hours: tuple[tuple[str, float], ...]
    meals: tuple[tuple[str, float], ...]
    now: float | None
    px_per_min: float = PX_PER_MIN


@dataclass(frozen=True, slots=True)
class _Held:
    """A task while it takes something of a column, in minutes of the day."""

    key: str
    start: int
    end: int
    text: str
    look: str
    title: str


class Day:
    """One day of a plan."""

    def __init__(self, kept: KeptPlan, day: date) -> None:
        self._kept, self.date = kept, day
        self._plan = kept.worked_out.plan
        self._tasks = {task.key: task for task in kept.worked_out.problem.tasks}
        self._placed = {placed.task: placed for placed in kept.worked_out.timetable.placed}
        self._names = {run.key: run.name for run in self._plan.runs}
        self._midnight = datetime.combine(day, time())
        self._first_min = minutes_from(self._plan.start, day, time())

    def tasks(self, person: str = "") -> tuple[PlannedTask, ...]:
        """What begins on the day or goes on from before, in order; of one person what takes their hands."""
        begin, end = self._midnight, self._midnight + timedelta(days=1)
        return tuple(
            task
            for task in self._plan.tasks
            if task.start < end and task.end > begin and (not person or task.person == person)
        )

    def meals(self) -> tuple[PlannedMeal, ...]:
        """The meals of the day."""
        return tuple(meal for meal in self._plan.meals if meal.at.date() == self.date)

    def people(self) -> tuple[str, ...]:
        """Who is there or works on the day."""
        here = [person.name for person in self._kept.folder.kitchen.people if self._presence(person.name)]
        return tuple(dict.fromkeys([*here, *(task.person for task in self.tasks() if task.person)]))

    def run_name(self, task: PlannedTask) -> str:
        """What a task is for."""
        return self._names.get(task.run, "")

    def chart(self, now: datetime | None = None) -> Chart:
        """The drawing; `now` [time of the household] is marked when it falls into the day."""
        lanes = [(name, self._of_person(name)) for name in self.people()]
        lanes += [(name, held) for name, held in self._of_equipment() if held]
        first, last = self._span()
        unit = (WIDE - AXIS) / (sum(_share(name, self.people()) for name, _ in lanes) or 1)
        columns, x = [], float(AXIS)
        for name, held in lanes:
            width = unit * _share(name, self.people())
            there = tuple(
                (_y(max(start, first), first), (min(end, last) - max(start, first)) * PX_PER_MIN)
                for start, end in self._presence(name)
                if start < last and end > first
            )
            title = tuple(textwrap.wrap(name, max(6, int(width / HEAD_CHAR_PX)), max_lines=2, placeholder="…"))
            columns.append(Column(name, title, x, width, there, tuple(_blocks(held, x, width, (first, last)))))
            x += width
        minute = None if now is None else (now.replace(tzinfo=None) - self._midnight).total_seconds() / 60
        at_now = _y(minute, first) if minute is not None and first <= minute <= last else None
        hours = tuple((f"{hour}:00", _y(hour * 60, first)) for hour in range(first // 60, last // 60 + 1))
        return Chart(
            _y(last, first) + FOOT,
            tuple(columns),
            tuple(("" if at_now is not None and abs(y - at_now) < LINE_PX else name, y) for name, y in hours),
            tuple((words, _y(at, first)) for at, words in self._sittings().items()),
            at_now,
        )

    def _sittings(self) -> Mapping[int, str]:
        """Meals of one minute in one line."""
        names: dict[time, list[str]] = {}
        for meal in self.meals():
            names.setdefault(meal.at.time(), []).append(meal.name)
        return {at.hour * 60 + at.minute: f"{', '.join(those)} {at:%H:%M}" for at, those in names.items()}

    def _span(self) -> tuple[int, int]:
        """From the hour before the first work of the day to the hour after the last; what needs nobody counts not."""
        watched = [self._held(task) for task in self.tasks() if task.attention is not Attention.FREE]
        minutes = [minute for held in watched for minute in (held.start, held.end)]
        minutes += [meal.at.hour * 60 + meal.at.minute for meal in self.meals()]
        first, last = (min(minutes), max(minutes)) if minutes else QUIET_DAY
        return max(0, first // 60 * 60), min(DAY_MIN, -(-(last + 1) // 60) * 60)

    def _of_person(self, name: str) -> list[_Held]:
        held = [self._held(task) for task in self.tasks(name)]
        for placed in self._placed.values():
            start, end = placed.start - self._first_min, placed.end - self._first_min
            is_pause = placed.task not in self._kept.worked_out.pieces
            if is_pause and placed.worker == name and end > 0 and start < DAY_MIN:
                label = self._tasks[placed.task].label
                held.append(_Held("", start, end, label, "pause", label))
        return held

    def _of_equipment(self) -> Iterator[tuple[str, list[_Held]]]:
        watched = [task for task in self.tasks() if task.attention is Attention.NEAR]
        yield WATCH, [self._held(task) for task in watched]
        taken: dict[str, list[_Held]] = {}
        alone = []
        for task in self.tasks():
            resources = [name for name in self._resources(task) if name not in SPARE]
            for name in resources:
                taken.setdefault(name, []).append(replace(self._held(task), text=self.run_name(task)))
            if not resources and task.attention is Attention.FREE:
                alone.append(self._held(task))
        order = [resource.name for resource in self._kept.worked_out.problem.resources]
        for name in sorted(taken, key=order.index, reverse=True):
            yield name, taken[name]
        yield ALONE, alone

    def _resources(self, task: PlannedTask) -> list[str]:
        mode = self._tasks[task.key].modes[self._placed[task.key].mode]
        return [demand.resource for demand in mode.demands]

    def _held(self, task: PlannedTask) -> _Held:
        start = round((task.start - self._midnight).total_seconds() / 60)
        end = round((task.end - self._midnight).total_seconds() / 60)
        name = self.run_name(task)
        title = f"{task.start:%H:%M}–{task.end:%H:%M} {name + ': ' if name else ''}{task.text}"
        text = f"{task.start:%H:%M} {name + ': ' if name else ''}{task.text}"
        return _Held(task.key, start, end, text, task.attention.value, title)

    def _presence(self, name: str) -> tuple[tuple[int, int], ...]:
        """Minutes of the day in which a person is there."""
        return tuple(
            (span.start.hour * 60 + span.start.minute, span.end.hour * 60 + span.end.minute)
            for person in self._kept.folder.kitchen.people
            if person.name == name
            for span in person.presence
            if span.day == self.date
        )


def _share(name: str, people: Sequence[str]) -> float:
    return PERSON_SHARE if name in people or name == WATCH else 1.0


def _y(minute: float, first: int) -> float:
    return round(HEAD + (minute - first) * PX_PER_MIN, 1)


def _blocks(held: Iterable[_Held], x: float, width: float, span: tuple[int, int]) -> Iterator[Block]:
    """Blocks beside each other where they overlap in time."""
    first, last = span
    for group in _groups([one for one in held if one.end > first and one.start < last]):
        tracks = max(track for _, track in group) + 1
        wide = (width - 3) / tracks
        for one, track in group:
            start, end = max(one.start, first), min(one.end, last)
            high = max(3.0, (end - start) * PX_PER_MIN - 1.5)
            lines = _lines(one.text, wide - 8, high)
            left = round(x + 1.5 + track * wide, 1)
            yield Block(
                one.key,
                one.look,
                left,
                _y(start, first),
                round(wide - 1.5, 1),
                round(high, 1),
                lines,
                one.title,
                one.start,
            )


def _groups(held: Iterable[_Held]) -> Iterator[list[tuple[_Held, int]]]:
    """Runs of tasks that overlap, each with its track."""
    group: list[tuple[_Held, int]] = []
    ends: list[int] = []
    for one in sorted(held, key=lambda one: (one.start, -one.end)):
        if ends and one.start >= max(ends):
            yield group
            group, ends = [], []
        free = next((track for track, end in enumerate(ends) if end <= one.start), len(ends))
        if free == len(ends):
            ends.append(one.end)
        else:
            ends[free] = one.end
        group.append((one, free))
    if group:
        yield group


def _lines(text: str, wide: float, high: float) -> tuple[str, ...]:
    """As much of the text as has room; in a very narrow block its first word, which is cut off where it ends."""
    room, across = int(high // LINE_PX), int(wide / CHAR_PX)
    if room < 1:
        return ()
    if across < 8:
        return tuple(text.split()[:room])
    return tuple(textwrap.wrap(text, across, max_lines=room, placeholder="…"))
