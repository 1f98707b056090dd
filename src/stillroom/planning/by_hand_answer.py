"""What became of the wishes in a plan: kept or not, and why not."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from stillroom.allocation.opening import Opening, loads_of, openings
from stillroom.allocation.problem import Activity, Allocation, Problem, Run
from stillroom.allocation.reasons import amount_text, name_of
from stillroom.household.folder import Folder
from stillroom.model.plan import Plan, PlannedRun
from stillroom.model.wish import GIVE_AWAY, Wish, WishAnswer, WishKind
from stillroom.planning.by_hand import DONE_WORDS, target_name, wish_words
from stillroom.planning.items import FRESH, item
from stillroom.planning.rearranging import Rearranging, with_what_it_feeds
from stillroom.planning.split import Split
from stillroom.planning.why_not import WhyNots, way_words
from stillroom.timetable.problem import Outcome
from stillroom.work_clock import WorkClock

TRIES = 3  # ways of keeping a wish that are looked at
SECONDS = 3.0  # for all wishes that are not kept
CRUMB_G = 5.0
FORBIDS = (WishKind.NO_USE, WishKind.NO_RECIPE, WishKind.NOT_ON)


@dataclass(frozen=True, slots=True)
class _Why:
    sentence: str
    ways_out: tuple[str, ...] = ()


class WishAnswers:
    """Looks the wishes up in one plan; `task` is the split under the wishes, `before` the split without them."""

    def __init__(
        self, before: Split, task: Split, folder: Folder, allocation: Allocation, plan: Plan, clock: WorkClock
    ) -> None:
        self._before, self._task, self._folder = before, task, folder
        self._allocation, self._plan = allocation, plan
        self._names = {variant.recipe.key: variant.recipe.name for variant in before.variants.values()}
        self._clock, self._deadline = clock, clock.now_s + SECONDS

    def of(self, wishes: Sequence[Wish]) -> tuple[WishAnswer, ...]:
        """An answer to each wish."""
        return tuple(self._of(wish, number) for number, wish in enumerate(wishes))

    def _of(self, wish: Wish, number: int) -> WishAnswer:
        words, got_g = wish_words(wish, self._names), self._got_g(wish)
        if wish.kind in FORBIDS:
            return WishAnswer(wish, words, got_g < CRUMB_G and not self._runs(wish), got_g)
        serving = self._serving(number)
        wanted_g = wish.mass_g - self._tolerance_g(serving, wish)
        if self._is_done(wish) and got_g >= wanted_g:
            return WishAnswer(wish, words, True, got_g)
        why = self._why(wish, number, serving)
        return WishAnswer(wish, words, False, got_g, why.sentence, why.ways_out)

    def _is_done(self, wish: Wish) -> bool:
        return wish.kind is WishKind.AT_LEAST or bool(self._runs(wish))

    def _runs(self, wish: Wish) -> list[PlannedRun]:
        """Runs of the plan that a wish speaks of."""
        if wish.food:
            wanted = item(wish.food, FRESH)
            return [
                run
                for run in self._plan.runs
                if run.use == wish.use and any(taken.food == wanted for taken in run.taken)
            ]
        return [run for run in self._plan.runs if run.recipe == wish.recipe and wish.day in (None, run.day)]

    def _got_g(self, wish: Wish) -> float:
        wanted = item(wish.food, FRESH)
        if wish.use == GIVE_AWAY:
            return sum(left.mass_g for left in self._plan.left if left.is_given_away and left.food == wanted)
        taken = (taken for run in self._runs(wish) for taken in run.taken)
        return sum(part.mass_g for part in taken if not wish.food or part.food == wanted)

    def _serving(self, number: int) -> list[Activity]:
        """The activities that would keep a wish."""
        step = target_name(number)
        return [a for a in self._task.problem.activities if any(s.target == step for s in a.targets)]

    def _tolerance_g(self, serving: Sequence[Activity], wish: Wish) -> float:
        """Whole jars and birds: less than one of them may be missing."""
        steps = [a.level_step * _grams(a, wish) for a in serving]
        return max([CRUMB_G, 0.005 * wish.mass_g, *steps])

    def _why(self, wish: Wish, number: int, serving: Sequence[Activity]) -> _Why:
        if not serving:
            return _Why(self._impossible(wish))
        ways = _ways(self._task.problem, serving)
        there_g = sum(lot.amount_g for lot in self._task.problem.lots if lot.item == item(wish.food, FRESH))
        if wish.food and 0 < there_g < wish.mass_g - CRUMB_G:
            return _Why(f"Only {amount_text(there_g, 'g')} {wish.food} comes in within this plan.")
        if not ways:
            return _Why(self._no_room(serving))
        return self._no_time(wish, sorted(ways, key=lambda way: -way.largest * _grams(way.activity, wish)))

    def _impossible(self, wish: Wish) -> str:
        """No way of doing it is in the split: refused, not known, or not on that day."""
        refused = next(iter(self._refusals(wish)), "")
        if wish.food:
            done = DONE_WORDS.get(wish.use, wish.use)
            there = any(item(wish.food, FRESH) in i.items for a in self._before.problem.activities for i in a.inputs)
            if there and wish.use == GIVE_AWAY:
                return "It outlasts this plan, so none has to go: take it out of the arrivals when somebody has it."
            if not there:
                return f"Nothing that can be done here within this plan takes {wish.food}."
            return f"No recipe here has {wish.food} {done}, or only one without a tested process. {refused}".strip()
        days = sorted(
            day + variant.lead_days
            for activity in self._before.problem.activities
            if (variant := self._before.variants.get(activity.key)) and variant.recipe.key == wish.recipe
            for day in activity.days
        )
        name = self._names.get(wish.recipe, wish.recipe)
        if not days:
            why = f"{name} can't be done within this plan: its food is not there, or its steps have no day."
            return f"{why} {refused}".strip()
        listed = ", ".join(self._day_words(day) for day in dict.fromkeys(days))
        return f"{name} can only be done on {listed}: its steps, or the meal it is for, have no other day."

    def _refusals(self, wish: Wish) -> Iterator[str]:
        recipes = {v.recipe.name: v.recipe for v in self._before.variants.values()}
        for entry in self._before.refused:
            recipe = recipes.get(entry.recipe)
            is_meant = entry.recipe == self._names.get(wish.recipe) or (
                recipe is not None and any(wish.food in i.foods for i in recipe.ingredients if i.main)
            )
            if is_meant:
                yield entry.refusal.reason

    def _no_room(self, serving: Sequence[Activity]) -> str:
        """Its food is not there in time, or something is too short for its smallest batch, with all else left out."""
        problem = self._task.problem
        boundless = replace(
            problem,
            capacities=tuple(replace(c, per_day=(math.inf,) * problem.days) for c in problem.capacities),
            pools=tuple(replace(pool, amount=math.inf) for pool in problem.pools),
        )
        ways = _ways(boundless, serving)
        if not ways:
            items = {name for activity in serving for needed in activity.inputs for name in needed.items}
            windows = [
                f"{name_of(lot.item)} from {self._day_words(max(0, lot.first_day))}"
                + (f" to {self._day_words(lot.last_day)}" if lot.last_day < problem.days else "")
                for lot in problem.lots
                if lot.item in items
            ]
            return f"Its food is not there then: {'; '.join(windows) or 'nothing of it comes in within this plan'}."
        short = dict.fromkeys(words for way in ways for words in self._short(way))
        return f"Too little for the smallest batch, whatever else is left out: {'; '.join(short) or 'hours'}."

    def _short(self, way: Opening) -> Iterator[str]:
        pools = {pool.name: pool for pool in self._task.problem.pools}
        capacities = {capacity.name: capacity for capacity in self._task.problem.capacities}
        for use in way.activity.pools:
            pool = pools.get(use.pool)
            if pool is None or pool.amount < use.per_level * way.smallest:
                yield pool.words if pool else use.pool
        for usage in way.activity.usages:
            capacity, day = capacities.get(usage.capacity), way.day + usage.day_offset
            needed = usage.fixed + usage.per_level * way.smallest + usage.per_load
            if capacity is None or capacity.per_day[day] < needed:
                yield f"{capacity.words if capacity else usage.capacity} on {self._day_words(day)}"

    def _no_time(self, wish: Wish, ways: Sequence[Opening]) -> _Why:
        """Why none of its days has room for it beside what does not take the same food; or that one has."""
        runs = self._allocation.runs
        gone = [fed for run in runs if self._rivals(run, wish) for fed in with_what_it_feeds(runs, run)]
        kept = tuple(run for run in runs if run not in gone)
        why_nots = WhyNots(self._task, self._folder, replace(self._allocation, runs=kept), clock=self._clock)
        rearranging, told = Rearranging(self._task, self._folder), list[_Why]()
        for way in list({way.day: way for way in ways[::-1]}.values())[::-1][:TRIES]:
            if self._clock.now_s > self._deadline:
                break
            run = _wished_run(way, wish)
            answer = why_nots.of(run)
            words = rearranging.run_words(run)
            if answer.outcome is Outcome.INFEASIBLE:
                sentence = " ".join((f"{words}: {answer.sentence}", *answer.rules))
                told.append(_Why(sentence, tuple(way_words(way_out) for way_out in answer.ways_out)))
            else:
                told.insert(0, _Why(f"{words} has room if what takes the same food gives way: look longer."))
                break
        return told[0] if told else _Why("No such plan was found in the time: look longer.")

    def _day_words(self, day: int) -> str:
        return Rearranging(self._task, self._folder).day_words(day)

    def _rivals(self, run: Run, wish: Wish) -> bool:
        foods = {wish.food} if wish.food else self._foods_of(wish)
        return any(name_of(taken.item) in foods for taken in run.taken)

    def _foods_of(self, wish: Wish) -> set[str]:
        recipes = (v.recipe for v in self._task.variants.values() if v.recipe.key == wish.recipe)
        return {food for recipe in recipes for i in recipe.ingredients if i.main for food in i.foods}


def _ways(problem: Problem, serving: Sequence[Activity]) -> list[Opening]:
    keys = {activity.key for activity in serving}
    return [opening for opening in openings(problem) if opening.activity.key in keys]


def _grams(activity: Activity, wish: Wish) -> float:
    """Grams of what the wish counts, per level."""
    wanted = item(wish.food, FRESH)
    return sum(n.grams_per_level for n in activity.inputs if not wish.food or wanted in n.items)


def _wished_run(way: Opening, wish: Wish) -> Run:
    grams = _grams(way.activity, wish)
    level = min(way.largest, max(way.smallest, wish.mass_g / grams if wish.mass_g and grams else way.smallest))
    return Run(way.activity.key, way.day, level, loads_of(way.activity, level), ())
