"""What is left of a timetable at some minute, as a problem of its own, and the answer of the repair rule to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from stillroom.model.work import Attention
from stillroom.timetable.network import Network, network
from stillroom.timetable.problem import Lag, Mode, Placed, Problem, Resource, Span, Task, Timetable, Worker
from stillroom.timetable.progress import Progress, as_it_went
from stillroom.timetable.propagate import Repair
from stillroom.timetable.spread import EXACT
from stillroom.timetable.ways import demands_of, presence

BEGUN = " (begun)"
LATEST_MIN = 240  # so long after it is due a meal is still cooked


@dataclass(frozen=True, slots=True)
class Rest:
    """The problem of what goes on and what is to come, and one right answer to it.

    What goes on has no other start any more; what is finished is an instant that clocks still count from. Hours are as
    long as the answer needs them, and meals may be late. `broken` are safety clocks that the answer does not keep, with
    the wait it has [min]. In `hard` they must be kept, but for those that have `run_out` by now: an answer to `hard`
    may not exist. `past` are safety clocks that were broken by what has happened, with the wait there was.
    """

    problem: Problem
    hard: Problem
    placed: tuple[Placed, ...]
    broken: Mapping[Lag, int]
    run_out: frozenset[Lag]
    past: Mapping[Lag, int]
    open_keys: tuple[str, ...]


def rest_of(problem: Problem, timetable: Timetable, seen: Progress) -> Rest:
    """By the repair rule: everyone keeps to the order and makes way; found in milliseconds."""
    order = as_it_went(problem, timetable, seen)
    happened = {*seen.finished, *seen.going_on}
    lags = tuple(lag for lag in problem.lags if lag.after not in happened)
    net = network(replace(problem, lags=lags), order)
    return _Writer(problem, net, lags, seen).rest()


def _begun(task: Task) -> Task:
    """The instant at which it began: what can still end at several minutes is held by it."""
    return replace(
        task, key=task.key + BEGUN, modes=(Mode(0),), attention=Attention.FREE, latest_end=task.earliest, due=None
    )


class _Writer:
    def __init__(self, problem: Problem, net: Network, lags: Sequence[Lag], seen: Progress) -> None:
        self._problem, self._net, self._lags, self._seen = problem, net, lags, seen
        self._answer = self._propagated()

    def rest(self) -> Rest:
        waits = {
            lag: self._answer[lag.after].start - self._answer[lag.before].end
            for lag in self._lags
            if lag.max_lag is not None
        }
        over = {lag: wait for lag, wait in waits.items() if lag.max_lag is not None and wait > lag.max_lag}
        broken = {lag: wait for lag, wait in over.items() if lag.is_safety}
        needed = {lag.before for lag in self._lags} | {*self._seen.going_on}
        tasks = tuple(
            self._task(node.task, self._answer[node.task.key])
            for node in self._net.nodes
            if node.task.key not in self._seen.finished or node.task.key in needed
        )
        begun = tuple(_begun(task) for task in tasks if task.key in self._seen.going_on and len(task.modes) > 1)
        held = tuple(Lag(task.key, task.key.removesuffix(BEGUN), 0, 0) for task in begun)
        soft = Problem(
            (*tasks, *begun),
            (*held, *(self._relaxed(lag, over) for lag in self._lags)),
            self._workers(),
            tuple(self._left_of(resource) for resource in self._problem.resources),
            self._problem.near_limit,
        )
        run_out = {lag for lag in broken if self._answer[lag.before].end + (lag.max_lag or 0) < self._seen.now}
        given_up = {lag: wait for lag, wait in over.items() if not lag.is_safety or lag in run_out}
        happened = {*self._seen.finished, *self._seen.going_on}
        return Rest(
            soft,
            replace(soft, lags=(*held, *(self._relaxed(lag, given_up) for lag in self._lags))),
            (
                *(self._item(self._answer[task.key]) for task in tasks),
                *(Placed(task.key, task.earliest, task.earliest, 0) for task in begun),
            ),
            broken,
            frozenset(run_out),
            self._past(),
            tuple(node.task.key for node in self._net.nodes if node.task.key not in happened),
        )

    def _past(self) -> Mapping[Lag, int]:
        spans = {**self._seen.finished, **self._seen.going_on}
        waits = {
            lag: spans[lag.after].start - spans[lag.before].end
            for lag in self._problem.lags
            if lag.is_safety and lag.before in spans and lag.after in spans
        }
        return {lag: wait for lag, wait in waits.items() if lag.max_lag is not None and wait > lag.max_lag}

    def _propagated(self) -> dict[str, Placed]:
        minutes = np.array([[node.minutes] for node in self._net.nodes], dtype=np.int64)
        spans = {**self._seen.finished, **self._seen.going_on}
        fixed = {self._net.position[key]: (span.start, span.end) for key, span in spans.items()}
        repair = Repair(self._net, {node.task.key: EXACT for node in self._net.nodes})
        days = repair.days(minutes, fixed=fixed, now=self._seen.now)
        found = {}
        for number, node in enumerate(self._net.nodes):
            who = int(days.who[number, 0])
            start, end = int(days.starts[number, 0]), int(days.ends[number, 0])
            worker = days.persons[who] if who >= 0 else None
            found[node.task.key] = Placed(node.task.key, start, end, node.placed.mode, worker)
        return found

    def _task(self, task: Task, item: Placed) -> Task:
        """What is finished as an instant, what goes on where it is, what is to come from now on."""
        key = task.key
        if key in self._seen.finished:
            return replace(
                task, modes=(Mode(0),), attention=Attention.FREE, earliest=item.end, latest_end=item.end, due=None
            )
        if key in self._seen.going_on:
            return self._going_on(task, item)
        minutes = item.end - item.start
        chosen = task.modes[item.mode]
        held = () if chosen.minutes == minutes else (replace(chosen, minutes=minutes),)
        return replace(
            task,
            modes=(*task.modes, *held),
            earliest=min(max(task.earliest, self._seen.now), item.start),
            latest_end=max(task.latest_end, item.end, task.due + LATEST_MIN if task.due is not None else 0),
        )

    def _going_on(self, task: Task, item: Placed) -> Task:
        """One way, with its expected minutes; what can be stretched still can."""
        node = self._net.nodes[self._net.position[task.key]]
        chosen = task.modes[item.mode]
        workers = (item.worker,) if item.worker is not None else chosen.workers
        minutes = self._seen.going_on[task.key].end - item.start
        stretches = (
            [m.minutes - node.minutes for m in task.modes if m.demands == chosen.demands] if node.stretch else [0]
        )
        longest = max(minutes + max(stretches), item.end - item.start)
        modes = {minutes + more for more in stretches if more >= 0} | {item.end - item.start}
        return replace(
            task,
            modes=tuple(Mode(each, chosen.demands, workers) for each in sorted(modes)),
            earliest=item.start,
            latest_end=item.start + longest,
        )

    def _item(self, item: Placed) -> Placed:
        if item.task in self._seen.finished:
            return Placed(item.task, item.end, item.end, 0)
        task = self._task(self._net.nodes[self._net.position[item.task]].task, item)
        if item.task in self._seen.going_on:
            return replace(item, mode=[mode.minutes for mode in task.modes].index(item.end - item.start))
        is_held = task.modes[item.mode].minutes != item.end - item.start
        return replace(item, mode=len(task.modes) - 1) if is_held else item

    def _relaxed(self, lag: Lag, over: Mapping[Lag, int]) -> Lag:
        return replace(lag, max_lag=over[lag]) if lag in over else lag

    def _workers(self) -> tuple[Worker, ...]:
        """Everybody with the hours that the answer needs of them."""
        more: dict[str, list[Span]] = {}
        for name, span in self._needed():
            more.setdefault(name, []).append(span)
        return tuple(
            replace(worker, presence=(*worker.presence, *more[worker.name])) if worker.name in more else worker
            for worker in self._problem.workers
        )

    def _needed(self) -> Iterator[tuple[str, Span]]:
        for node in self._net.nodes:
            key, item = node.task.key, self._answer[node.task.key]
            if key in self._seen.finished or node.task.attention is Attention.FREE:
                continue
            names = node.task.modes[item.mode].workers or tuple(worker.name for worker in self._problem.workers)
            here = presence(self._problem, names if item.worker is None else (item.worker,))
            if not any(span.start <= item.start and item.end <= span.end for span in here):
                yield item.worker or names[0], Span(item.start, item.end)

    def _left_of(self, resource: Resource) -> Resource:
        """Of what is used up what the finished tasks have left."""
        if not resource.is_used_up:
            return resource
        taken = sum(
            demands_of(node.task.modes[node.placed.mode]).get(resource.name, 0)
            for node in self._net.nodes
            if node.task.key in self._seen.finished
        )
        return replace(resource, capacity=max(0, resource.capacity - taken))
