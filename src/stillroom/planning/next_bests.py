"""For the largest decisions of a plan: what the food would have become otherwise, and what would have to change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stillroom.allocation.next_best import InTheWay, next_best
from stillroom.allocation.next_best import NextBest as Found
from stillroom.allocation.problem import Allocation, Run, Taken
from stillroom.allocation.reasons import amount_text, name_of
from stillroom.allocation.shortages import Shortage
from stillroom.household.folder import Folder
from stillroom.model.plan import LEAST_WORTH, NextBest, Plan, worth_words
from stillroom.model.wish import GIVE_AWAY
from stillroom.planning.rearranging import Rearranging
from stillroom.planning.runs import run_key
from stillroom.planning.slips import may_slip
from stillroom.planning.split import Split
from stillroom.timetable.problem import Outcome
from stillroom.timetable.proof import Prover
from stillroom.timetable.words import listed

QUESTIONS = 12  # in all: each takes about 0.07 s, half of it by the clock, and all should take less than a second
TRIES = 2  # ways of using one food that are tried by the clock
TRY_SECONDS = 0.15
TELL_RUNS = 2
LEAST_PORTIONS = 0.1  # fewer are a matter of rounding
ROOM = "nothing else, because others need the room that it makes"
BY_CLOCK = {
    Outcome.INFEASIBLE: "the clock has no room for",
    Outcome.OUT_OF_TIME: "it was not settled whether the clock has room for",
}


class NextBests:
    """Answers about one plan; what was asked of the clock is remembered."""

    def __init__(self, task: Split, folder: Folder, allocation: Allocation, seed: int = 1) -> None:
        self._task, self._allocation = task, allocation
        self._rearranging = Rearranging(task, folder)
        self._prover = Prover(seed, TRY_SECONDS)
        self._activities = {activity.key: activity for activity in task.problem.activities}
        self.asked = 0

    def largest_first(self) -> list[Run]:
        """Everything that is decided, by the worth of the food it takes."""
        return sorted(self._allocation.runs, key=lambda run: -sum(self._worth_of(part) for part in run.taken))

    def of(self, run: Run) -> NextBest:
        """What would be done instead of a run; before it what would be better, and what that would need."""
        banned: set[str] = set()
        needs: list[str] = []
        for number in range(1, TRIES + 1):
            self.asked += 1
            found = next_best(self._task.problem, self._allocation, run, banned)
            if found is None:
                return NextBest(ROOM, None)
            outcome = self._by_the_clock(found)
            if outcome is Outcome.FEASIBLE or (number == TRIES and found.worse_by > -LEAST_WORTH):
                break
            if found.worse_by < -LEAST_WORTH:
                needs.append(
                    f"{self._what(run, found)} would be {_worth_words(found)}, "
                    f"but {BY_CLOCK[outcome]} {self._new_words(found)}"
                )
            banned.add(self._family(self._new(found)[0]))
        else:
            return NextBest("", None, tuple(needs))
        if found.blocked is not None:
            needs.append(self._blocked_words(found.blocked))
        if outcome is not Outcome.FEASIBLE:
            needs.insert(0, f"{BY_CLOCK[outcome]} {self._new_words(found)}")
        elif found.worse_by < -LEAST_WORTH:
            needs.insert(0, "by the clock it just fits, without slack")
        worse_by = None if abs(found.missed) > LEAST_PORTIONS else found.worse_by  # a dish at a meal has no price
        return NextBest(self._what(run, found), worse_by, tuple(needs))

    def _by_the_clock(self, found: Found) -> Outcome:
        """Whether the days hold what would be done beside what is at work on the same days and those beside them."""
        new = self._new(found)
        if not new:
            return Outcome.FEASIBLE
        spans = [self._span(run) for run in new]
        rest = [run for run in self._allocation.runs if run.activity in self._task.variants and run not in found.gone]
        near = [run for run in rest if any(_touch(self._span(run), span) for span in spans)]
        return self._prover.verdict(self._rearranging.problem_of(self._rearranging.start([*near, *new]))).outcome

    def _new(self, found: Found) -> list[Run]:
        """What would be done by people, the largest part of the food first."""
        return [run for run in dict.fromkeys((*found.of_its_food, *found.runs)) if run.activity in self._task.variants]

    def _new_words(self, found: Found) -> str:
        return listed([self._run_words(run) for run in self._new(found)][:TELL_RUNS])

    def _family(self, run: Run) -> str:
        return self._activities[run.activity].family or run.activity

    def _span(self, run: Run) -> range:
        """Days on which a run may need somebody."""
        variant = self._task.variants[run.activity]
        steps = variant.recipe.steps
        slips = any(may_slip(steps, step) for step in steps)
        return range(run.day, run.day + variant.lead_days + max(step.day for step in steps) + slips + 1)

    def _what(self, run: Run, found: Found) -> str:
        """What serves its meal instead, then what its food becomes."""
        fates = " and ".join(list(dict.fromkeys(self._fates(run, found)))[:TELL_RUNS])
        return f"{fates}, and nothing of what is made of it" if len(found.gone) > 1 else fates

    def _fates(self, run: Run, found: Found) -> Iterator[str]:
        served = {(s.role, run.day + s.day_offset) for s in self._activities[run.activity].servings}
        for other in found.runs:
            roles = {(s.role, other.day + s.day_offset) for s in self._activities[other.activity].servings}
            if roles & served:
                yield self._run_words(other)
        if found.missed > LEAST_PORTIONS and served:
            yield "the meal goes without"
        for other in found.of_its_food:
            yield self._run_words(other)
        if run.taken and not found.of_its_food:
            stores = {
                lot.key for lot in self._task.problem.lots if lot.is_store or lot.last_day >= self._task.problem.days
            }
            kept = all(part.lot in stores for part in run.taken)
            yield "the food stays" if kept else "the food would spoil"

    def _run_words(self, run: Run) -> str:
        if self._activities[run.activity].use == GIVE_AWAY:
            return f"give away {name_of(run.taken[0].item)}" if run.taken else "give away"
        return f"{self._activities[run.activity].label} ({self._rearranging.day_words(run.day)})"

    def _blocked_words(self, blocked: InTheWay) -> str:
        what = f"{blocked.activity.label} ({self._rearranging.day_words(blocked.day)})"
        return f"{what} would be {worth_words(blocked.worse_by)}, {self._short_words(blocked.shortage)}"

    def _short_words(self, shortage: Shortage) -> str:
        problem = self._task.problem
        named = {one.name: (one.words, one.unit) for one in problem.pools}
        named |= {one.name: (one.words, one.unit) for one in problem.capacities}
        words, unit = named.get(shortage.name, (shortage.name, ""))
        when = "" if shortage.day is None else f" on {self._rearranging.day_words(shortage.day)}"
        return f"with {amount_text(shortage.short, unit)} more of {words}{when}"

    def _worth_of(self, part: Taken) -> float:
        return part.grams * self._task.worth.get(part.item, 0.0)


def with_next_bests(plan: Plan, answers: NextBests) -> Plan:
    """The plan with the next bests of its largest decisions, as many as the count of questions allows."""
    found: dict[str, NextBest] = {}
    given: dict[str, NextBest] = {}
    known = {run.key for run in plan.runs}
    for run in answers.largest_first():
        if answers.asked >= QUESTIONS:
            break
        answer, key = answers.of(run), run_key(run)
        if key in known:
            found[key] = answer
        else:
            given |= {part.lot: answer for part in run.taken}
    return replace(
        plan,
        runs=tuple(replace(run, next_best=found.get(run.key)) for run in plan.runs),
        left=tuple(replace(one, next_best=given.get(one.origin) if one.is_given_away else None) for one in plan.left),
    )


def _worth_words(found: Found) -> str:
    """A dish more at a meal has no price in money."""
    return "better by a dish at a meal" if found.missed < -LEAST_PORTIONS else worth_words(found.worse_by)


def _touch(one: range, other: range) -> bool:
    return one.start <= other.stop and other.start <= one.stop
