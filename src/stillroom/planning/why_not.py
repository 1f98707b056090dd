"""Why food is given away or lost and a meal goes without a dish, where the hours of the days are the reason."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from stillroom.allocation.problem import Allocation, Run
from stillroom.allocation.reasons import name_of
from stillroom.household.folder import Folder
from stillroom.model.plan import Left, NotDone
from stillroom.planning.batches import batches_of_run
from stillroom.planning.rearranging import Rearranging
from stillroom.planning.split import Split
from stillroom.planning.wished import Wishes
from stillroom.timetable.problem import Outcome
from stillroom.timetable.proof import Prover
from stillroom.timetable.way_out import WayOut
from stillroom.timetable.why_not import TRY_SECONDS, WhyNot, why_not
from stillroom.work_clock import WorkClock

TRIES = 3  # ways of using one food that are looked at
ENOUGH_WAYS = 2
MOST_TOLD = 4
WHY_S, WAYS_S = 0.3, 0.5  # for each
STILL_FITS = "It would still fit: the search was over before it got there, so give it more seconds."


@dataclass(frozen=True, slots=True)
class _Asked:
    """What nothing was done about, and the runs that would have."""

    origin: str
    what: str
    wishes: Sequence[Run]


class WhyNots:
    """Explains one plan."""

    def __init__(
        self,
        task: Split,
        folder: Folder,
        allocation: Allocation,
        seed: int = 1,
        clock: WorkClock | None = None,
    ) -> None:
        self._task, self._folder, self._allocation = task, folder, allocation
        self._prover = Prover(seed, TRY_SECONDS, clock)
        self._wishes = Wishes(task, allocation.runs)

    def tell(self, left: Sequence[Left], seconds: float) -> tuple[NotDone, ...]:
        """Meals first, then the food worth most, until the seconds are over."""
        deadline = self._prover.clock.now_s + seconds
        found: list[NotDone] = []
        for asked in self._asked(left):
            if self._prover.clock.now_s > deadline or len(found) == MOST_TOLD:
                break
            found.extend(self._tell(asked, deadline))
        return tuple(found)

    def of(
        self, wish: Run, *, why_seconds: float = WHY_S, ways_seconds: float = WAYS_S, most_price: float = math.inf
    ) -> WhyNot:
        """Why one run can't be done beside the plan, and what it would take, for `most_price` at most."""
        rearranging = Rearranging(self._task, self._folder, (wish.activity, wish.day))
        state = rearranging.start((*self._wishes.runs, wish))
        batch = batches_of_run(wish, self._task.variants[wish.activity], self._folder)[0]
        question = rearranging.question(state, batch.key, most_price)
        return why_not(question, why_seconds=why_seconds, ways_seconds=ways_seconds, prover=self._prover)

    def _asked(self, left: Sequence[Left]) -> Iterator[_Asked]:
        day_words = Rearranging(self._task, self._folder).day_words
        for key, role, _ in self._allocation.unmet:
            meal = next(meal for meal in self._task.problem.meals if (meal.key, meal.role) == (key, role))
            what = f"no {role.split(' at ')[0]} for {role.split(' at ')[1]} on {day_words(meal.day)}"
            yield _Asked(key, what, self._wishes.of_meal(role, meal.day))
        worth = {part.origin: self._task.worth.get(part.food, 0.0) * part.mass_g for part in left}
        gone = [part for part in left if part.is_lost or part.is_given_away]
        for part in sorted(gone, key=lambda part: -worth[part.origin]):
            fate = "lost" if part.is_lost else "given away"
            what = f"{part.mass_g / 1000:.1f} kg {name_of(part.food)} {fate}"
            yield _Asked(part.origin, what, self._wishes.of_lot(part.origin))

    def _tell(self, asked: _Asked, deadline: float) -> Iterator[NotDone]:
        """Of the best wishes, one batch each, the first that the days can't take and that has ways out."""
        best: NotDone | None = None
        for wish in [wish for wish in asked.wishes if wish.loads == 1][:TRIES]:
            seconds = min(WAYS_S, max(0.0, deadline - self._prover.clock.now_s))
            answer = self.of(wish, ways_seconds=seconds, most_price=self._wishes.gain(wish))
            if answer.outcome is Outcome.INFEASIBLE:
                entry = told(asked.origin, asked.what, self._words(wish), answer)
                best = entry if best is None or len(entry.ways_out) > len(best.ways_out) else best
                if len(entry.ways_out) >= ENOUGH_WAYS or self._prover.clock.now_s > deadline:
                    break
            elif answer.outcome is Outcome.FEASIBLE:
                best = NotDone(asked.origin, asked.what, self._words(wish), STILL_FITS, (), ())
                break
        if best is not None:
            yield best

    def _words(self, wish: Run) -> str:
        return Rearranging(self._task, self._folder).run_words(wish)


def told(origin: str, what: str, wish: str, answer: WhyNot) -> NotDone:
    """An explanation as it is told to the cook."""
    ways = tuple(way_words(way) for way in answer.ways_out)
    return NotDone(origin, what, wish, answer.sentence, answer.rules, ways)


def with_pointers(left: Sequence[Left], not_done: Sequence[NotDone]) -> tuple[Left, ...]:
    """What is left over, with a word to where it is explained."""
    why = {entry.origin: f"{entry.wish} does not fit, see below" for entry in not_done if entry.rules or entry.ways_out}
    return tuple(
        replace(part, reason=f"{_day_of_giving(part)}{why[part.origin]}")
        if part.origin in why and (part.is_lost or part.is_given_away)
        else part
        for part in left
    )


def _day_of_giving(part: Left) -> str:
    return part.reason.split(": ")[0] + ": " if part.is_given_away else ""


def way_words(way: WayOut) -> str:
    return f"{' and '.join(way.steps)}: {'; '.join(dict.fromkeys(way.price_words))}"
