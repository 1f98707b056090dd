"""What a household could do about a day that can't be kept, each change with its price in food, minutes and meals."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from functools import partial

from stillroom.allocation.check import check_runs
from stillroom.allocation.check_worth import missed_portions, waste_g
from stillroom.allocation.opening import loads_of
from stillroom.allocation.problem import Allocation, Outcome, Run, made_by
from stillroom.allocation.reasons import name_of
from stillroom.household.folder import Folder
from stillroom.model.household import Meal
from stillroom.model.kitchen import Kitchen, Person, Presence
from stillroom.planning.activities import HANDS_PRICE_PER_MIN
from stillroom.planning.batches import batches, shares
from stillroom.planning.crew import MEAL_GROUP
from stillroom.planning.split import Split
from stillroom.planning.supply import minutes_from
from stillroom.planning.tasks import timetable_problem
from stillroom.planning.wished import hours_aside, worth
from stillroom.timetable.core import Core
from stillroom.timetable.problem import Problem
from stillroom.timetable.rules import DAY_MIN, Kind
from stillroom.timetable.way_out import EVERYBODY, LEAVE_OUT, Change, Question
from stillroom.timetable.words import Names, listed

RunId = tuple[str, int]  # activity and day
MORE_MIN = (30, 60, 120)
LATER_MIN = (30, 60)
OTHER_DAYS = (1, -1)
EARLIEST, LATEST = time(5), time(23)  # nobody is asked to work at night
# Only rank ways out; common practice, no source. A minute that was not planned is dearer than one that was.
EXTRA_MIN_PRICE = 2 * HANDS_PRICE_PER_MIN
LATE_MIN_PRICE = 0.15
OTHER_DAY_PRICE = 1.0
LEAST_PRICE = 0.1
LEAST_G = 50.0


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Runs, and the people and meals around them."""

    runs: tuple[Run, ...]
    kitchen: Kitchen
    meals: tuple[Meal, ...]


@dataclass(frozen=True, slots=True)
class _Sums:
    """What an arrangement of runs comes to."""

    worth: float
    waste_g: Mapping[str, float]
    missed: Mapping[tuple[str, int], float]


class Rearranging:
    """Changes of an arrangement; `wish` is a run that is asked about and so never left out."""

    def __init__(self, task: Split, folder: Folder, wish: RunId | None = None) -> None:
        self._task, self._folder, self._wish = task, folder, wish
        self._rules = hours_aside(task.problem)
        self._activities = {activity.key: activity for activity in task.problem.activities}
        self._known: dict[tuple[Run, ...], _Sums] = {}

    def start(self, runs: Sequence[Run]) -> Arrangement:
        """The runs in the kitchen as it is."""
        return Arrangement(tuple(runs), self._folder.kitchen, self._folder.household.meals)

    def problem_of(self, state: Arrangement) -> Problem:
        """The timetable problem of an arrangement."""
        folder = self._changed(state)
        work = batches(self._task, Allocation(Outcome.FEASIBLE, state.runs, (), (), ()), folder)
        return timetable_problem(work, state.kitchen, state.meals, folder.start, self._task.problem.days)[0]

    def names(self, state: Arrangement) -> Names:
        """Runs, days and meals as the cook calls them."""
        return Names(
            {key: self.run_words(run) for key, run in self._run_of(state).items()},
            self.day_words,
            {
                self._minute(meal): f"{meal.name} is at {meal.at:%H:%M} on {self._date_words(meal.day)}"
                for meal in state.meals
            },
        )

    def day_words(self, day: int) -> str:
        """Saturday; in a plan of more than a week with its date."""
        return self._date_words(self._folder.start + timedelta(days=day))

    def question(self, state: Arrangement, asked: str = "", most_price: float = math.inf) -> Question[Arrangement]:
        """What the household could do about an arrangement that can't be kept; `asked` is the batch in question."""
        own = frozenset({MEAL_GROUP})
        return Question(state, self.problem_of, self.changes, self.names(state), own, asked, most_price)

    def changes(self, state: Arrangement, problem: Problem, core: Core) -> Sequence[Change[Arrangement]]:
        """Everything that might help a core."""
        run_of = self._run_of(state)
        blamed = dict.fromkeys(run_of[block.group] for block in core.blocks if block.group in run_of)
        days = {rule.subject for rule in core.rules if rule.kind is Kind.HOURS}
        due = {rule.subject for rule in core.rules if rule.kind is Kind.MEAL}
        due |= {minute for minute in (self._minute(meal) for meal in state.meals) if minute // DAY_MIN in days}
        return [
            *(change for run in blamed for change in self._of_run(state, run)),
            *(change for day in days if isinstance(day, int) for change in self._hours(state, day)),
            *(change for minute in due if isinstance(minute, int) for change in self._later(state, minute)),
        ]

    def _of_run(self, state: Arrangement, run: Run) -> Iterator[Change[Arrangement]]:
        yield from self._left_out(state, run)
        yield from self._one_load_fewer(state, run)
        yield from self._another_day(state, run)

    def _left_out(self, state: Arrangement, run: Run) -> Iterator[Change[Arrangement]]:
        gone = with_what_it_feeds(state.runs, run)
        if self._wish in {(other.activity, other.day) for other in gone}:
            return
        work = (other for other in gone if other.activity in self._task.variants)  # giving away is no work
        more = [self.run_words(other) for other in work if other is not run]
        words = f"leave out {self.run_words(run)}" + (f", and with it {listed(more)}" if more else "")
        kept = tuple(other for other in state.runs if other not in gone)
        for change in self._change(LEAVE_OUT, run, words, state, kept):
            yield replace(change, apply=partial(_without, tuple(gone)))

    def _one_load_fewer(self, state: Arrangement, run: Run) -> Iterator[Change[Arrangement]]:
        if run.loads < 2:
            return
        parts = shares(run, self._task.variants[run.activity])
        share = sum(parts[:-1]) / run.level
        level = run.level * share
        fewer = replace(
            run,
            level=level,
            loads=loads_of(self._activities[run.activity], level),
            taken=tuple(replace(taken, grams=taken.grams * share) for taken in run.taken),
        )
        load = "load" if self._task.variants[run.activity].jar_work else "batch"
        words = f"one {load} fewer of {self.run_words(run)}"
        yield from self._change("fewer", run, words, state, _swapped(state.runs, run, fewer))

    def _another_day(self, state: Arrangement, run: Run) -> Iterator[Change[Arrangement]]:
        activity = self._activities[run.activity]
        if activity.servings or self._wish == (run.activity, run.day):
            return
        for shift in OTHER_DAYS:
            if run.day + shift in activity.days:
                words = f"do {self.run_words(run)} on {self._day_of(replace(run, day=run.day + shift))} instead"
                moved = _swapped(state.runs, run, replace(run, day=run.day + shift))
                yield from self._change("another day", run, words, state, moved, at_least=OTHER_DAY_PRICE)

    def _change(
        self,
        kind: str,
        run: Run,
        words: str,
        state: Arrangement,
        runs: tuple[Run, ...],
        *,
        at_least: float = LEAST_PRICE,
    ) -> Iterator[Change[Arrangement]]:
        """The change, unless it breaks a rule of the food: what it takes is there and in date, the freezer copes."""
        if check_runs(self._rules, runs):
            return
        before, after = self._sums(state.runs), self._sums(runs)
        price = max(at_least, before.worth - after.worth)
        yield Change(
            kind, f"{run.activity}@{run.day}", words, price, self._lost(before, after), _same(replace(state, runs=runs))
        )

    def _hours(self, state: Arrangement, day: int) -> Iterator[Change[Arrangement]]:
        on = self._folder.start + timedelta(days=day)
        for person in (person for person in state.kitchen.people if not person.is_child):
            for span in (span for span in person.presence if span.day == on):
                for more in MORE_MIN:
                    for added in _beside(span, more):
                        if _is_free(person, added) and not self._is_over(added):
                            yield self._longer(state, person, span, added, more)
        yield from self._everybody(state, on)

    def _everybody(self, state: Arrangement, on: date) -> Iterator[Change[Arrangement]]:
        """All who are there at the end of a day stay longer, where they are several."""
        spans = [(p, span) for p in state.kitchen.people if not p.is_child for span in p.presence if span.day == on]
        closes = max((span.end for _, span in spans), default=EARLIEST)
        last = [(person, span) for person, span in spans if span.end == closes]
        for more in MORE_MIN if len(last) > 1 else ():
            added = [(p, span, late) for p, span in last for late in _beside(span, more) if late.start == span.end]
            if len(added) == len(last) and all(_is_free(person, late) for person, _, late in added):
                yield self._all_longer(state, added, more)

    def _all_longer(
        self, state: Arrangement, added: Sequence[tuple[Person, Presence, Presence]], more: int
    ) -> Change[Arrangement]:
        who, on = listed([person.name for person, _, _ in added]), added[0][1].day
        words = f"{who} stay until {added[0][2].end:%H:%M} instead of {added[0][1].end:%H:%M} on {self._date_words(on)}"
        people = dict(zip(state.kitchen.people, state.kitchen.people, strict=True))
        for person, span, late in added:
            there = tuple(replace(span, end=late.end) if other is span else other for other in person.presence)
            people[person] = replace(person, presence=there)
        after = replace(state, kitchen=replace(state.kitchen, people=tuple(people.values())))
        price = EXTRA_MIN_PRICE * more * len(added)
        return Change(EVERYBODY, str(on), words, price, f"{more} min more of {who}", _same(after))

    def _is_over(self, added: Presence) -> bool:
        """Whether the plan begins in those hours or after them."""
        return added.day == self._folder.start and added.start < self._folder.begins

    def _longer(
        self, state: Arrangement, person: Person, span: Presence, added: Presence, more: int
    ) -> Change[Arrangement]:
        on, is_early = self._date_words(span.day), added.end == span.start
        words = (
            f"{person.name} begins at {added.start:%H:%M} instead of {span.start:%H:%M} on {on}"
            if is_early
            else f"{person.name} stays until {added.end:%H:%M} instead of {span.end:%H:%M} on {on}"
        )
        longer = replace(span, start=min(span.start, added.start), end=max(span.end, added.end))
        there = tuple(longer if other is span else other for other in person.presence)
        people = tuple(replace(p, presence=there) if p is person else p for p in state.kitchen.people)
        subject = f"{person.name} {span.day} {span.start if is_early else span.end}"
        after = replace(state, kitchen=replace(state.kitchen, people=people))
        return Change(
            "hours", subject, words, EXTRA_MIN_PRICE * more, f"{more} min more of {person.name}", _same(after)
        )

    def _later(self, state: Arrangement, minute: int) -> Iterator[Change[Arrangement]]:
        moved = [meal for meal in state.meals if self._minute(meal) == minute]
        for more in LATER_MIN if moved and minute % DAY_MIN + LATER_MIN[-1] < DAY_MIN else ():
            at = (datetime.combine(moved[0].day, moved[0].at) + timedelta(minutes=more)).time()
            meals = tuple(replace(meal, at=at) if meal in moved else meal for meal in state.meals)
            what = listed([meal.name for meal in moved])
            words = f"{what} on {self._date_words(moved[0].day)} at {at:%H:%M} instead of {moved[0].at:%H:%M}"
            after = replace(state, meals=meals)
            yield Change("meal", str(minute), words, LATE_MIN_PRICE * more, f"{more} min late", _same(after))

    def _minute(self, meal: Meal) -> int:
        return minutes_from(self._folder.start, meal.day, meal.at)

    def _lost(self, before: _Sums, after: _Sums) -> str:
        """The price of other runs: food that nothing takes any more, and meals without a dish."""
        by_food: dict[str, float] = defaultdict(float)
        for key, grams in after.waste_g.items():
            by_food[self._food_name(key)] += grams
        for key, grams in before.waste_g.items():
            by_food[self._food_name(key)] -= grams
        words = [f"{grams / 1000:.1f} kg {food} to give away" for food, grams in by_food.items() if grams > LEAST_G]
        words += [
            f"no {role.replace(' at ', ' for ')} on {self.day_words(day)}"
            for (role, day), portions in after.missed.items()
            if portions > before.missed.get((role, day), 0.0) + 0.1
        ]
        return listed(words) or "nothing is lost by it"

    def _sums(self, runs: tuple[Run, ...]) -> _Sums:
        if runs not in self._known:
            allocation = Allocation(Outcome.FEASIBLE, runs, (), (), ())
            problem = self._task.problem
            self._known[runs] = _Sums(
                worth(problem, runs), waste_g(problem, allocation), missed_portions(problem, allocation)
            )
        return self._known[runs]

    def _food_name(self, key: str) -> str:
        lots = {lot.key: lot.item for lot in self._task.problem.lots}
        return name_of(lots[key] if key in lots else made_by(key)[2])

    def _run_of(self, state: Arrangement) -> Mapping[str, Run]:
        """The run of each group of tasks."""
        runs = {(run.activity, run.day): run for run in state.runs}
        allocation = Allocation(Outcome.FEASIBLE, state.runs, (), (), ())
        return {batch.key: runs[batch.run] for batch in batches(self._task, allocation, self._changed(state))}

    def _changed(self, state: Arrangement) -> Folder:
        household = replace(self._folder.household, meals=state.meals)
        return replace(self._folder, kitchen=state.kitchen, household=household)

    def run_words(self, run: Run) -> str:
        """Tomato sauce in jars on Saturday."""
        return f"{self._activities[run.activity].label} on {self._day_of(run)}"

    def _day_of(self, run: Run) -> str:
        return self.day_words(run.day + self._task.variants[run.activity].lead_days)

    def _date_words(self, day: date) -> str:
        return f"{day:%A}" if self._task.problem.days <= 7 else f"{day:%A} {day.day} {day:%B}"


def with_what_it_feeds(runs: Sequence[Run], run: Run) -> list[Run]:
    """The run and every run that takes what it, or one of those, makes."""
    gone = [run]
    for other in gone:
        key = (other.activity, other.day)
        fed = (r for r in runs if any(t.lot.startswith("run:") and made_by(t.lot)[:2] == key for t in r.taken))
        gone.extend(found for found in fed if found not in gone)
    return gone


def _without(gone: tuple[Run, ...], state: Arrangement) -> Arrangement:
    return replace(state, runs=tuple(run for run in state.runs if run not in gone))


def _swapped(runs: tuple[Run, ...], old: Run, new: Run) -> tuple[Run, ...]:
    return tuple(new if run is old else run for run in runs)


def _same(state: Arrangement) -> Callable[[Arrangement], Arrangement]:
    return lambda _: state


def _beside(span: Presence, minutes: int) -> Iterator[Presence]:
    """So many minutes before and after a span, within the day."""
    begins, ends = datetime.combine(span.day, span.start), datetime.combine(span.day, span.end)
    more = timedelta(minutes=minutes)
    if (begins - more).date() == span.day and (begins - more).time() >= EARLIEST:
        yield Presence(span.day, (begins - more).time(), span.start)
    if (ends + more).date() == span.day and (ends + more).time() <= LATEST:
        yield Presence(span.day, span.end, (ends + more).time())


def _is_free(person: Person, added: Presence) -> bool:
    """Neither in the kitchen already nor at an appointment."""
    taken = [(s.start, s.end) for s in person.presence if s.day == added.day]
    taken += [(a.start, a.end) for a in person.appointments if a.day == added.day]
    return all(end <= added.start or added.end <= start for start, end in taken)
