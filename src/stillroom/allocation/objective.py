"""What the split is worth: food put to use and targets filled, less waste, work, stores used and meals missed."""

from __future__ import annotations

from typing import Any

from stillroom.allocation.constraints import supplied_kg
from stillroom.allocation.variables import G_PER_KG, Variables

NEVER = 10**6  # a day after everything


def add_objective(variables: Variables) -> None:
    """Maximises the worth of the whole."""
    from ortools.math_opt.python.mathopt import fast_sum

    terms = [*_runs(variables), *_targets(variables), *_meals(variables), *_stocks(variables)]
    variables.model.maximize(fast_sum(terms))


def _runs(variables: Variables) -> list[Any]:
    return [
        o.activity.value_per_level * variables.level[o.key] - o.activity.cost_per_run * variables.done[o.key]
        for o in variables.openings
    ]


def _targets(variables: Variables) -> list[Any]:
    steps = {target.name: target.steps for target in variables.problem.targets}
    return [steps[name][number][1] * filled for (name, number), filled in variables.reached.items()]


def _meals(variables: Variables) -> list[Any]:
    return [-variables.problem.meals[place].penalty * missed for place, missed in variables.unmet.items()]


def _stocks(variables: Variables) -> list[Any]:
    """A store costs what is taken from it; anything else costs what is left when its last day ends in the plan."""
    terms: list[Any] = []
    days = range(variables.problem.days)
    for stock in variables.supplies:
        used = [variables.used_kg[stock, day] for day in days if (stock, day) in variables.used_kg]
        price = stock.worth_per_g * G_PER_KG
        if stock.is_store:
            terms.extend(-price * grams for grams in used)
        elif stock.last_day < variables.problem.days:
            terms.extend(price * grams for grams in used)
            terms.append(-price * supplied_kg(variables, stock, NEVER))
    return terms
