"""Each recipe as this kitchen can do it.

A jar recipe once for every jar kind and canner with a tested process, a dish once for every meal that wants its role.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from stillroom.errors import Refusal
from stillroom.model.household import Meal
from stillroom.model.kitchen import Canner, JarKind, Kitchen
from stillroom.model.plan import RefusedJar
from stillroom.model.process import JarSize, ProcessCard, ProcessRefusal, ProcessRequest
from stillroom.model.recipe import Recipe
from stillroom.planning.crew import can_work
from stillroom.process.capacity import capacity
from stillroom.process.cycle import Cycle, cycle
from stillroom.process.find import find


@dataclass(frozen=True, slots=True)
class JarWork:
    """A jar recipe in one kind of jar and one canner: its card, cycle, and how many jars make a load."""

    jar: JarKind
    canner: Canner
    card: ProcessCard
    cycle: Cycle
    jars_per_load: int
    jars_per_layer: int
    jars_per_unit: float


@dataclass(frozen=True, slots=True)
class Variant:
    """One way of doing a recipe here."""

    key: str
    recipe: Recipe
    jar_work: JarWork | None = None
    meal: str = ""  # the name of the meal a dish is for
    only_day: int | None = None  # cutting up: each day is a variant, since the clock of the parts began before
    waited_days: int = 0  # that the food has waited by then

    @property
    def lead_days(self) -> int:
        """Days from its first step to the day of the recipe: 1 when something is soaked or mixed the evening before."""
        return -min(0, *(step.day for step in self.recipe.steps))


def variants(
    recipes: Iterable[Recipe], kitchen: Kitchen, meals: Iterable[Meal], today: date
) -> tuple[tuple[Variant, ...], tuple[RefusedJar, ...]]:
    """All that may be done, and every jar that was refused with its reason."""
    wanting = sorted({(role, meal.name) for meal in meals for role in meal.roles})
    allowed: list[Variant] = []
    refused: list[RefusedJar] = []
    for recipe in recipes:
        if not can_work(kitchen, recipe.use):
            continue
        if recipe.process is None:
            allowed.extend(_dishes(recipe, wanting) or [Variant(recipe.key, recipe)])
            continue
        for canner in kitchen.canners:
            if canner.kind not in recipe.process.canners:
                continue
            for jar in kitchen.jars:
                found = _jar_work(recipe, recipe.process, jar, canner, kitchen.altitude_m, today)
                if isinstance(found, ProcessRefusal):
                    refused.append(RefusedJar(recipe.name, jar.name, canner.name, found))
                elif found is not None:
                    allowed.append(Variant(f"{recipe.key}/{jar.name}/{canner.name}", recipe, found))
    return tuple(allowed), tuple(refused)


def _dishes(recipe: Recipe, wanting: Iterable[tuple[str, str]]) -> list[Variant]:
    role = served_role(recipe)
    return [Variant(f"{recipe.key}/{name}", recipe, meal=name) for wanted, name in wanting if wanted == role]


def served_role(recipe: Recipe) -> str:
    """The role its dish plays at a meal; empty for what is not served."""
    return next((product.meal_role for product in recipe.products if product.meal_role), "")


def _jar_work(
    recipe: Recipe, request: ProcessRequest, jar: JarKind, canner: Canner, altitude_m: float, today: date
) -> JarWork | ProcessRefusal | None:
    """None: tested, but this recipe is not packed in such a jar, or the jar does not fit the canner."""
    answer = find(
        request.food,
        form=request.form,
        pack=request.pack,
        jar=f"{jar.volume_ml:.0f} ml",
        canner=canner.kind,
        altitude_m=altitude_m,
        gauge_error_psi=canner.gauge_error_psi,
        gauge_tested_on=canner.gauge_tested_on,
        today=today,
    )
    if isinstance(answer, ProcessRefusal):
        return answer
    try:
        room = capacity(canner, jar)
    except Refusal as refusal:  # the pot is too small to count as a pressure canner
        return ProcessRefusal(request.food, str(refusal), "canner too small")
    if answer.jar_counted_as not in request.jars or room.jars == 0:
        return None
    raw_g_per_jar = request.raw_g_per_quart * jar.volume_ml / JarSize.QUART.volume_ml
    return JarWork(jar, canner, answer, cycle(answer), room.jars, room.per_layer, recipe.main_g / raw_g_per_jar)
