"""Runs of the split as a cook reads them: what goes in, what comes out, the process card, why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from stillroom.allocation.problem import Lot, Run
from stillroom.model.plan import Made, PlannedRun, TakenFood
from stillroom.model.recipe import Product, Use
from stillroom.planning.jar_acid import acid_per_jar, lemon_juice_g
from stillroom.planning.variants import Variant

DISH_REASONS = 2  # the meal it serves and the clock it meets; how much is clear from the meal


def run_key(run: Run) -> str:
    """The same words for a run everywhere in a plan."""
    return f"{run.activity}@{run.day}"


def planned_run(run: Run, variant: Variant, lots: Mapping[str, Lot], start: date, reasons: Sequence[str]) -> PlannedRun:
    """One run with its amounts scaled to its level."""
    recipe, work = variant.recipe, variant.jar_work
    day = start + timedelta(days=run.day)
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


def _made(product: Product, units: float, jars: int | None, day: date) -> Made:
    return Made(
        name=product.name,
        container=product.container,
        place=product.place,
        mass_g=product.mass_g_per_unit * units,
        count=jars if product.container == "jar" else None,
        best_by=day + timedelta(days=product.keeps_days) if product.keeps_days else None,
        portions=product.portions_per_unit * units,
    )


def _origin(lot: str, lots: Mapping[str, Lot]) -> str:
    """The arrival or lot by its own key; for what another run makes, the name of that run."""
    if lot in lots:
        return lot
    activity, day, _ = lot.removeprefix("run:").rsplit(":", 2)
    return f"{activity}@{day}"
