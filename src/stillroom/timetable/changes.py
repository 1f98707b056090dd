"""Changes that might help any timetable, whatever it is of: leave work out, stay longer, have what is due later."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from functools import partial

from stillroom.model.work import Attention
from stillroom.timetable.components import restricted
from stillroom.timetable.core import Core
from stillroom.timetable.problem import Problem, Span, Worker
from stillroom.timetable.rules import DAY_MIN, Kind
from stillroom.timetable.way_out import EVERYBODY, LEAVE_OUT, Change, Question
from stillroom.timetable.words import Names, amount, listed

MORE_MIN = (30, 60, 120)
EARLIEST_MIN, LATEST_MIN = 5 * 60, 23 * 60  # of the day; nobody is asked to work at night
LATER_MIN = (30, 60)
LATER_PRICE = 2.0  # a minute that everybody waits for a meal, against a minute of work


def bare_question(problem: Problem, names: Names | None = None, own: Collection[str] = ()) -> Question[Problem]:
    """What can be done about a problem of which nothing else is known; `own` are the household's own groups."""
    names, own = names or Names(), frozenset(own)
    return Question(problem, lambda state: state, partial(general_changes, names, own), names, own)


def general_changes(
    names: Names, own: Collection[str], problem: Problem, _: Problem, core: Core
) -> Sequence[Change[Problem]]:
    """Changes of a bare problem, for a core of it; `own` are the groups that are the household's own."""
    return [
        *_left_out(names, problem, core),
        *_more_hours(names, own, problem, core),
        *_later(names, own, problem, core),
    ]


def _left_out(names: Names, problem: Problem, core: Core) -> Iterator[Change[Problem]]:
    for group in (block.group for block in core.blocks):
        tasks = [task for task in problem.tasks if task.group == group]
        work = sum(task.modes[0].minutes for task in tasks if task.attention is Attention.HANDS)
        gone = partial(_without, group)
        name = names.groups.get(group, group)
        price = f"its {amount(work)} of work by hand are not done"
        yield Change(LEAVE_OUT, group, f"leave out {name}", 60.0 + work, price, gone)


def _without(group: str, problem: Problem) -> Problem:
    return restricted(problem, {task.key for task in problem.tasks if task.group != group})


def _more_hours(names: Names, own: Collection[str], problem: Problem, core: Core) -> Iterator[Change[Problem]]:
    days = {rule.subject for rule in core.rules if rule.kind is Kind.HOURS}
    for worker in problem.workers:
        for span in worker.presence:
            day = span.start // DAY_MIN
            for more in MORE_MIN if day in days else ():
                early, late = Span(span.start - more, span.start), Span(span.end, span.end + more)
                for added in (early, late):
                    if _may_be_there(added, day, worker, problem, own):
                        words = f"{worker.name} is also there {names.between(added.start, added.end)}"
                        price = f"{more} min more of {worker.name}"
                        there = partial(with_hours, worker.name, added, own)
                        yield Change("hours", f"{worker.name} {added is early} {span.start}", words, more, price, there)
    for on in (day for day in days if isinstance(day, int) and len(_last_of(problem, day)) > 1):
        who = listed([worker.name for worker, _ in _last_of(problem, on)])
        for more in MORE_MIN:
            if everybody_longer(problem, on, more, own) is not None:
                words, price = f"{who} stay {more} min longer on {names.day(on)}", f"{more} min more of {who}"
                there = partial(_everybody_longer, on, more, own)
                yield Change(EVERYBODY, str(on), words, more * len(_last_of(problem, on)), price, there)


def _may_be_there(added: Span, day: int, worker: Worker, problem: Problem, own: Collection[str]) -> bool:
    """By day, not twice, and not while others sit at table: who comes then would have to eat as well."""
    fixed = (
        t
        for t in problem.tasks
        if t.group in own and t.latest_end - t.earliest == min(mode.minutes for mode in t.modes)
    )
    return (
        day * DAY_MIN + EARLIEST_MIN <= added.start
        and added.end <= day * DAY_MIN + LATEST_MIN
        and not any(span.start < added.end and added.start < span.end for span in worker.presence)
        and not any(task.earliest < added.end and added.start < task.latest_end for task in fixed)
    )


def everybody_longer(problem: Problem, day: int, more: int, own: Collection[str] = ()) -> Problem | None:
    """Whoever is there at the end of a day stays so much longer; None if nobody is, or it is too late or mealtime."""
    after, last = problem, _last_of(problem, day)
    if not last:
        return None
    for worker, span in last:
        added = Span(span.end, span.end + more)
        if not _may_be_there(added, day, worker, problem, own):
            return None
        after = with_hours(worker.name, added, own, after)
    return after


def _everybody_longer(day: int, more: int, own: Collection[str], problem: Problem) -> Problem:
    return everybody_longer(problem, day, more, own) or problem


def _last_of(problem: Problem, day: int) -> list[tuple[Worker, Span]]:
    """Who is there at the end of a day, and since when."""
    spans = [(worker, span) for worker in problem.workers for span in worker.presence if span.start // DAY_MIN == day]
    closes = max((span.end for _, span in spans), default=0)
    return [(worker, span) for worker, span in spans if span.end == closes]


def with_hours(name: str, added: Span, own: Collection[str], problem: Problem) -> Problem:
    """A worker there for longer; what may begin when the kitchen opens, or be done until it closes, moves with it."""
    day = added.start // DAY_MIN
    spans = [s for worker in problem.workers for s in worker.presence if s.start // DAY_MIN == day]
    opens, closes = min(span.start for span in spans), max(span.end for span in spans)
    workers = tuple(
        replace(worker, presence=tuple(sorted((*worker.presence, added), key=lambda span: span.start)))
        if worker.name == name
        else worker
        for worker in problem.workers
    )
    tasks = tuple(
        task
        if task.group in own
        else replace(
            task,
            earliest=min(task.earliest, added.start) if task.earliest == opens else task.earliest,
            latest_end=max(task.latest_end, added.end) if task.latest_end == closes else task.latest_end,
        )
        for task in problem.tasks
    )
    return replace(problem, workers=workers, tasks=tasks)


def _later(names: Names, own: Collection[str], problem: Problem, core: Core) -> Iterator[Change[Problem]]:
    for minute in dict.fromkeys(rule.subject for rule in core.rules if rule.kind is Kind.MEAL):
        assert isinstance(minute, int)
        what = names.due.get(minute, f"what is due at {names.clock(minute)}")
        for more in LATER_MIN:
            words, price = f"{what}: {more} min later", f"{more} min late"
            yield Change("later", str(minute), words, LATER_PRICE * more, price, partial(due_later, minute, more, own))


def due_later(minute: int, more: int, own: Collection[str], problem: Problem) -> Problem:
    """Everything due at a minute, and whoever sits down then, so much later."""
    opened = {min(span.start for span in worker.presence) for worker in problem.workers if worker.presence}
    tasks = []
    for task in problem.tasks:
        if task.group in own and task.earliest == minute and task.attention is Attention.HANDS:
            tasks.append(replace(task, earliest=task.earliest + more, latest_end=task.latest_end + more))
        elif task.due == minute:
            shift = 0 if task.earliest in opened else more
            end = task.latest_end + more if task.latest_end == minute else task.latest_end
            tasks.append(replace(task, earliest=task.earliest + shift, latest_end=end, due=minute + more))
        else:
            tasks.append(task)
    return replace(problem, tasks=tuple(tasks))
