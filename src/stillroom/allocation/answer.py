"""Reads the answer of the solver: whole steps, which gram comes from which lot, what is left, what it is worth."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Any

from stillroom.allocation.opening import Opening, loads_of
from stillroom.allocation.problem import Problem, Run, Taken, Tightness, made_by
from stillroom.allocation.returns import came_back
from stillroom.allocation.variables import G_PER_KG, Stock, Supply, Variables

LEAST_LEVEL = 1e-6
LEAST_G = 0.01
LEAST_PORTIONS = 1e-4

Value = Callable[[Any], float]


def runs_of(variables: Variables, value: Value) -> tuple[Run, ...]:
    """The runs that are done, with the lots they take from."""
    levels = {
        opening.key: _level(variables, opening, value)
        for opening in variables.openings
        if value(variables.done[opening.key]) > 0.5
    }
    levels = {key: level for key, level in levels.items() if level > LEAST_LEVEL}
    larder = _Larder(variables, levels, value)
    by_key = {opening.key: opening for opening in variables.openings}
    runs = []
    for key, level in sorted(levels.items(), key=lambda entry: (entry[0][1], entry[0][0])):
        opening = by_key[key]
        taken = larder.take(opening, level, value)
        runs.append(Run(opening.activity.key, opening.day, level, loads_of(opening.activity, level), taken))
    return tuple(runs)


def _level(variables: Variables, opening: Opening, value: Value) -> float:
    if opening.key in variables.steps:
        return round(value(variables.steps[opening.key])) * opening.activity.level_step
    return min(opening.largest, max(opening.smallest, value(variables.level[opening.key])))


class _Larder:
    """What is in each stock while the runs take from it, day by day."""

    def __init__(self, variables: Variables, levels: dict[tuple[str, int], float], value: Value) -> None:
        self._variables = variables
        self._left_g = {
            (stock, place): _amount_g(supply, levels)
            for stock, supplies in variables.supplies.items()
            for place, supply in enumerate(supplies)
        }
        self._share_g = {key: G_PER_KG * value(used) for key, used in variables.used_kg.items()}
        self._stocks: dict[str, list[Stock]] = defaultdict(list)
        for stock in variables.supplies:
            self._stocks[stock.item].append(stock)
        for stocks in self._stocks.values():
            stocks.sort(key=lambda stock: (stock.is_store, stock.last_day))

    def take(self, opening: Opening, level: float, value: Value) -> tuple[Taken, ...]:
        """The grams of a run, from the stocks the solver chose; rounding is taken from whatever is there."""
        found: dict[tuple[str, str], float] = defaultdict(float)
        for number, needed in enumerate(opening.activity.inputs):
            wanted = needed.grams_per_level * level
            if wanted <= 0:
                continue
            items = list(dict.fromkeys(needed.items))
            given = {item: max(0.0, value(self._variables.taken_kg[(*opening.key, number, item)])) for item in items}
            total = sum(given.values())
            for item in items:
                part = wanted * given[item] / total if total > 0 else wanted / len(items)
                self._draw(item, opening.day, part, found)
        return tuple(Taken(lot, item, grams) for (lot, item), grams in found.items() if grams > LEAST_G)

    def _draw(self, item: str, day: int, wanted: float, found: dict[tuple[str, str], float]) -> None:
        for is_by_share in (True, False):
            for stock in self._stocks[item]:
                if day not in self._variables.days_of(stock):
                    continue
                for place in self._oldest_first(stock, day):
                    most = min(wanted, self._left_g[stock, place])
                    if is_by_share:
                        most = min(most, self._share_g.get((stock, day), 0.0))
                    if most <= 0:
                        continue
                    self._left_g[stock, place] -= most
                    self._share_g[stock, day] = self._share_g.get((stock, day), 0.0) - most
                    found[self._variables.supplies[stock][place].lot, item] += most
                    wanted -= most
            if wanted <= LEAST_G:
                return

    def _oldest_first(self, stock: Stock, day: int) -> list[int]:
        supplies = self._variables.supplies[stock]
        there = [place for place, supply in enumerate(supplies) if supply.first_day <= day]
        return sorted(there, key=lambda place: (supplies[place].first_day, supplies[place].lot))


def _amount_g(supply: Supply, levels: dict[tuple[str, int], float]) -> float:
    if supply.opening is None:
        return supply.amount_g
    return supply.grams_per_level * levels.get(supply.opening.key, 0.0)


def spoiled_of(variables: Variables, runs: Sequence[Run]) -> tuple[tuple[str, float], ...]:
    """Grams left in each lot, not in store, whose last day ends in the plan."""
    levels = {(run.activity, run.day): run.level for run in runs}
    taken: dict[str, float] = defaultdict(float)
    for run in runs:
        for part in run.taken:
            taken[part.lot] += part.grams
    left = []
    for stock, supplies in variables.supplies.items():
        if not stock.is_store and stock.last_day < variables.problem.days:
            for supply in supplies:
                grams = _amount_g(supply, levels) - taken[supply.lot]
                if grams > LEAST_G:
                    left.append((supply.lot, grams))
    return tuple(sorted(left))


def unmet_of(problem: Problem, runs: Sequence[Run]) -> tuple[tuple[str, str, float], ...]:
    """Portions missing from each meal and role; what there is goes to the meals that cost most to miss."""
    served = served_portions(problem, runs)
    missing: dict[tuple[str, str], float] = {}
    for meal in sorted(problem.meals, key=lambda meal: -meal.penalty):
        given = min(meal.portions, served[meal.role, meal.day])
        served[meal.role, meal.day] -= given
        missing[meal.key, meal.role] = meal.portions - given
    return tuple(
        (meal.key, meal.role, missing[meal.key, meal.role])
        for meal in problem.meals
        if missing[meal.key, meal.role] > LEAST_PORTIONS
    )


def served_portions(problem: Problem, runs: Sequence[Run]) -> dict[tuple[str, int], float]:
    """Portions by (role, day)."""
    known = {activity.key: activity for activity in problem.activities}
    served: dict[tuple[str, int], float] = defaultdict(float)
    for run in runs:
        for serving in known[run.activity].servings:
            served[serving.role, run.day + serving.day_offset] += serving.portions_per_level * run.level
    return served


def tightness_of(problem: Problem, runs: Sequence[Run]) -> tuple[Tightness, ...]:
    """Use and offer of every capacity on every day and of every pool at its fullest."""
    known = {activity.key: activity for activity in problem.activities}
    use: dict[tuple[str, int], float] = defaultdict(float)
    put_in: dict[str, list[float]] = defaultdict(lambda: [0.0] * problem.days)
    for run in runs:
        for usage in known[run.activity].usages:
            amount = usage.fixed + usage.per_level * run.level + usage.per_load * run.loads
            use[usage.capacity, run.day + usage.day_offset] += amount
        for pool in known[run.activity].pools:
            put_in[pool.pool][run.day] += pool.per_level * run.level
    found = [
        Tightness(capacity.name, day, use[capacity.name, day], offered)
        for capacity in problem.capacities
        for day, offered in enumerate(capacity.per_day)
    ]
    back = came_back(problem, runs)
    for limited in problem.pools:
        inside = (sum(put_in[limited.name][: day + 1]) - back[limited.name][day] for day in range(problem.days))
        fullest = max(inside)
        found.append(Tightness(limited.name, None, fullest, limited.amount))
    return tuple(found)


def worth_of(
    problem: Problem,
    runs: Sequence[Run],
    spoiled: Sequence[tuple[str, float]],
    unmet: Sequence[tuple[str, str, float]],
) -> float:
    """The objective at the rounded levels."""
    known = {activity.key: activity for activity in problem.activities}
    lots = {lot.key: lot for lot in problem.lots}
    put_up: dict[str, float] = defaultdict(float)
    worth = 0.0
    for run in runs:
        activity = known[run.activity]
        worth += activity.value_per_level * run.level - activity.cost_per_run
        for step in activity.targets:
            put_up[step.target] += step.amount_per_level * run.level
        for part in run.taken:
            if part.lot in lots and lots[part.lot].is_store:
                worth -= lots[part.lot].worth_per_g * part.grams
    for target in problem.targets:
        for units, value in target.steps:
            filled = min(units, put_up[target.name])
            put_up[target.name] -= filled
            worth += value * filled
    penalties = {(meal.key, meal.role): meal.penalty for meal in problem.meals}
    worth -= sum(penalties[key, role] * portions for key, role, portions in unmet)
    return worth - sum(_worth_per_g(problem, lot) * grams for lot, grams in spoiled)


def _worth_per_g(problem: Problem, key: str) -> float:
    for lot in problem.lots:
        if lot.key == key:
            return lot.worth_per_g
    activity_key, _, item = made_by(key)
    activity = next(activity for activity in problem.activities if activity.key == activity_key)
    return next(output.worth_per_g for output in activity.outputs if output.item == item)
