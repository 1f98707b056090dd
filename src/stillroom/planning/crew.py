"""Who works when, and who may do which step."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import date

from stillroom.model.household import Meal
from stillroom.model.kitchen import Kitchen, Person
from stillroom.model.recipe import Step, Use
from stillroom.model.work import Attention
from stillroom.planning.supply import DAY_MIN, minutes_from, working
from stillroom.timetable.problem import Lag, Mode, Problem, Span, Task, Worker

MEAL_GROUP = "meal"
SITTING = "sit down to eat"
MEAL_MIN = 30  # at table (common practice, no source)
WASH_UP_MIN, WASH_DISH_MIN = 8, 3  # after a meal, and for each dish of it (common practice, no source)
REST_EVERY_MIN, REST_MIN = 180, 10  # on the feet no longer without a pause (common practice, no source)


class Crew:
    """The people of a kitchen as the timetable sees them: adults, and children while an adult is there."""

    def __init__(self, kitchen: Kitchen, start: date) -> None:
        self._kitchen = kitchen
        adults = working(kitchen)
        spans = {person.name: _spans(person, start) for person in kitchen.people}
        minded = joined(span for person in adults for span in spans[person.name])
        self.workers = tuple(
            Worker(person.name, _both(spans[person.name], minded) if person.is_child else spans[person.name])
            for person in kitchen.people
        )

    def may_do(self, step: Step, use: Use) -> tuple[str, ...]:
        """Names of those who may do or mind a step; empty when it is everybody."""
        allowed = tuple(
            person.name
            for person in self._kitchen.people
            if (step.child_may and step.attention is Attention.HANDS if person.is_child else use not in person.leaves)
        )
        if not allowed:
            raise ValueError(f"Nobody in this kitchen does “{use}”.")
        return () if len(allowed) == len(self.workers) else allowed

    def washing_up(self, served: Iterable[int], start: date, meals: Iterable[Meal]) -> tuple[Task, ...]:
        """After each sitting, by whoever is there that day or the next; `served` are the minutes dishes are due at."""
        dishes, tasks = tuple(served), []
        for sitting in _sittings(meals, start):
            many = sum(sitting.start <= minute < sitting.end for minute in dishes)
            minutes = WASH_UP_MIN + WASH_DISH_MIN * many
            room = [span for worker in self.workers for span in worker.presence]
            day = sitting.end // DAY_MIN
            ends = [s.end for s in room if s.end // DAY_MIN <= day + 1 and s.end - max(s.start, sitting.end) >= minutes]
            if many and ends:
                tonight = [end for end in ends if end // DAY_MIN == day]
                key = f"{MEAL_GROUP}:{sitting.start}:wash up"
                last = max(tonight or ends)
                tasks.append(Task(key, "wash up", MEAL_GROUP, (Mode(minutes),), Attention.HANDS, sitting.end, last))
        return tuple(tasks)

    def pauses(self, meals: Iterable[Meal], start: date, days: Collection[int]) -> tuple[Task, ...]:
        """On those days whoever is in sits down to eat, and rests a little in every three hours without a meal."""
        sittings = _sittings(meals, start)
        return tuple(
            task
            for worker in self.workers
            for span in worker.presence
            if span.start // DAY_MIN in days
            for task in (*_at_table(worker, span, sittings), *_rests(worker, span, sittings))
        )


def with_sittings(problem: Problem) -> Problem:
    """The same, and whoever sits down to eat does so as soon as what is due then is done, though it be late."""
    dishes = [task for task in problem.tasks if task.due is not None]
    sittings = [task for task in problem.tasks if task.group == MEAL_GROUP and task.label == SITTING]
    lags = tuple(
        Lag(dish.key, sitting.key, 0, None) for dish in dishes for sitting in sittings if dish.due == sitting.earliest
    )
    waiting = {lag.after for lag in lags}
    tasks = tuple(replace(t, due=t.latest_end) if t.key in waiting else t for t in problem.tasks)
    return replace(problem, tasks=tasks, lags=(*problem.lags, *lags))


def can_work(kitchen: Kitchen, use: Use) -> bool:
    """Whether any adult works at a use of food."""
    return any(use not in person.leaves for person in working(kitchen))


def joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Spans in order; those that touch are one."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda span: (span.start, span.end)):
        if found and span.start <= found[-1].end:
            found[-1] = Span(found[-1].start, max(found[-1].end, span.end))
        else:
            found.append(span)
    return tuple(found)


def _spans(person: Person, start: date) -> tuple[Span, ...]:
    return tuple(
        Span(minutes_from(start, span.day, span.start), minutes_from(start, span.day, span.end))
        for span in sorted(person.presence, key=lambda span: (span.day, span.start))
        if span.day >= start
    )


def _both(spans: Sequence[Span], others: Sequence[Span]) -> tuple[Span, ...]:
    overlaps = ((max(a.start, b.start), min(a.end, b.end)) for a in spans for b in others)
    return tuple(Span(begin, end) for begin, end in overlaps if begin < end)


def _sittings(meals: Iterable[Meal], start: date) -> tuple[Span, ...]:
    """Two meals close together are one sitting."""
    begins = (minutes_from(start, meal.day, meal.at) for meal in meals)
    return joined(Span(begin, begin + MEAL_MIN) for begin in begins)


def _at_table(worker: Worker, span: Span, sittings: Sequence[Span]) -> Iterable[Task]:
    for meal in _both((span,), sittings):
        yield _pause(worker, SITTING, meal, meal.end - meal.start)


def _rests(worker: Worker, span: Span, sittings: Sequence[Span]) -> Iterable[Task]:
    """In the midst of a long stretch, or at even steps; a stretch ends at a meal."""
    begin = span.start
    for end in (*(meal.start for meal in _both((span,), sittings)), span.end):
        many = max(0, (end - begin - 1) // REST_EVERY_MIN)
        for number in range(many):
            half = (end - begin) // (2 * (many + 1))
            window = Span(begin + (2 * number + 1) * half, begin + (2 * number + 3) * half)
            yield _pause(worker, "rest", window, REST_MIN)
        begin = max(begin, end)


def _pause(worker: Worker, what: str, within: Span, minutes: int) -> Task:
    mode, key = Mode(minutes, workers=(worker.name,)), f"{MEAL_GROUP}:{within.start}:{worker.name}"
    return Task(key, what, MEAL_GROUP, (mode,), Attention.HANDS, within.start, within.end)
