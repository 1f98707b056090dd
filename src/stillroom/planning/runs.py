"""Runs of the split as a cook reads them: what goes in, what comes out, the process card, why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence, Set
from datetime import date, timedelta

from stillroom.allocation.problem import Lot, Run, made_by
from stillroom.model.plan import Made, PlannedRun, Sheet, TakenFood, Weighed
from stillroom.model.recipe import Product, Recipe, Use
from stillroom.planning.batches import shares
from stillroom.planning.jar_acid import acid_per_jar, lemon_juice_g
from stillroom.planning.variants import Variant
from stillroom.quantities.bench import bench_g, rounding_of

NAMES_OF_A_MAIN = 3  # the first few of many that will do
DISH_REASONS = 2  # the meal it serves and the clock it meets; how much is clear from the meal


def run_key(run: Run) -> str:
    """The same words for a run everywhere in a plan."""
    return f"{run.activity}@{run.day}"


def planned_run(run: Run, variant: Variant, lots: Mapping[str, Lot], start: date, reasons: Sequence[str]) -> PlannedRun:
    """One run with its amounts scaled to its level."""
    recipe, work = variant.recipe, variant.jar_work
    day = start + timedelta(days=run.day + variant.lead_days)
    jars = round(run.level * work.jars_per_unit) if work else 0
    return PlannedRun(
        key=run_key(run),
        recipe=recipe.key,
        name=recipe.name,
        use=recipe.use,
        day=day,
        units=run.level,
        unit=recipe.unit,
        taken=tuple(TakenFood(taken.item, taken.grams, _origin(taken.lot, lots)) for taken in run.taken),
        made=tuple(_made(product, run.level, jars if work else None, day) for product in recipe.products),
        sheets=_sheets(run, variant),
        cautions=recipe.cautions,
        reasons=tuple(reasons[:DISH_REASONS] if recipe.use in (Use.EAT_NOW, Use.BAKE) else reasons),
        card=work.card if work else None,
        jar=work.jar.name if work else "",
        jars=jars,
        loads=run.loads if work else 0,
        jars_per_load=work.jars_per_load if work else 0,
        canner=work.canner.name if work else "",
        acid_per_jar=acid_per_jar(work.card) if work else (),
        lemon_juice_g=lemon_juice_g(work.card, jars) if work else 0.0,
    )


def _sheets(run: Run, variant: Variant) -> tuple[Sheet, ...]:
    """One sheet for batches of one size."""
    sizes = Counter(round(units, 6) for units in shares(run, variant))
    work = variant.jar_work
    used = {taken.item.rsplit(", ", 1)[0] for taken in run.taken}
    return tuple(
        Sheet(count, units, round(units * work.jars_per_unit) if work else 0, _weighed(variant.recipe, units, used))
        for units, count in sorted(sizes.items(), reverse=True)
    )


def _weighed(recipe: Recipe, units: float, used: Set[str]) -> tuple[Weighed, ...]:
    """Acid is rounded up, what holds nitrite down, the rest to the nearest step; of many foods those that are used."""
    return tuple(
        Weighed(
            " and ".join(food for food in ingredient.foods if food in used)
            or " or ".join(ingredient.foods[:NAMES_OF_A_MAIN]),
            bench_g(ingredient.mass_g * units, rounding_of(ingredient.foods[0])),
            ingredient.preparation,
            ingredient.optional,
        )
        for ingredient in recipe.ingredients
    )


def _made(product: Product, units: float, jars: int | None, day: date) -> Made:
    return Made(
        name=product.name,
        container=product.container,
        place=product.place,
        mass_g=product.mass_g_per_unit * units,
        count=jars if product.container == "jar" else None,
        ready_on=day + timedelta(days=product.ready_day),
        best_by=day + timedelta(days=product.ready_day + product.keeps_days) if product.keeps_days else None,
        portions=product.portions_per_unit * units,
    )


def _origin(lot: str, lots: Mapping[str, Lot]) -> str:
    """The arrival or lot by its own key; for what another run makes, the name of that run."""
    if lot in lots:
        return lot
    activity, day, _ = made_by(lot)
    return f"{activity}@{day}"
