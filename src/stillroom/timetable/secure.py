"""Chooses a timetable by its chances on simulated days: of some with more and less slack the least that is sure.

The usual slack is tried, none, half of it where that may be enough, and more where lateness comes from.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.model.work import Attention
from stillroom.timetable.blame import slack_for
from stillroom.timetable.problem import Outcome, Placed, Problem, Timetable
from stillroom.timetable.proof import Prover
from stillroom.timetable.simulate import Chances, Simulated, simulate
from stillroom.timetable.slack import Padding, Slack, usual_slack, with_earlier_dishes
from stillroom.timetable.solve import solve
from stillroom.timetable.spread import Spread, usual
from stillroom.work_clock import WorkClock

MEALS_SHARE, CLOCKS_SHARE = 0.95, 0.99  # of all meals on time, of all safety clocks kept
LESS = 0.5  # of the slack, to see whether it is enough
MORE = 1.25  # times the slack, besides what is added
MOST_TRIES = 4
FIRST_SHARE, LATER_SHARE = 0.45, 0.4  # of the time left, for each timetable
LEAST_S = 0.3
SIMULATE_S_A_TASK = 1e-4
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
    slack: float  # times all minutes of the usual slack; 0: none
    prices: tuple[Price, ...]  # of the days that it changes
    missing: Slack  # that would make it sure, if there were room

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
    clock: WorkClock | None = None,
) -> Secured | Timetable:
    """The timetable, found in about `seconds` [s]; the failed search when there is none without slack either.

    `slack` is what is tried first, and more or less of it; the usual slack if it is left out.

    It is right for the problem but for the dishes: they may be done earlier than their hours.
    """
    clock = clock or WorkClock()
    known = {task.key: (spreads or {}).get(task.key) or usual(task) for task in problem.tasks}
    return _Choice(
        problem, known, slack or usual_slack(problem, known), _Effort(clock, clock.now_s + seconds, seed, workers)
    ).made()


@dataclass(frozen=True, slots=True)
class _Effort:
    clock: WorkClock
    deadline: float  # of the clock
    seed: int
    workers: int


@dataclass(frozen=True, slots=True)
class _Candidate:
    timetable: Timetable
    slack: Slack
    seen: Simulated
    chances: Chances

    @property
    def is_sure(self) -> bool:
        return _is_sure(self.chances)

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
        usual_ = self._candidate(self._slack, FIRST_SHARE)
        plain = self._candidate(Slack(), LATER_SHARE)
        found = [candidate for candidate in (usual_, plain) if candidate is not None]
        if not found:
            return self._failed
        best = min(found, key=lambda one: (not one.is_sure, one.slack.total_min if one.is_sure else one.missing))
        if best.slack.total_min > 0 or not best.is_sure:
            best = self._with_less(best) if best.is_sure else self._with_more(best)
        # Fresh days: those on which it was chosen would flatter it.
        seen = self._simulated(best.timetable, self._effort.seed + 1)
        chances = seen.chances()
        prices = _prices(self._problem, (plain or best).timetable.placed, best.timetable.placed)
        share = best.slack.total_min / max(1, self._slack.total_min)
        missing = slack_for(seen, MEALS_SHARE, CLOCKS_SHARE)
        return Secured(self._wide, best.timetable, chances, share, prices, missing)

    def _with_less(self, best: _Candidate) -> _Candidate:
        """Half of the slack, if that is enough."""
        less = self._candidate(best.slack.times(LESS), LATER_SHARE)
        return less if less is not None and less.is_sure else best

    def _with_more(self, best: _Candidate) -> _Candidate:
        """Slack is added where lateness comes from, or half of it where there is no room for all."""
        step = slack_for(best.seen, MEALS_SHARE, CLOCKS_SHARE)
        for _ in range(MOST_TRIES):
            if best.is_sure or step.total_min == 0 or self._left() <= 0:
                break
            more = self._candidate(best.slack.times(MORE) + step, LATER_SHARE)
            if more is not None and more.missing < best.missing:
                best, step = more, slack_for(more.seen, MEALS_SHARE, CLOCKS_SHARE)
            else:
                step = step.times(LESS)
        return best

    def _candidate(self, slack: Slack, share: float) -> _Candidate | None:
        """A timetable with such slack, found in a share of the time left."""
        padding = Padding(self._problem, slack)
        seconds = max(share * self._left(), LEAST_S)
        effort, begun = self._effort, self._effort.clock.now_s
        answer = solve(
            padding.problem,
            seconds=seconds,
            seed=effort.seed,
            workers=effort.workers,
            clock=effort.clock,
        )
        if answer.outcome is Outcome.OUT_OF_TIME:  # on a machine that is busy with something else
            found = Prover(effort.seed, clock=effort.clock).verdict(padding.problem)
            answer = replace(answer, outcome=found.outcome, placed=found.placed)
        if answer.outcome not in PLACED:
            self._failed = answer
            return None
        timetable = replace(answer, placed=padding.taken_off(answer.placed), seconds=effort.clock.now_s - begun)
        seen = self._simulated(timetable, self._effort.seed)
        return _Candidate(timetable, slack, seen, seen.chances())

    def _simulated(self, timetable: Timetable, seed: int) -> Simulated:
        self._effort.clock.charge(SIMULATE_S_A_TASK * len(self._wide.tasks))
        return simulate(self._wide, timetable, self._spreads, seed=seed)

    def _left(self) -> float:
        return self._effort.deadline - self._effort.clock.now_s


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
