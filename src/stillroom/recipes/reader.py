"""Recipe files → `model.recipe.Recipe`."""

from __future__ import annotations

import functools
from pathlib import Path

from stillroom.errors import InputError, SourceError
from stillroom.model.process import ProcessRequest
from stillroom.model.recipe import After, Ingredient, Product, Recipe, Step
from stillroom.recipes.cross_checks import faults
from stillroom.recipes.written import (
    WrittenAfter,
    WrittenIngredient,
    WrittenProcess,
    WrittenProduct,
    WrittenRecipe,
    WrittenStep,
)
from stillroom.tables.rules import in_words
from stillroom.yaml_files import error_at, parse_yaml, read_yaml

_DATA = Path(__file__).parent / "data"


def read_recipe(path: Path) -> Recipe:
    """The recipe in `path`, keyed by the file's name; FileError names file, line and field."""
    written = read_yaml(path, WrittenRecipe)
    for place, problem in faults(written):
        raise error_at(path, place, problem)
    return _recipe(written, path.stem)


def parse_recipe(text: str, key: str) -> Recipe:
    """As `read_recipe`, for the text of a file; FileError names line and field."""
    path = Path(f"{key}.yaml")
    written = parse_yaml(text, WrittenRecipe, path)
    for place, problem in faults(written):
        raise error_at(path, place, problem, text=text)
    return _recipe(written, key)


def _recipe(written: WrittenRecipe, key: str) -> Recipe:
    return Recipe(
        key=key,
        name=written.name,
        use=written.use,
        summary=written.summary,
        unit=written.unit,
        ingredients=tuple(_ingredient(line) for line in written.ingredients),
        smallest=written.batch.smallest,
        largest=written.batch.largest,
        batch_reason=written.batch.because,
        steps=tuple(_step(step) for step in written.steps),
        products=tuple(_product(product) for product in written.products),
        process=_process(written.process) if written.process else None,
        cautions=written.cautions,
        source=in_words(written.source),
    )


@functools.cache
def all_recipes() -> tuple[Recipe, ...]:
    """The recipes that come with the program, by key; SourceError when one of them is broken."""
    try:
        return tuple(read_recipe(path) for path in sorted(_DATA.glob("*.yaml")))
    except InputError as error:
        raise SourceError(str(error)) from error


def _ingredient(line: WrittenIngredient) -> Ingredient:
    return Ingredient(
        foods=line.food,
        mass_g=line.mass_g,
        written=line.amount,
        main=line.kind == "main",
        optional=line.kind == "optional",
        preparation=line.preparation,
        states=line.states,
    )


def _step(step: WrittenStep) -> Step:
    fixed_min, per_unit_min = step.minutes
    return Step(
        key=step.key,
        text=step.do,
        fixed_min=fixed_min,
        per_unit_min=per_unit_min,
        attention=step.attention,
        needs=step.needs,
        after=tuple(_after(after) for after in step.after),
        day=step.day,
        child_may=step.child,
        is_canner_cycle=step.canner_cycle,
        repeat_per_load=step.each_load,
    )


def _after(after: WrittenAfter) -> After:
    place, temp_c = after.hold
    return After(
        step=after.step,
        min_lag_min=after.wait,
        max_lag_min=after.at_most,
        hold=place,
        hold_c=temp_c,
        reason=after.why,
    )


def _product(product: WrittenProduct) -> Product:
    return Product(
        name=product.name,
        container=product.container,
        place=product.place,
        mass_g_per_unit=product.mass_g,
        keeps_days=product.keeps_days,
        keeps_source=in_words(product.source),
        food=product.food,
        volume_l_per_kg=product.litres_per_kg,
        portions_per_unit=product.portions,
        meal_role=product.meal or "",
        ready_day=product.ready_day,
    )


def _process(process: WrittenProcess) -> ProcessRequest:
    return ProcessRequest(
        food=process.food,
        form=process.form,
        pack=process.pack,
        canners=process.canners,
        jars=process.jars,
        raw_g_per_quart=process.raw_g_per_quart,
        raw_source=in_words(process.source),
    )
