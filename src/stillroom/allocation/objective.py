"""What the split is worth: food put to use and targets filled, less waste, work, stores used and meals missed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stillroom.allocation.constraints import made_kg
from stillroom.allocation.problem import Problem
from stillroom.allocation.variables import G_PER_KG, Variables

NEVER = 10**6  # a day after everything


def add_objective(variables: Variables) -> None:
    """Maximises the worth of the whole, less what no choice changes: see `unavoidable`.

    Without those large constants the solver's own rules of thumb, which go by shares of the objective, do their work.
    """
    from ortools.math_opt.python.mathopt import fast_sum

    terms = [*_runs(variables), *_targets(variables), *_meals(variables), *_stocks(variables)]
    variables.model.maximize(fast_sum(terms))


def unavoidable(variables: Variables) -> float:
    """The worth that is lost whatever is done: meals nobody could cook for; and arrivals, until they are used."""
    lost = sum(
        meal.penalty * meal.portions
        for place, meal in enumerate(variables.problem.meals)
        if place not in variables.unmet
    )
    return doing_nothing(variables.problem) - lost


def doing_nothing(problem: Problem) -> float:
    """The worth of the week when nothing is done, missed meals not counted: what comes in spoils."""
    return -sum(
        lot.worth_per_g * lot.amount_g for lot in problem.lots if not lot.is_store and lot.last_day < problem.days
    )


def penalties(problem: Problem, missed: Iterable[tuple[str, str, float]]) -> float:
    """What missed portions cost."""
    price = {(meal.key, meal.role): meal.penalty for meal in problem.meals}
    return sum(price[key, role] * portions for key, role, portions in missed)


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
            terms.append(-price * made_kg(variables, stock, NEVER))
    return terms
