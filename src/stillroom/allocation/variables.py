"""The variables of the split. Food flows in kilograms, so that numbers of the model are of one size."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stillroom.allocation.opening import Opening, circular, openings, window
from stillroom.allocation.problem import GivesBack, Problem, lot_made

if TYPE_CHECKING:
    from ortools.math_opt.python.mathopt import LinearSum, Model, Variable

G_PER_KG = 1000.0


@dataclass(frozen=True, slots=True)
class Stock:
    """Lots that are the same to the split: same item, same last day, same worth, same place.

    Lots that outlast the horizon are all alike, so they share a last day one behind it.
    """

    item: str
    last_day: int
    worth_per_g: float
    is_store: bool = False
    gives_back: tuple[GivesBack, ...] = ()


@dataclass(frozen=True, slots=True)
class Supply:
    """What comes into a stock on a day: a lot of the problem, or the output of a run."""

    lot: str
    first_day: int
    amount_g: float = 0.0  # of a lot
    opening: Opening | None = None
    grams_per_level: float = 0.0  # of an output


@dataclass(slots=True)
class Variables:
    """Everything the solver decides, by name."""

    model: Model
    problem: Problem
    openings: tuple[Opening, ...]
    done: dict[tuple[str, int], Variable] = field(default_factory=dict)
    level: dict[tuple[str, int], LinearSum | Variable] = field(default_factory=dict)
    steps: dict[tuple[str, int], Variable] = field(default_factory=dict)
    loads: dict[tuple[str, int], Variable] = field(default_factory=dict)
    taken_kg: dict[tuple[str, int, int, str], Variable] = field(default_factory=dict)  # run, input, item
    supplies: dict[Stock, list[Supply]] = field(default_factory=dict)
    used_kg: dict[tuple[Stock, int], Variable] = field(default_factory=dict)
    emptied: dict[tuple[str, GivesBack, int], Variable] = field(
        default_factory=dict
    )  # whole pieces by the end of a day
    unmet: dict[int, Variable] = field(default_factory=dict)  # by place in problem.meals; only what can be cooked
    reached: dict[tuple[str, int], Variable] = field(default_factory=dict)  # target, step

    def days_of(self, stock: Stock) -> range:
        """Days on which something of the stock may be used."""
        first = min(supply.first_day for supply in self.supplies[stock])
        return range(max(0, first), min(stock.last_day + 1, self.problem.days))


def make_variables(problem: Problem, model: Model) -> Variables:
    """All variables with their bounds."""
    variables = Variables(model, problem, openings(problem))
    for opening in variables.openings:
        _run(variables, opening)
    _stocks(variables)
    wanted = {(item, day) for _, day, _, item in variables.taken_kg}
    for stock in list(variables.supplies):
        for day in variables.days_of(stock):
            if (stock.item, day) in wanted:
                variables.used_kg[stock, day] = model.add_variable(lb=0.0)
    for stock, day in variables.used_kg:
        for back in stock.gives_back:
            if back.is_whole and (stock.item, back, day) not in variables.emptied:
                variables.emptied[stock.item, back, day] = model.add_integer_variable(lb=0)
    cooked = {
        (serving.role, opening.day + serving.day_offset)
        for opening in variables.openings
        for serving in opening.activity.servings
    }
    for place, meal in enumerate(problem.meals):
        if (meal.role, meal.day) in cooked:
            variables.unmet[place] = model.add_variable(lb=0.0, ub=meal.portions)
    for target in problem.targets:
        for number, (units, _) in enumerate(target.steps):
            variables.reached[target.name, number] = model.add_variable(lb=0.0, ub=units)
    return variables


def _run(variables: Variables, opening: Opening) -> None:
    """Done or not, the level (whole steps where there are steps), whole loads where loads cost something."""
    model, activity, key = variables.model, opening.activity, opening.key
    variables.done[key] = model.add_binary_variable()
    if activity.level_step > 0:
        most = round(opening.largest / activity.level_step)
        variables.steps[key] = model.add_integer_variable(lb=0, ub=most)
        variables.level[key] = activity.level_step * variables.steps[key]
    else:
        variables.level[key] = model.add_variable(lb=0.0, ub=opening.largest)
    if opening.loads_most > 1 and any(usage.per_load > 0 for usage in activity.usages):
        variables.loads[key] = model.add_integer_variable(lb=0, ub=opening.loads_most)
    for number, needed in enumerate(activity.inputs):
        if needed.grams_per_level > 0:
            for item in dict.fromkeys(needed.items):
                most_kg = opening.largest * needed.grams_per_level / G_PER_KG
                variables.taken_kg[(*key, number, item)] = model.add_variable(lb=0.0, ub=most_kg)


def _stocks(variables: Variables) -> None:
    """Sorts lots and outputs into stocks."""
    problem = variables.problem
    supplies: dict[Stock, list[Supply]] = defaultdict(list)
    for lot in problem.lots:
        stock = Stock(lot.item, min(lot.last_day, problem.days), lot.worth_per_g, lot.is_store, lot.gives_back)
        supplies[stock].append(Supply(lot.key, max(lot.first_day, 0), amount_g=lot.amount_g))
    rings = circular(problem.activities)
    for opening in variables.openings:
        activity = opening.activity
        for output in activity.outputs:
            first, last = window(output, opening.day, delayed=activity.key in rings)
            stock = Stock(output.item, min(last, problem.days), output.worth_per_g, gives_back=output.gives_back)
            made = lot_made(activity.key, opening.day, output.item)
            supplies[stock].append(Supply(made, first, opening=opening, grams_per_level=output.grams_per_level))
    variables.supplies.update(supplies)
