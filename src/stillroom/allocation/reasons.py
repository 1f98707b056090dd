"""Why an allocation is as it is, in the words of the kitchen: facts read off the answer, no solver.

The facts are stated as they stand; they are not a proof that no other way exists.
"""

from __future__ import annotations

from collections.abc import Callable

from stillroom.allocation.problem import Activity, Allocation, Problem, Run, made_by
from stillroom.allocation.returns import came_back
from stillroom.allocation.shortages import Attempt, Ledger, Shortage

BOOKED_SHARE = 0.9
TELL_WAYS = 2
LEAST_ROOM = 0.05
DayName = Callable[[int], str]


def reasons(problem: Problem, allocation: Allocation, day_name: DayName | None = None) -> Reasons:
    """The reasons for an allocation; `day_name` turns a day number into a word ("Sunday"), else "day 3" (from 1)."""
    return Reasons(Ledger(problem, allocation), day_name or (lambda day: f"day {day + 1}"))


class Reasons:
    """Answers "why this?" and "why not more?" about one allocation."""

    def __init__(self, ledger: Ledger, day_name: DayName) -> None:
        self._ledger = ledger
        self._day_name = day_name

    def of_run(self, run: Run) -> tuple[str, ...]:
        """Why this is done: meals, clocks, targets, room made; then what kept it from being more."""
        activity = self._ledger.activities[run.activity]
        found = [*self._meals(run, activity), *self._clocks(run), *self._targets(run, activity), *self._room(run)]
        limit = self._limit(run, activity)
        return tuple(dict.fromkeys([*found, *([limit] if limit else [])]))

    def of_lot(self, key: str, besides: str = "") -> str:
        """Why (the rest of) a lot spoils: the least that would have to change, for the nearest ways of using it.

        `besides` names an activity that is not to be told of: the giving away that took the rest.
        """
        item, first, last, grams = self._lot(key)
        attempts = [way for way in self._attempts(item, first, last, grams) if way.activity.key != besides]
        if not attempts:
            return f"nothing that could be done in this plan uses {name_of(item)} in time"
        nearest = [attempt for attempt in attempts if attempt.is_possible]
        if nearest:
            day = self._day_name(nearest[0].day)
            label = nearest[0].activity.label
            return f"{label} could take it on {day}, but gives too little for its work, or the day has no hours for it"
        return ". ".join(f"{way.activity.label}: {'; '.join(self._obstacles(way))}" for way in attempts[:TELL_WAYS])

    def _lot(self, key: str) -> tuple[str, int, int, float]:
        """Item, first and last day in the plan, grams left to spoil."""
        days = self._ledger.problem.days
        spoiled = dict(self._ledger.allocation.spoiled)
        lot = self._ledger.lots.get(key)
        if lot is not None:
            grams = spoiled.get(key, self._ledger.left_g(key))
            return lot.item, max(0, lot.first_day), min(lot.last_day, days - 1), grams
        activity_key, day, item = made_by(key)
        output = next(o for o in self._ledger.activities[activity_key].outputs if o.item == item)
        first = day + output.ready_after
        return item, first, min(first + output.keeps_days, days - 1), spoiled.get(key, 0.0)

    def _attempts(self, item: str, first: int, last: int, grams: float) -> list[Attempt]:
        """For each way of using an item its best day; nearest to possible first."""
        best = []
        for activity in self._ledger.problem.activities:
            if any(item in needed.items and needed.grams_per_level > 0 for needed in activity.inputs):
                days = [day for day in activity.days if first <= day <= last]
                tries = [self._ledger.attempt(activity, day, grams, item) for day in days]
                if tries:
                    best.append(min(tries, key=self._distance))
        return sorted(best, key=self._distance)

    @staticmethod
    def _distance(attempt: Attempt) -> tuple[int, int, float, int, str]:
        """Fewest rules, then fewest and smallest shortages, then the best use, the earliest day."""
        lacking = sum(shortage.short / (shortage.short + shortage.free) for shortage in attempt.shortages)
        return len(attempt.rules), len(attempt.shortages), round(lacking, 9), attempt.day, attempt.activity.key

    def _obstacles(self, attempt: Attempt) -> tuple[str, ...]:
        return (*attempt.rules, *(self._short(shortage) for shortage in attempt.shortages))

    def _short(self, shortage: Shortage) -> str:
        ledger, name = self._ledger, shortage.name
        if shortage.day is None:
            pool = ledger.pools.get(name)
            words, unit = (pool.words, pool.unit) if pool else (name, "")
            full = "full" if shortage.free <= 0.02 * (pool.amount if pool else 0.0) else "too full"
            if unit == "L":
                return f"{words} is {full}: {amount_text(shortage.short, unit)} short"
            return f"not enough of {words}: {amount_text(shortage.short, unit)} short"
        capacity = ledger.capacities.get(name)
        day = self._day_name(shortage.day)
        if capacity is None or capacity.per_day[shortage.day] <= 0:
            return f"nothing of {capacity.words if capacity else name} on {day}"
        short = amount_text(shortage.short, capacity.unit)
        if ledger.used_share(name, shortage.day) >= BOOKED_SHARE:
            return f"{capacity.words}: booked all {day}, {short} short"
        return f"{capacity.words}: {short} short on {day}"

    def _meals(self, run: Run, activity: Activity) -> list[str]:
        found = []
        for serving in activity.servings:
            day = run.day + serving.day_offset
            wanted = [m for m in self._ledger.problem.meals if m.role == serving.role and m.day == day]
            if wanted:
                portions = min(serving.portions_per_level * run.level, sum(meal.portions for meal in wanted))
                found.append(f"serves {portions:.3g} portions of {serving.role} on {self._day_name(day)}")
        return found

    def _clocks(self, run: Run) -> list[str]:
        found = []
        for part in run.taken:
            lot = self._ledger.lots.get(part.lot)
            if lot is not None and not lot.is_store and lot.last_day < self._ledger.problem.days:
                found.append(f"{name_of(part.item)} must be used by {self._day_name(lot.last_day)}")
            elif lot is None:
                key, _, item = made_by(part.lot)
                found.append(f"uses {name_of(item)} from {self._ledger.activities[key].label}")
        return found

    def _targets(self, run: Run, activity: Activity) -> list[str]:
        found = []
        wanted = {target.name: sum(units for units, _ in target.steps) for target in self._ledger.problem.targets}
        words = {target.name: target.words for target in self._ledger.problem.targets}
        for step in activity.targets:
            total = wanted.get(step.target, 0.0)
            if total <= 0:
                continue
            if words[step.target]:
                found.append(words[step.target])
                continue
            put_up = sum(
                s.amount_per_level * r.level
                for r in self._ledger.allocation.runs
                for s in self._ledger.activities[r.activity].targets
                if s.target == step.target
            )
            here = amount_text(min(total, step.amount_per_level * run.level), "g")
            if put_up >= total * 0.999:
                found.append(
                    f"helps to bring {name_of(step.target)} to its target: {amount_text(total, 'g')} were missing"
                )
            else:
                found.append(f"puts up {here} of the {amount_text(total, 'g')} of {name_of(step.target)} still wanted")
        return found

    def _room(self, run: Run) -> list[str]:
        found = []
        for name, by_day in came_back(self._ledger.problem, (run,)).items():
            pool, amount = self._ledger.pools.get(name), by_day[-1]
            if pool is not None and amount > LEAST_ROOM:
                text = amount_text(amount, pool.unit)
                found.append(
                    f"makes room in {pool.words}: {text}" if pool.unit else f"gives back {text} of {pool.words}"
                )
        return found

    def _limit(self, run: Run, activity: Activity) -> str:
        """What keeps the run from being larger: its food, its batch, or what it lacks."""
        used_up = [p.item for p in run.taken if p.lot in self._ledger.lots and self._ledger.left_g(p.lot) <= 1.0]
        if used_up:
            return f"uses up {' and '.join(dict.fromkeys(name_of(item) for item in used_up))}"
        if run.level >= activity.largest * 0.999:
            return "as much as may be done in one day"
        step = activity.level_step or 0.1 * run.level
        grams = sum(needed.grams_per_level for needed in activity.inputs[:1]) * step
        item = activity.inputs[0].items[0] if activity.inputs and activity.inputs[0].items else ""
        attempt = self._ledger.attempt(activity, run.day, grams, item) if grams > 0 else None
        if attempt is None or not attempt.shortages:
            return ""
        return f"not more, because {self._short(attempt.shortages[0])}"


def name_of(item: str) -> str:
    """An item or food without its state: "tomato, fresh" is tomato."""
    return item.rsplit(",", 1)[0]


def amount_text(amount: float, unit: str) -> str:
    """An amount with its unit, grams from 1000 up in kilograms, minutes from 180 up in hours, rounded for reading."""
    if unit == "g" and amount >= 1000:
        return f"{amount / 1000:.3g} kg"
    if unit == "min" and amount >= 180:
        return amount_text(amount / 60, "h")
    return f"{amount:.0f} {unit}".strip() if amount >= 10 or not unit else f"{amount:.2g} {unit}"
