"""Recipes, kitchen and meals as activities of the split."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from stillroom.allocation.problem import (
    Activity,
    Capacity,
    Input,
    MealNeed,
    Output,
    PoolUse,
    Serving,
    Target,
    TargetStep,
    Usage,
)
from stillroom.model.household import Household, Place
from stillroom.model.recipe import Recipe, Step, Use
from stillroom.model.work import Attention
from stillroom.planning.items import FRESH, input_worth, is_kept_for_use, item, items_of, names_of
from stillroom.planning.variants import Variant, served_role

# Common practice, no source: what a unit of worth is multiplied with when food is put by in this way. Above the
# household's target only this counts; below it the target adds its bonus.
KEEP_FACTOR = {
    Use.JAR: 0.45,
    Use.FREEZE: 0.40,
    Use.DRY: 0.40,
    Use.CURE: 0.45,
    Use.FERMENT: 0.45,
    Use.KEEP_FRESH: 0.35,
    Use.STOCK: 1.50,
    Use.BREAK_DOWN: 0.0,
    Use.EAT_NOW: 0.50,
    Use.BAKE: 0.0,
}
TARGET_BONUS = ((0.5, 0.6), (0.5, 0.3))  # (share of the target, bonus per worth)
GIVE_AWAY = "give away"  # a use that needs no recipe
GIVE_AWAY_FACTOR = 0.1
HANDS_PRICE_PER_MIN = 0.03  # in the currency of worth
KEPT = (Use.JAR, Use.FREEZE, Use.DRY, Use.CURE, Use.FERMENT, Use.KEEP_FRESH, Use.STOCK)
BATCHES_A_DAY = 3
PORTIONS_A_DISH = 8
AT_MOST_A_WEEK = {"main": 2, "side": 2, "bread": 1}  # variety: the same dish on so many days


@dataclass(frozen=True, slots=True)
class _Levels:
    """Smallest run, largest batch, largest run of a day, and the step between levels (one jar)."""

    smallest: float
    per_batch: float
    largest: float
    step: float


def activities(
    variants: Sequence[Variant], household: Household, meals: Sequence[MealNeed], worth: dict[str, float], days: int
) -> tuple[Activity, ...]:
    """One activity per variant that can be fed and fits the days, and giving away for every perishable item."""
    disliked, wanted = set(household.dislikes), [target.food for target in household.targets]
    made = []
    for variant in variants:
        recipe = variant.recipe
        source = input_worth(recipe, worth)
        if source is None or disliked.intersection(food for i in recipe.ingredients for food in i.foods[:1]):
            continue
        activity = _activity(variant, source, worth, meals, days, wanted)
        if activity.days and activity.largest > 0:
            made.append(activity)
    return tuple(made)


def give_away(items: Iterable[str], worth: dict[str, float], days: int) -> tuple[Activity, ...]:
    """Better than the compost: hand it to neighbours, at a small part of its worth."""
    return tuple(
        Activity(
            key=f"give away/{name}",
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


def targets(household: Household, stored_g: dict[str, float], worth: dict[str, float]) -> tuple[Target, ...]:
    """What is still missing from each target, worth most at first."""
    found = []
    for target in household.targets:
        missing = target.amount_g - sum(g for name, g in stored_g.items() if target.food in names_of(name))
        price = max((w for name, w in worth.items() if _counts(name, target.food)), default=0.0)
        if missing > 0 and price > 0:
            found.append(Target(target.food, tuple((share * missing, bonus * price) for share, bonus in TARGET_BONUS)))
    return tuple(found)


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


def _activity(
    variant: Variant,
    source: float,
    worth: dict[str, float],
    meals: Sequence[MealNeed],
    days: int,
    wanted: Collection[str],
) -> Activity:
    recipe = variant.recipe
    levels = _levels(variant, meals)
    mains = [i for i in recipe.ingredients if i.main and not i.optional]
    role = served_role(recipe)
    hands = sum(step.fixed_min for step in recipe.steps if step.attention is Attention.HANDS)
    return Activity(
        key=variant.key,
        label=recipe.name,
        use=recipe.use.value,
        days=_days(variant, meals, days),
        smallest=levels.smallest,
        largest=levels.largest,
        inputs=tuple(Input(tuple(n for n in items_of(i) if n in worth), i.mass_g) for i in mains),
        outputs=_outputs(recipe, worth),
        usages=(*usages(variant), *_courses(variant)),
        pools=_pools(variant),
        servings=tuple(
            Serving(role_at(product.meal_role, variant.meal), product.portions_per_unit, product.ready_day)
            for product in recipe.products
            if product.meal_role and product.portions_per_unit > 0
        ),
        targets=_target_steps(recipe, wanted),
        value_per_level=KEEP_FACTOR[recipe.use] * source * recipe.main_g
        - HANDS_PRICE_PER_MIN * sum(s.per_unit_min for s in recipe.steps if s.attention is Attention.HANDS),
        cost_per_run=HANDS_PRICE_PER_MIN * hands,
        level_step=levels.step,
        level_per_load=levels.per_batch,
        at_most=max(1, round(AT_MOST_A_WEEK[role] * days / 7)) if role in AT_MOST_A_WEEK else 99,
        family=recipe.key,
    )


def _levels(variant: Variant, meals: Sequence[MealNeed]) -> _Levels:
    """Whole jars where there are jars; a batch is at most what the recipe allows and one canner load."""
    recipe, work = variant.recipe, variant.jar_work
    smallest, per_batch, step = recipe.smallest, recipe.largest, 0.0
    if work is not None:
        step = 1 / work.jars_per_unit
        smallest = math.ceil(smallest / step - 1e-9) * step
        per_batch = min(work.jars_per_load, math.floor(per_batch / step + 1e-9)) * step
    if recipe.use in (Use.EAT_NOW, Use.BAKE):
        wanted = max((need.portions for need in meals), default=0.0)
        per_unit = max((product.portions_per_unit for product in recipe.products), default=0.0)
        if per_unit > 0:
            per_batch = min(per_batch, max(smallest, 1.25 * wanted / per_unit))
    # Two even batches must not fall below the smallest batch of the recipe.
    many = recipe.use in KEPT and smallest <= per_batch / 2
    return _Levels(smallest, per_batch, per_batch * (BATCHES_A_DAY if many else 1), step)


def _days(variant: Variant, meals: Sequence[MealNeed], days: int) -> tuple[int, ...]:
    """Days on which all its steps lie within the plan and, for a dish, somebody wants that role."""
    recipe = variant.recipe
    offsets = [step.day for step in recipe.steps]
    wanted = {need.day for need in meals if need.role == role_at(served_role(recipe), variant.meal)}
    ready = max((product.ready_day for product in recipe.products), default=0)
    return tuple(
        day
        for day in range(days)
        if day + min(offsets) >= 0
        and day + max(offsets) < days
        and (recipe.use not in (Use.EAT_NOW, Use.BAKE) or day + ready in wanted)
    )


def _outputs(recipe: Recipe, worth: dict[str, float]) -> tuple[Output, ...]:
    """What it makes for other recipes; two products of one food count as one, with the shorter clock."""
    made: dict[str, Output] = {}
    for product in recipe.products:
        if not is_kept_for_use(product):
            continue
        name = item(product.food or "", "fresh")
        before = made.get(name, Output(name, 0.0, product.ready_day, product.keeps_days, worth.get(name, 0.0)))
        made[name] = replace(
            before,
            grams_per_level=before.grams_per_level + product.mass_g_per_unit,
            ready_after=max(before.ready_after, product.ready_day),
            keeps_days=min(before.keeps_days, product.keeps_days),
        )
    return tuple(made.values())


def _counts(item_name: str, target: str) -> bool:
    """Whether a fresh item counts towards a target."""
    name = item_name.removesuffix(f", {FRESH}")
    return name != item_name and target in names_of(name)


def _target_steps(recipe: Recipe, wanted: Collection[str]) -> tuple[TargetStep, ...]:
    if recipe.use not in KEPT:
        return ()
    mains = [i for i in recipe.ingredients if i.main and not i.optional]
    return tuple(
        TargetStep(target, i.mass_g) for i in mains for target in wanted if all(target in names_of(f) for f in i.foods)
    )


def usages(variant: Variant) -> tuple[Usage, ...]:
    """Minutes of hands, burners, oven trays, canner and dryer, and grams to freeze, by day offset."""
    total: dict[tuple[str, int], list[float]] = defaultdict(lambda: [0.0, 0.0])
    for step in variant.recipe.steps:
        for capacity, (per_level, per_batch) in _step_usage(step, variant).items():
            total[capacity, step.day][0] += per_level
            total[capacity, step.day][1] += per_batch
    frozen = sum(p.mass_g_per_unit for p in variant.recipe.products if p.place is Place.FREEZER)
    if frozen:
        total["freezing", 0][0] += frozen
    return tuple(
        Usage(name, day, per_level=per_level, per_load=per_batch)
        for (name, day), (per_level, per_batch) in sorted(total.items())
    )


def _courses(variant: Variant) -> tuple[Usage, ...]:
    """A dish takes one of the places that its role has at its meal."""
    return tuple(
        Usage(course(role_at(product.meal_role, variant.meal)), product.ready_day, fixed=1.0)
        for product in variant.recipe.products
        if product.meal_role and variant.meal
    )


def course(role: str) -> str:
    """The capacity that holds how many dishes a role has at a meal."""
    return f"dishes as {role}"


def courses(meals: Iterable[MealNeed], days: int) -> tuple[Capacity, ...]:
    """One dish for each role of a meal, more only for a crowd: nobody eats two dinners to use up food."""
    places: dict[str, list[float]] = defaultdict(lambda: [0.0] * days)
    for need in meals:
        places[need.role][need.day] = max(1.0, math.ceil(need.portions / PORTIONS_A_DISH))
    return tuple(Capacity(course(role), tuple(per_day), course(role), "") for role, per_day in sorted(places.items()))


def _step_usage(step: Step, variant: Variant) -> dict[str, tuple[float, float]]:
    """(per level, per batch) of every capacity; tray-minutes grow with both minutes and trays."""
    work = variant.jar_work
    if step.is_canner_cycle and work is not None:
        return {
            work.canner.name: (0.0, float(work.cycle.total_min)),
            "burner": (0.0, float(work.cycle.attended_min)),
        }
    use: dict[str, tuple[float, float]] = {}
    if step.attention is Attention.HANDS:
        use["hands"] = (step.per_unit_min, step.fixed_min)
    for need in step.needs:
        if need.equipment == "canner" and work is not None:
            use[work.canner.name] = (step.per_unit_min, step.fixed_min)
        elif need.equipment in ("burner", "oven", "dryer"):
            per_level = step.per_unit_min * need.amount + step.fixed_min * need.per_unit
            use[need.equipment] = (per_level, step.fixed_min * need.amount)
    return use


def _pools(variant: Variant) -> tuple[PoolUse, ...]:
    pools = []
    if variant.jar_work is not None:
        work = variant.jar_work
        pools.append(PoolUse(f"jars {work.jar.name}", work.jars_per_unit))
        pools.append(PoolUse(f"lids {work.jar.name}", work.jars_per_unit))
    litres = sum(
        p.mass_g_per_unit / 1000 * p.volume_l_per_kg for p in variant.recipe.products if p.place is Place.FREEZER
    )
    if litres:
        pools.append(PoolUse("freezer", litres))
    return tuple(pools)
