"""For each decision of a plan: what the food would have become otherwise, and what would have to change."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from stillroom.allocation.next_best import InTheWay, next_best
from stillroom.allocation.next_best import NextBest as Found
from stillroom.allocation.opening import SLACK
from stillroom.allocation.problem import Activity, Allocation, Capacity, Input, Pool, Run
from stillroom.allocation.reasons import amount_text, name_of
from stillroom.allocation.shortages import Ledger, Shortage
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

TRIES = 2  # uses of one food that are tried by the clock; then what takes nobody's time
TRY_SECONDS = 0.15
TELL_RUNS = 2
LEAST_PORTIONS = 0.1  # fewer are a matter of rounding
NOTHING = "nothing else: no use of it is both possible beside the rest and worth its work"
BY_CLOCK = {
    Outcome.INFEASIBLE: "the clock has no room for",
    Outcome.OUT_OF_TIME: "it was not settled whether the clock has room for",
}


class NextBests:
    """Answers about one plan; what was asked of the clock is remembered."""

    def __init__(self, task: Split, folder: Folder, allocation: Allocation, seed: int = 1) -> None:
        self._task, self._allocation = task, allocation
        self._ledger = Ledger(task.problem, allocation)
        self._rearranging = Rearranging(task, folder)
        self._prover = Prover(seed, TRY_SECONDS)
        self._activities = {activity.key: activity for activity in task.problem.activities}
        self._by_people = [key for key in self._activities if key in task.variants]

    def of(self, run: Run) -> NextBest:
        """What would be done instead of a run; before it what would be better, and what that would need."""
        banned: set[str] = set()
        refused: tuple[str, Outcome, Found] | None = None
        for number in range(TRIES + 1):
            found = next_best(self._task.problem, self._allocation, run, banned)
            if found is None:
                break
            what, outcome = self._what(run, found), self._by_the_clock(found)
            if outcome is Outcome.FEASIBLE:
                better = refused if refused is not None and refused[0] != what else None
                return self._told(run, found, [*self._refused_words(better), *self._needs(found)])
            refused = refused or (what, outcome, found)
            tried = [new.activity for new in self._new(found)[:1]] if number < TRIES - 1 else self._by_people
            banned.update(self._activities[key].family or key for key in tried)
        return NextBest("", None, (*self._refused_words(refused), "nothing else was found in the time for it"))

    def _told(self, run: Run, found: Found, needs: Sequence[str]) -> NextBest:
        """Food that is given away would spoil otherwise: of it only what would keep it is told."""
        if self._activities[run.activity].use == GIVE_AWAY and not found.of_its_food:
            return NextBest("", None, tuple(needs) or (self._too_little(run),))
        worse_by = None if abs(found.missed) > LEAST_PORTIONS else found.worse_by  # a dish at a meal has no price
        return NextBest(self._what(run, found), worse_by, tuple(needs))

    def _too_little(self, run: Run) -> str:
        """That it is less than any use of it takes, where that is so."""
        item, grams = run.taken[0].item, sum(part.grams for part in run.taken)
        least = [
            (_least_g(needed, activity), activity.label)
            for activity in (self._activities[key] for key in self._by_people)
            for needed in activity.inputs
            if item in needed.items and not activity.servings and max(activity.days) >= run.day
        ]
        if least and min(least)[0] > grams:
            return f"nothing else: {min(least)[1]} takes least of it at a time, {amount_text(min(least)[0], 'g')}"
        return NOTHING

    def _refused_words(self, refused: tuple[str, Outcome, Found] | None) -> Iterator[str]:
        if refused is not None:
            what, outcome, found = refused
            yield f"{what} would be {_worth_words(found)}, but {BY_CLOCK[outcome]} {self._new_words(found)}"

    def _needs(self, found: Found) -> Iterator[str]:
        """That it has no slack, the room that others would need, and what something better lacks."""
        if found.worse_by < -LEAST_WORTH and self._new(found):
            yield "by the clock it just fits, without slack"
        if found.room:
            short = listed([self._short_words(shortage) for shortage in found.room])
            yield f"only with {short}, because others need the room that it makes"
        if blocked := [way for way in found.blocked if way.run.activity in self._task.variants]:
            yield self._blocked_words(blocked, found)

    def _blocked_words(self, blocked: Sequence[InTheWay], found: Found) -> str:
        """The best use that lacks something and that the clock has room for; else the best."""
        for way in blocked[:TRIES]:
            if self._lacks_minutes(way):
                return f"{self._lacking_words(way)} at least, the clock not asked"
            new = [run for run in (way.run, *way.beside) if run.activity in self._task.variants]
            if self._holds(new, found.gone) is Outcome.FEASIBLE:
                return self._lacking_words(way)
        return f"{self._lacking_words(blocked[0])}, if the clock had room for it"

    def _lacks_minutes(self, way: InTheWay) -> bool:
        """Of which the clock has too few as well."""
        lacked = [self._lacked(shortage) for shortage in way.shortages]
        return any(one is not None and one.unit == "min" for one in lacked)

    def _lacking_words(self, way: InTheWay) -> str:
        what, has_price = self._run_words(way.run), abs(way.missed) <= LEAST_PORTIONS  # a dish at a meal has none
        if not way.shortages:
            price = f"be {worth_words(way.worse_by)}, since it gives" if has_price else "give"
            return f"{what} would {price} too little for its work"
        price = worth_words(way.worse_by) if has_price else "better"
        return f"{what} would be {price}, with {listed([self._short_words(shortage) for shortage in way.shortages])}"

    def _by_the_clock(self, found: Found) -> Outcome:
        """Whether the days hold what would be done instead."""
        new = self._new(found)
        return self._holds(new, found.gone) if new else Outcome.FEASIBLE

    def _holds(self, new: Sequence[Run], gone: Sequence[Run]) -> Outcome:
        """Whether the days hold new runs beside what stays at work on the same days and those beside them."""
        spans = [self._span(run) for run in new]
        rest = [run for run in self._allocation.runs if run.activity in self._task.variants and run not in gone]
        near = [run for run in rest if any(_touch(self._span(run), span) for span in spans)]
        return self._prover.verdict(self._rearranging.problem_of(self._rearranging.start([*near, *new]))).outcome

    def _new(self, found: Found) -> list[Run]:
        """What would be done by people, the largest part of the food first."""
        return [run for run in dict.fromkeys((*found.of_its_food, *found.runs)) if run.activity in self._task.variants]

    def _new_words(self, found: Found) -> str:
        return listed([self._run_words(run) for run in self._new(found)][:TELL_RUNS])

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
            spoils = any(self._ledger.spoils(part.lot) for part in run.taken)
            yield "the food would spoil" if spoils else "the food stays"

    def _run_words(self, run: Run) -> str:
        if self._activities[run.activity].use == GIVE_AWAY:
            return f"give away {name_of(run.taken[0].item)}" if run.taken else "give away"
        return f"{self._activities[run.activity].label} ({self._rearranging.day_words(run.day)})"

    def _lacked(self, shortage: Shortage) -> Pool | Capacity | None:
        """What there is too little of: a capacity where the shortage is of a day, else a pool."""
        pools, capacities = self._ledger.pools, self._ledger.capacities
        return pools.get(shortage.name) if shortage.day is None else capacities.get(shortage.name)

    def _short_words(self, shortage: Shortage) -> str:
        lacked = self._lacked(shortage)
        words, unit = (lacked.words, lacked.unit) if lacked is not None else (shortage.name, "")
        when = "" if shortage.day is None else f" on {self._rearranging.day_words(shortage.day)}"
        return f"{amount_text(shortage.short, unit)} more of {words}{when}"


def with_next_bests(plan: Plan, answers: NextBests, runs: Sequence[Run]) -> Plan:
    """The plan with the next best of each of its runs and of what is given away."""
    found: dict[str, NextBest] = {}
    given: dict[str, NextBest] = {}
    known = {run.key for run in plan.runs}
    for run in runs:
        answer, key = answers.of(run), run_key(run)
        if key in known:
            found[key] = answer
        else:
            given |= {part.lot: answer for part in run.taken}
    return replace(
        plan,
        runs=tuple(replace(run, next_best=found[run.key]) for run in plan.runs),
        left=tuple(replace(one, next_best=given[one.origin] if one.is_given_away else None) for one in plan.left),
    )


def _least_g(needed: Input, activity: Activity) -> float:
    """Grams of an input that the smallest run takes."""
    step, least = activity.level_step, activity.smallest
    return needed.grams_per_level * (math.ceil(least / step - SLACK) * step if step > 0 else least)


def _worth_words(found: Found) -> str:
    """A dish more at a meal has no price in money."""
    return "better by a dish at a meal" if found.missed < -LEAST_PORTIONS else worth_words(found.worse_by)


def _touch(one: range, other: range) -> bool:
    return one.start <= other.stop and other.start <= one.stop
