"""Chooses a timetable by its chances on simulated days: of some with more and less slack the cheapest that is sure."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.model.work import Attention
from stillroom.timetable.problem import Outcome, Placed, Problem, Timetable
from stillroom.timetable.proof import Prover
from stillroom.timetable.simulate import Chances, simulate
from stillroom.timetable.slack import Padding, Slack, usual_slack, with_earlier_dishes
from stillroom.timetable.solve import solve
from stillroom.timetable.spread import Spread, usual

MEALS_SHARE, CLOCKS_SHARE = 0.95, 0.99  # of all meals on time, of all safety clocks kept
LESS, MORE = 0.5, 1.5  # times the usual slack
SHARES = (0.55, 0.5, 0.9)  # of the time left, for each timetable in turn
DAY_MIN = 24 * 60
PLACED = (Outcome.OPTIMAL, Outcome.FEASIBLE)


@dataclass(frozen=True, slots=True)
class Price:
    """By how much later a day ends than in the timetable without slack: the last task that takes somebody."""

    day: int
    later_min: int  # negative: it ends sooner


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
    problem: Problem,
    *,
    seconds: float,
    spreads: Mapping[str, Spread] | None = None,
    slack: Slack | None = None,
    seed: int = 1,
    workers: int = 2,
) -> Secured | Timetable:
    """The timetable, found in about `seconds` [s]; the failed search when there is none without slack either.

    `slack` is what is tried first, and more or less of it; the usual slack if it is left out.

    It is right for the problem but for the dishes: they may be done earlier than their hours.
    """
    deadline = time.perf_counter() + seconds
    known = {task.key: (spreads or {}).get(task.key) or usual(task) for task in problem.tasks}
    return _Choice(problem, known, slack or usual_slack(problem, known), _Effort(deadline, seed, workers)).made()


@dataclass(frozen=True, slots=True)
class _Effort:
    deadline: float  # of time.perf_counter()
    seed: int
    workers: int


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
    def __init__(self, problem: Problem, spreads: Mapping[str, Spread], slack: Slack, effort: _Effort) -> None:
        self._problem, self._spreads, self._slack, self._effort = problem, spreads, slack, effort
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
        if not _is_sure(plain.chances):
            has_more = found[0].factor > 0 and not _is_sure(found[0].chances)
            last = self._candidate(MORE if has_more else LESS, SHARES[-1] * self._left())
            found += [last] if last else []
        sure = [candidate for candidate in found if _is_sure(candidate.chances)]
        best = min(sure, key=lambda one: one.factor) if sure else min(found, key=lambda one: one.missing)
        begun = time.perf_counter()
        chances = self._chances(
            best.timetable, self._effort.seed + 1
        )  # fresh days: those it was chosen on would flatter it
        took = time.perf_counter() - begun
        prices = _prices(self._problem, plain.timetable.placed, best.timetable.placed)
        return Secured(self._wide, best.timetable, chances, best.factor, prices, took)

    def _candidate(self, factor: float, seconds: float) -> _Candidate | None:
        """A timetable with so many times the usual slack."""
        padding = Padding(self._problem, self._slack.times(factor))
        answer = solve(padding.problem, seconds=max(seconds, 0.5), seed=self._effort.seed, workers=self._effort.workers)
        if answer.outcome is Outcome.OUT_OF_TIME:  # on a machine that is busy with something else
            found = Prover(self._effort.seed).verdict(padding.problem)
            answer = replace(answer, outcome=found.outcome, placed=found.placed)
        if answer.outcome not in PLACED:
            self._failed = answer
            return None
        timetable = replace(answer, placed=padding.taken_off(answer.placed))
        return _Candidate(timetable, factor, self._chances(timetable, self._effort.seed))

    def _chances(self, timetable: Timetable, seed: int) -> Chances:
        return simulate(self._wide, timetable, self._spreads, seed=seed).chances()

    def _left(self) -> float:
        return self._effort.deadline - time.perf_counter()


def _is_sure(chances: Chances) -> bool:
    return chances.of_all_meals >= MEALS_SHARE and chances.of_all_clocks >= CLOCKS_SHARE


def _prices(problem: Problem, plain: Sequence[Placed], chosen: Sequence[Placed]) -> tuple[Price, ...]:
    before, after = _ends(problem, plain), _ends(problem, chosen)
    prices = (Price(day, after[day] - before[day]) for day in sorted(before.keys() & after.keys()))
    return tuple(price for price in prices if price.later_min)


def _ends(problem: Problem, placed: Sequence[Placed]) -> Mapping[int, int]:
    """Last end of each day of all that takes somebody; appointments are no work of the plan."""
    found: dict[int, int] = {}
    busy = {
        task.key
        for task in problem.tasks
        if task.attention is not Attention.FREE and task.latest_end - task.earliest > task.modes[0].minutes
    }
    for item in placed:
        if item.task in busy:
            day = item.start // DAY_MIN
            found[day] = max(item.end, found.get(day, item.end))
    return found
