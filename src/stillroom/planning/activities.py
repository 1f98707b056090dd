"""Recipes, kitchen and meals as activities of the split."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.allocation.problem import (
    Activity,
    Input,
    MealNeed,
    Output,
    Serving,
    TargetStep,
)
from stillroom.model.household import Household
from stillroom.model.recipe import Ingredient, Recipe, Use
from stillroom.model.work import Attention
from stillroom.planning.demand import places_at_meals, pools, usages
from stillroom.planning.empties import of_product
from stillroom.planning.items import FRESH, Store, input_worth, item_made, items_of, names_of
from stillroom.planning.variants import Variant, served_role
from stillroom.planning.wishes import role_at

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
HANDS_PRICE_PER_MIN = 0.03  # in the currency of worth
KEPT = (Use.JAR, Use.FREEZE, Use.DRY, Use.CURE, Use.FERMENT, Use.KEEP_FRESH, Use.STOCK)
BATCHES_A_DAY = 3
MORE_THAN_WANTED = 1.1  # a dish may be so much more than the meal wants, so that a piece of meat is used up
SURELY_IN_STORE_DAYS = 2  # what is put by is not eaten before, so that nothing is jarred only to be opened at once
AT_MOST_A_WEEK = {"main": 2, "side": 2, "bread": 1}  # variety: the same dish on so many of any seven days
WEEK = 7


@dataclass(frozen=True, slots=True)
class _Levels:
    """Smallest run, largest batch, largest run of a day, and the step between levels (one jar)."""

    smallest: float
    per_batch: float
    largest: float
    step: float


def activities(
    variants: Sequence[Variant], household: Household, meals: Sequence[MealNeed], store: Store, days: int
) -> tuple[Activity, ...]:
    """One activity per variant that can be fed and fits the days."""
    disliked, wanted = set(household.dislikes), [target.food for target in household.targets]
    made = []
    for variant in variants:
        recipe = variant.recipe
        source = input_worth(recipe, store.worth)
        if source is None or disliked.intersection(food for i in recipe.ingredients for food in i.foods[:1]):
            continue
        activity = _activity(variant, source, store, meals, days, wanted)
        is_possible = activity.largest >= activity.smallest and all(needed.items for needed in activity.inputs)
        if activity.days and is_possible and all(output.keeps_days >= 0 for output in activity.outputs):
            made.append(activity)
    return tuple(made)


def _activity(
    variant: Variant,
    source: float,
    store: Store,
    meals: Sequence[MealNeed],
    days: int,
    wanted: Collection[str],
) -> Activity:
    recipe = variant.recipe
    levels = _levels(variant, meals, store.piece_g)
    mains = [i for i in recipe.ingredients if i.main and not i.optional]
    role = served_role(recipe)
    taken = (*usages(variant), *places_at_meals(variant))
    last = max((usage.day_offset for usage in taken), default=0)
    hands = sum(step.fixed_min for step in recipe.steps if step.attention is Attention.HANDS)
    return Activity(
        key=variant.key,
        label=recipe.name,
        use=recipe.use.value,
        days=tuple(
            day for day in _days(variant, meals, days) if day + last < days and _in_date(variant, day, store.windows)
        ),
        smallest=levels.smallest,
        largest=levels.largest,
        inputs=tuple(Input(_at_hand(variant, i, store), i.mass_g) for i in mains),
        outputs=_outputs(variant, store.worth),
        usages=taken,
        pools=pools(variant),
        servings=tuple(
            Serving(
                role_at(product.meal_role, variant.meal),
                product.portions_per_unit,
                product.ready_day + variant.lead_days,
            )
            for product in recipe.products
            if product.meal_role and product.portions_per_unit > 0
        ),
        targets=_target_steps(recipe, wanted),
        value_per_level=KEEP_FACTOR[recipe.use] * source * _fresh_g(recipe)
        - HANDS_PRICE_PER_MIN * sum(s.per_unit_min for s in recipe.steps if s.attention is Attention.HANDS),
        cost_per_run=HANDS_PRICE_PER_MIN * hands,
        level_step=levels.step,
        level_per_load=levels.per_batch,
        at_most=max(1, round(AT_MOST_A_WEEK[role] * min(days, WEEK) / WEEK)) if role in AT_MOST_A_WEEK else 99,
        within_days=WEEK,
        family=recipe.key,
    )


def _levels(variant: Variant, meals: Sequence[MealNeed], piece_g: Mapping[str, float]) -> _Levels:
    """Whole jars and whole birds; a batch is at most what the recipe allows and one canner load."""
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
            per_batch = min(per_batch, max(smallest, MORE_THAN_WANTED * wanted / per_unit))
    if work is None and (step := _piece_step(recipe, piece_g)) > 0:
        smallest = max(1, math.ceil(smallest / step - 1e-6)) * step
        per_batch = max(smallest, math.floor(per_batch / step + 1e-6) * step)
    # Two even batches must not fall below the smallest batch of the recipe.
    many = recipe.use in KEPT and smallest <= per_batch / 2
    return _Levels(smallest, per_batch, per_batch * (BATCHES_A_DAY if many else 1), step)


def _at_hand(variant: Variant, ingredient: Ingredient, store: Store) -> tuple[str, ...]:
    """Items that will do; where work begins the evening before, only what has come in, whose dates are known."""
    known: Collection[str] = store.windows if variant.lead_days else store.worth
    return tuple(name for name in items_of(ingredient) if name in known and name in store.worth)


def _in_date(variant: Variant, day: int, windows: Mapping[str, tuple[tuple[int, int], ...]]) -> bool:
    """Whether food begun on a day is still in date on the day of the recipe, when it is cooked, frozen or cured."""
    if not variant.lead_days:
        return True
    names = {name for i in variant.recipe.ingredients if i.main for name in items_of(i)}
    spans = [span for name in names for span in windows.get(name, ())]
    return all(day + variant.lead_days <= last for first, last in spans if first <= day <= last)


def _piece_step(recipe: Recipe, piece_g: Mapping[str, float]) -> float:
    """Units in one piece of its only main ingredient, where that comes in pieces; else 0."""
    mains = [i for i in recipe.ingredients if i.main and not i.optional]
    sizes = {piece_g[name] for i in mains for name in items_of(i) if name in piece_g}
    return sizes.pop() / mains[0].mass_g if len(mains) == 1 and len(sizes) == 1 else 0.0


def _days(variant: Variant, meals: Sequence[MealNeed], days: int) -> tuple[int, ...]:
    """Days of its first step, so that all steps lie within the plan and, for a dish, somebody wants that role."""
    recipe, lead = variant.recipe, variant.lead_days
    longest = lead + max(step.day for step in recipe.steps)
    wanted = {need.day for need in meals if need.role == role_at(served_role(recipe), variant.meal)}
    ready = lead + max((product.ready_day for product in recipe.products), default=0)
    return tuple(
        day
        for day in range(days)
        if day + longest < days
        and variant.only_day in (None, day)
        and (recipe.use not in (Use.EAT_NOW, Use.BAKE) or day + ready in wanted)
    )


def _fresh_g(recipe: Recipe) -> float:
    """Grams of main ingredients that may come fresh: to open what was put by is no gain in itself."""
    return sum(i.mass_g for i in recipe.ingredients if i.main and not i.optional and FRESH in i.states)


def _outputs(variant: Variant, worth: dict[str, float]) -> tuple[Output, ...]:
    """What it makes for other recipes; two products of one food count as one, with the shorter clock."""
    made: dict[str, Output] = {}
    for product in variant.recipe.products:
        if product.food is None:
            continue
        name = item_made(product)
        ready = variant.lead_days + product.ready_day + (0 if name.endswith(FRESH) else SURELY_IN_STORE_DAYS)
        keeps = product.keeps_days - variant.waited_days
        before = made.get(name, Output(name, 0.0, ready, keeps, worth.get(name, 0.0), of_product(product)))
        made[name] = replace(
            before,
            grams_per_level=before.grams_per_level + product.mass_g_per_unit,
            ready_after=max(before.ready_after, ready),
            keeps_days=min(before.keeps_days, keeps),
        )
    return tuple(made.values())


def _target_steps(recipe: Recipe, wanted: Collection[str]) -> tuple[TargetStep, ...]:
    if recipe.use not in KEPT:
        return ()
    mains = [i for i in recipe.ingredients if i.main and not i.optional]
    return tuple(
        TargetStep(target, i.mass_g) for i in mains for target in wanted if all(target in names_of(f) for f in i.foods)
    )
