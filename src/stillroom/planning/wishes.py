"""What the household wants: meals with one dish for each role, stock for the winter, nothing thrown away."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from stillroom.allocation.problem import Activity, Capacity, Input, MealNeed, Problem, Target
from stillroom.model.household import Household
from stillroom.model.wish import GIVE_AWAY
from stillroom.planning.items import FRESH, names_of

TARGET_BONUS = ((0.5, 0.6), (0.5, 0.3))  # (share of the target, bonus per worth); common practice, no source
GIVE_AWAY_FACTOR = 0.1
PORTIONS_A_DISH = 8


def role_at(role: str, meal: str) -> str:
    """A role at one of the meals of a day ("side at dinner")."""
    return f"{role} at {meal}"


def meal_needs(household: Household, start: date, days: int) -> tuple[MealNeed, ...]:
    """Every role of every meal within the plan."""
    needs: list[MealNeed] = []
    for meal in household.meals:
        day = (meal.day - start).days
        if 0 <= day < days:
            needs.extend(MealNeed(meal.key, day, role_at(role, meal.name), meal.portions) for role in meal.roles)
    return tuple(needs)


def course(role: str) -> str:
    """The capacity that holds how many dishes a role has at a meal."""
    return f"dishes as {role}"


def courses(meals: Iterable[MealNeed], days: int) -> tuple[Capacity, ...]:
    """One dish for each role of a meal, more only for a crowd: nobody eats two dinners to use up food."""
    places: dict[str, list[float]] = defaultdict(lambda: [0.0] * days)
    for need in meals:
        places[need.role][need.day] = max(1.0, math.ceil(need.portions / PORTIONS_A_DISH))
    return tuple(Capacity(course(role), tuple(per_day), course(role), "") for role, per_day in sorted(places.items()))


def targets(household: Household, stored_g: dict[str, float], worth: dict[str, float]) -> tuple[Target, ...]:
    """What is still missing from each target, worth most at first."""
    found = []
    for target in household.targets:
        missing = target.amount_g - sum(g for name, g in stored_g.items() if target.food in names_of(name))
        price = max((w for name, w in worth.items() if _counts(name, target.food)), default=0.0)
        if missing > 0 and price > 0:
            found.append(Target(target.food, tuple((share * missing, bonus * price) for share, bonus in TARGET_BONUS)))
    return tuple(found)


def wished(problem: Problem) -> frozenset[str]:
    """Keys of the activities that serve a wish of the cook."""
    wishes = {target.name for target in problem.targets if target.words}
    return frozenset(a.key for a in problem.activities if any(step.target in wishes for step in a.targets))


def _counts(item_name: str, target: str) -> bool:
    """Whether a fresh item counts towards a target."""
    name = item_name.removesuffix(f", {FRESH}")
    return name != item_name and target in names_of(name)


def give_away_key(name: str) -> str:
    """The key of giving an item away."""
    return f"give away/{name}"


def give_away(items: Iterable[str], worth: dict[str, float], days: int) -> tuple[Activity, ...]:
    """Better than the compost: hand it to neighbours, at a small part of its worth."""
    return tuple(
        Activity(
            key=give_away_key(name),
            label=f"Give away {name.rsplit(',', 1)[0]}",
            use=GIVE_AWAY,
            days=tuple(range(days)),
            smallest=0.25,
            largest=200.0,
            inputs=(Input((name,), 1000.0),),
            value_per_level=GIVE_AWAY_FACTOR * 1000 * worth[name],
            cost_per_run=0.2,
        )
        for name in sorted(set(items))
    )
