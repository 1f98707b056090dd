"""Chooses a timetable by its chances on simulated days: of some with more and less slack the cheapest that is sure."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.model.work import Attention
from stillroom.timetable.problem import Outcome, Placed, Problem, Timetable
from stillroom.timetable.simulate import Chances, simulate
from stillroom.timetable.slack import Padding, usual_slack, with_earlier_dishes
from stillroom.timetable.solve import solve
from stillroom.timetable.spread import Spread, usual

MEALS_SHARE, CLOCKS_SHARE = 0.95, 0.99  # of all meals on time, of all safety clocks kept
LESS, MORE = 0.5, 1.5  # times the usual slack
SHARES = (0.45, 0.5, 0.9)  # of the time left, for each timetable in turn
DAY_MIN = 24 * 60
PLACED = (Outcome.OPTIMAL, Outcome.FEASIBLE)


@dataclass(frozen=True, slots=True)
class Price:
    """What slack costs on one day, beside the timetable without slack [min; negative: less]."""

    day: int
    starts_earlier: int  # the first task that takes somebody
    ends_later: int  # the last


@dataclass(frozen=True, slots=True)
class Secured:
    """A timetable, the problem it is right for, its chances on fresh days and what its slack costs."""

    problem: Problem
    timetable: Timetable
    chances: Chances
    slack: float  # times the usual slack; 0: none
    prices: tuple[Price, ...]  # of the days that it changes
    simulation_s: float  # what one simulation takes [s]

    @property
    def is_sure(self) -> bool:
        """Meals and safety clocks are as sure as they should be."""
        return _is_sure(self.chances)


def secure(
    problem: Problem, *, seconds: float, spreads: Mapping[str, Spread] | None = None, seed: int = 1, workers: int = 2
) -> Secured | Timetable:
    """The timetable, found in about `seconds` [s]; the failed search when there is none without slack either.

    It is right for the problem but for the dishes: they may be done earlier than their hours, by up to an hour.
    """
    return _Choice(problem, spreads or {}, time.perf_counter() + seconds, seed, workers).made()


@dataclass(frozen=True, slots=True)
class _Candidate:
    timetable: Timetable
    factor: float
    chances: Chances

    @property
    def missing(self) -> float:
        """How much is missing from the shares that are wanted, over all meals and clocks."""
        return sum(max(0.0, MEALS_SHARE - share) for share in self.chances.meals.values()) + sum(
            max(0.0, CLOCKS_SHARE - share) for share in self.chances.clocks.values()
        )


class _Choice:
    def __init__(
        self, problem: Problem, spreads: Mapping[str, Spread], deadline: float, seed: int, workers: int
    ) -> None:
        self._problem, self._deadline, self._seed, self._workers = problem, deadline, seed, workers
        self._spreads = {task.key: spreads.get(task.key) or usual(task) for task in problem.tasks}
        self._wide = with_earlier_dishes(problem)
        self._failed = Timetable(Outcome.OUT_OF_TIME, ())

    def made(self) -> Secured | Timetable:
        found = [
            candidate
            for factor, share in zip((1.0, 0.0), SHARES, strict=False)
            if (candidate := self._candidate(factor, share * self._left()))
        ]
        if not found:
            return self._failed
        plain = found[-1]
        if not _is_sure(plain.chances) and len(found) > 1:
            last = self._candidate(LESS if _is_sure(found[0].chances) else MORE, SHARES[-1] * self._left())
            found += [last] if last else []
        sure = [candidate for candidate in found if _is_sure(candidate.chances)]
        best = min(sure, key=lambda one: one.factor) if sure else min(found, key=lambda one: one.missing)
        begun = time.perf_counter()
        chances = self._chances(best.timetable, self._seed + 1)  # fresh days: those it was chosen on would flatter it
        took = time.perf_counter() - begun
        prices = _prices(self._problem, plain.timetable.placed, best.timetable.placed)
        return Secured(self._wide, best.timetable, chances, best.factor, prices, took)

    def _candidate(self, factor: float, seconds: float) -> _Candidate | None:
        """A timetable with so many times the usual slack."""
        padding = Padding(self._problem, usual_slack(self._problem, self._spreads).times(factor))
        answer = solve(padding.problem, seconds=max(seconds, 0.5), seed=self._seed, workers=self._workers)
        if answer.outcome not in PLACED:
            self._failed = answer
            return None
        timetable = replace(answer, placed=padding.taken_off(answer.placed))
        return _Candidate(timetable, factor, self._chances(timetable, self._seed))

    def _chances(self, timetable: Timetable, seed: int) -> Chances:
        return simulate(self._wide, timetable, self._spreads, seed=seed).chances()

    def _left(self) -> float:
        return self._deadline - time.perf_counter()


def _is_sure(chances: Chances) -> bool:
    return chances.of_all_meals >= MEALS_SHARE and chances.of_all_clocks >= CLOCKS_SHARE


def _prices(problem: Problem, plain: Sequence[Placed], chosen: Sequence[Placed]) -> tuple[Price, ...]:
    before, after = _attended(problem, plain), _attended(problem, chosen)
    prices = (
        Price(day, before[day][0] - after[day][0], after[day][1] - before[day][1])
        for day in sorted(before.keys() & after.keys())
    )
    return tuple(price for price in prices if price.starts_earlier or price.ends_later)


def _attended(problem: Problem, placed: Sequence[Placed]) -> Mapping[int, tuple[int, int]]:
    """First start and last end of each day of all that takes somebody; appointments are no work of the plan."""
    found: dict[int, tuple[int, int]] = {}
    busy = {
        task.key
        for task in problem.tasks
        if task.attention is not Attention.FREE and task.latest_end - task.earliest > task.modes[0].minutes
    }
    for item in placed:
        if item.task in busy:
            day = item.start // DAY_MIN
            first, last = found.get(day, (item.start, item.end))
            found[day] = min(first, item.start), max(last, item.end)
    return found
