"""The rules of the split, each a function named as the rule of the kitchen it states."""

from __future__ import annotations

import math
from collections import defaultdict
from typing import Any

from stillroom.allocation.opening import SLACK, Opening
from stillroom.allocation.problem import Cut, GivesBack
from stillroom.allocation.variables import G_PER_KG, Stock, Variables

# A cut on a level without steps must move it by something worth trying again: a hair less fits no better.
CUT_STEP_SHARE = 0.02


def add_constraints(variables: Variables) -> None:
    """Every rule of the problem."""
    for opening in variables.openings:
        _a_run_is_within_its_batch_limits(variables, opening)
        _a_run_is_fed(variables, opening)
    _only_one_variant_a_day(variables)
    _not_on_too_many_days(variables)
    _food_is_used_once(variables)
    _a_day_offers_what_it_offers(variables)
    _a_jar_comes_back_when_it_is_empty(variables)
    _pools_never_run_dry(variables)
    _meals_are_served_or_missed(variables)
    _targets_fill_step_by_step(variables)
    for cut in variables.problem.cuts:
        _not_these_together(variables, cut)


def _a_run_is_within_its_batch_limits(variables: Variables, opening: Opening) -> None:
    model, key, activity = variables.model, opening.key, opening.activity
    done, level = variables.done[key], variables.level[key]
    if key in variables.steps:
        steps = variables.steps[key]
        model.add_linear_constraint(steps >= round(opening.smallest / activity.level_step) * done)
        model.add_linear_constraint(steps <= round(opening.largest / activity.level_step) * done)
    else:
        model.add_linear_constraint(level >= opening.smallest * done)
        model.add_linear_constraint(level <= opening.largest * done)
    if key in variables.loads:
        loads = variables.loads[key]
        model.add_linear_constraint(loads >= done)
        model.add_linear_constraint(loads <= opening.loads_most * done)
        if key in variables.steps:
            # Whole steps per load: 2 loads of 7 jars hold 14 jars whatever the rounding of 1/7 says.
            per_load = activity.level_per_load / activity.level_step
            near = round(per_load)
            per_load = near if abs(per_load - near) < SLACK * max(1, near) else per_load
            model.add_linear_constraint(variables.steps[key] <= per_load * loads)
        else:
            model.add_linear_constraint(level <= activity.level_per_load * loads)


def _a_run_is_fed(variables: Variables, opening: Opening) -> None:
    """Each input gets its grams, from any of its items."""
    from ortools.math_opt.python.mathopt import fast_sum

    for number, needed in enumerate(opening.activity.inputs):
        if needed.grams_per_level > 0:
            taken = [variables.taken_kg[(*opening.key, number, item)] for item in dict.fromkeys(needed.items)]
            level = variables.level[opening.key]
            variables.model.add_linear_constraint(fast_sum(taken) == needed.grams_per_level / G_PER_KG * level)


def _only_one_variant_a_day(variables: Variables) -> None:
    together: dict[tuple[str, int], list[Any]] = defaultdict(list)
    for opening in variables.openings:
        if opening.activity.family:
            together[opening.activity.family, opening.day].append(variables.done[opening.key])
    _at_most(variables, together, dict.fromkeys(together, 1))


def _not_on_too_many_days(variables: Variables) -> None:
    families: dict[str, list[Opening]] = defaultdict(list)
    for opening in variables.openings:
        families[opening.activity.family or opening.activity.key].append(opening)
    for name, family in families.items():
        most, within, seen = family[0].activity.at_most, family[0].activity.within_days, -1
        for first in sorted({opening.day for opening in family}):
            span = [opening for opening in family if first <= opening.day < first + within]
            last = max(opening.day for opening in span)
            if last > seen:  # else all its days were in the span before
                _at_most(variables, {name: [variables.done[opening.key] for opening in span]}, {name: most})
            seen = last


def _at_most(variables: Variables, together: dict[Any, list[Any]], most: dict[Any, int]) -> None:
    from ortools.math_opt.python.mathopt import fast_sum

    for key, chosen in together.items():
        if len(chosen) > most[key]:
            variables.model.add_linear_constraint(fast_sum(chosen) <= most[key])


def _food_is_used_once(variables: Variables) -> None:
    """Of each stock, no more is used up to any day than has come in by then; every gram taken is a gram used."""
    from ortools.math_opt.python.mathopt import fast_sum

    model = variables.model
    taken: dict[tuple[str, int], list[Any]] = defaultdict(list)
    for (_, day, _, item), grams in variables.taken_kg.items():
        taken[item, day].append(grams)
    used: dict[tuple[str, int], list[Any]] = defaultdict(list)
    for (stock, day), grams in variables.used_kg.items():
        used[stock.item, day].append(grams)
    for key, kilograms in taken.items():
        model.add_linear_constraint(fast_sum(kilograms) == fast_sum(used.get(key, [])))
    for stock, supplies in variables.supplies.items():
        days = [day for day in variables.days_of(stock) if (stock, day) in variables.used_kg]
        for day, following in zip(days, (*days[1:], variables.problem.days), strict=False):
            # Until more comes in, the last day speaks for the days before it.
            if day == days[-1] or any(day < supply.first_day <= following for supply in supplies):
                so_far = fast_sum([variables.used_kg[stock, earlier] for earlier in days if earlier <= day])
                model.add_linear_constraint(so_far <= supplied_kg(variables, stock, day))


def supplied_kg(variables: Variables, stock: Stock, until_day: int) -> Any:
    """Kilograms that have come into a stock by the end of a day."""
    lots_g = sum(s.amount_g for s in variables.supplies[stock] if s.first_day <= until_day)
    return made_kg(variables, stock, until_day) + lots_g / G_PER_KG


def made_kg(variables: Variables, stock: Stock, until_day: int) -> Any:
    """Kilograms that runs have put into a stock by the end of a day."""
    from ortools.math_opt.python.mathopt import fast_sum

    return fast_sum(
        [
            supply.grams_per_level / G_PER_KG * variables.level[supply.opening.key]
            for supply in variables.supplies[stock]
            if supply.opening is not None and supply.first_day <= until_day
        ]
    )


def _a_day_offers_what_it_offers(variables: Variables) -> None:
    """Minutes of hands, trays, burners, canners, and what the freezer freezes in a day."""
    from ortools.math_opt.python.mathopt import fast_sum

    use: dict[tuple[str, int], list[Any]] = defaultdict(list)
    for opening in variables.openings:
        key = opening.key
        loads = variables.loads.get(key, variables.done[key])
        for usage in opening.activity.usages:
            amount = usage.fixed * variables.done[key] + usage.per_level * variables.level[key]
            use[usage.capacity, opening.day + usage.day_offset].append(amount + usage.per_load * loads)
    for capacity in variables.problem.capacities:
        for day, offered in enumerate(capacity.per_day):
            if (capacity.name, day) in use:
                scale = max(offered, 1.0)
                total = fast_sum(use.pop((capacity.name, day)))
                variables.model.add_linear_constraint(total * (1 / scale) <= offered / scale)
    for amounts in use.values():  # nothing of that name is there
        variables.model.add_linear_constraint(fast_sum(amounts) <= 0)


def _a_jar_comes_back_when_it_is_empty(variables: Variables) -> None:
    """Pieces emptied by a day are whole ones of the grams used by then."""
    from ortools.math_opt.python.mathopt import fast_sum

    used: dict[tuple[str, GivesBack], list[tuple[int, Any]]] = defaultdict(list)
    for (stock, day), used_kg in variables.used_kg.items():
        for back in stock.gives_back:
            used[stock.item, back].append((day, used_kg))
    for (item, back, day), pieces in variables.emptied.items():
        so_far = fast_sum([used_kg for on, used_kg in used[item, back] if on <= day])
        variables.model.add_linear_constraint(pieces <= G_PER_KG / back.grams * so_far)


def _pools_never_run_dry(variables: Variables) -> None:
    """On each day, what was put in so far less what came back so far fits."""
    from ortools.math_opt.python.mathopt import fast_sum

    days = range(variables.problem.days)
    put_in: dict[str, list[list[Any]]] = defaultdict(lambda: [[] for _ in days])
    for opening in variables.openings:
        for use in opening.activity.pools:
            put_in[use.pool][opening.day].append(use.per_level * variables.level[opening.key])
    came_back = _came_back(variables)
    amounts = {pool.name: pool.amount for pool in variables.problem.pools}
    for name in dict.fromkeys([*put_in, *came_back]):
        for day in days if name in came_back else days[-1:]:
            terms = [term for earlier in put_in[name][: day + 1] for term in earlier]
            if terms or name in came_back:
                terms.extend(came_back[name][day] if name in came_back else ())
                variables.model.add_linear_constraint(fast_sum(terms) <= amounts.get(name, 0.0))


def _came_back(variables: Variables) -> dict[str, list[list[Any]]]:
    """Less than nothing: the terms of what has come back into each pool by the end of each day."""
    days = variables.problem.days
    found: dict[str, list[list[Any]]] = defaultdict(lambda: [[] for _ in range(days)])
    for (stock, day), used_kg in variables.used_kg.items():
        for back in stock.gives_back:
            if not back.is_whole:
                for later in range(day + back.after_days, days):
                    found[back.pool][later].append(-back.amount * G_PER_KG / back.grams * used_kg)
    last: dict[tuple[str, GivesBack], list[int]] = defaultdict(list)
    for item, back, day in variables.emptied:
        last[item, back].append(day)
    for (item, back), emptied_on in last.items():
        for day in range(days):
            known = [on for on in emptied_on if on + back.after_days <= day]
            if known:
                found[back.pool][day].append(-back.amount * variables.emptied[item, back, max(known)])
    return found


def _meals_are_served_or_missed(variables: Variables) -> None:
    """Portions in a role on a day go to any of that day's meals that want the role."""
    from ortools.math_opt.python.mathopt import fast_sum

    served: dict[tuple[str, int], list[Any]] = defaultdict(list)
    for opening in variables.openings:
        for serving in opening.activity.servings:
            amount = serving.portions_per_level * variables.level[opening.key]
            served[serving.role, opening.day + serving.day_offset].append(amount)
    wanted: dict[tuple[str, int], list[int]] = defaultdict(list)
    for place in variables.unmet:
        meal = variables.problem.meals[place]
        wanted[meal.role, meal.day].append(place)
    for key, places in wanted.items():
        portions = sum(variables.problem.meals[place].portions for place in places)
        missed = fast_sum([variables.unmet[place] for place in places])
        variables.model.add_linear_constraint(missed + fast_sum(served.get(key, [])) >= portions)


def _targets_fill_step_by_step(variables: Variables) -> None:
    """Steps are worth less and less, so the solver fills them in order by itself."""
    from ortools.math_opt.python.mathopt import fast_sum

    put_up: dict[str, list[Any]] = defaultdict(list)
    for opening in variables.openings:
        for step in opening.activity.targets:
            put_up[step.target].append(step.amount_per_level * variables.level[opening.key])
    for target in variables.problem.targets:
        reached = [variables.reached[target.name, number] for number in range(len(target.steps))]
        variables.model.add_linear_constraint(fast_sum(reached) <= fast_sum(put_up.get(target.name, [])))


def _not_these_together(variables: Variables, cut: Cut) -> None:
    """At least one of the choices stays below its level."""
    from ortools.math_opt.python.mathopt import fast_sum

    known = {opening.key: opening for opening in variables.openings}
    again = []
    for activity, day, level in cut.choices:
        opening = known.get((activity, day))
        if opening is None or level > opening.largest * (1 + SLACK):
            return
        below = _highest_below(opening, level)
        if below < opening.smallest:
            again.append(variables.done[opening.key])
            continue
        at_least = variables.model.add_binary_variable()
        room = opening.largest - below
        variables.model.add_linear_constraint(variables.level[opening.key] <= below + room * at_least)
        again.append(at_least)
    if again:
        variables.model.add_linear_constraint(fast_sum(again) <= len(again) - 1)


def _highest_below(opening: Opening, level: float) -> float:
    step = opening.activity.level_step
    if step > 0:
        return (math.ceil(level / step - SLACK) - 1) * step
    return level * (1 - CUT_STEP_SHARE)
