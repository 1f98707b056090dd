"""A recipe: ingredients per unit, steps with attention, equipment, lags and holds, and the products.

All amounts and per-unit minutes are for one **unit** of the recipe, the amount written in the file
(for example "for 1 kg of pork shoulder"). A run makes `units` of it, between `smallest` and `largest`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stillroom.model.household import Place
from stillroom.model.process import ProcessRequest
from stillroom.model.work import Attention


class Use(StrEnum):
    """What can be done with food."""

    EAT_NOW = "eat now"
    JAR = "jar"
    FREEZE = "freeze"
    DRY = "dry"
    CURE = "cure"
    FERMENT = "ferment"
    BAKE = "bake"
    KEEP_FRESH = "keep fresh"
    BREAK_DOWN = "break down"
    STOCK = "stock and lard"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One line of the recipe, per unit.

    `foods[0]` names it; any of `foods` will do (vocabulary keys). A `main` ingredient must come from an arrival,
    from a part broken down, from another recipe's product or from the larder; the others come from the cupboard.
    `states` says which kinds of that food will do: "fresh" (arrived, broken down, in fridge or cellar), "jarred"
    (on the shelf), "frozen" (in the freezer), "dried".
    """

    foods: tuple[str, ...]
    mass_g: float
    written: str
    main: bool = False
    optional: bool = False
    preparation: str = ""
    states: tuple[str, ...] = ("fresh",)


@dataclass(frozen=True, slots=True)
class Need:
    """Equipment that a step occupies.

    `equipment`: burner, oven, canner, mixer, dryer, fridge, ice bath. Amounts: burners, oven trays, dryer trays or
    fridge litres; `per_unit` is added for each unit of the recipe. `setting` keeps unlike steps apart on shared
    equipment ("180 °C").
    """

    equipment: str
    amount: float
    per_unit: float = 0.0
    setting: str = ""


@dataclass(frozen=True, slots=True)
class After:
    """A step starts between `min_lag` and `max_lag` minutes after the end of step `step` (None: no limit)."""

    step: str
    min_lag_min: int = 0
    max_lag_min: int | None = None
    hold: str = ""  # "fridge", "hot", "room", "proof"; where the food stands meanwhile
    hold_c: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One task of a recipe. Minutes = fixed + per_unit × units, rounded up.

    A step named `canner` (kind) stands for one whole canner cycle per load; its minutes come from the process card.
    `repeat_per_load` steps (filling jars) happen once for every canner load, before that load's cycle. `child_may`: no
    blade, no heat and no raw meat in it, so that a child may do it while an adult is in the kitchen.
    """

    key: str
    text: str
    fixed_min: float
    per_unit_min: float
    attention: Attention
    needs: tuple[Need, ...] = ()
    after: tuple[After, ...] = ()
    day: int = 0  # day relative to the recipe's day: -1 the evening before
    is_canner_cycle: bool = False
    repeat_per_load: bool = False
    child_may: bool = False
    pace: float = 1.0  # what the minutes were multiplied with, where a household's own times say so
    sigma: float | None = None  # spread of the logarithm of those times; None: not known


@dataclass(frozen=True, slots=True)
class Product:
    """What one unit yields.

    `food` (vocabulary key) is set when another recipe may use it as a main ingredient. `portions_per_unit` is set
    for what is eaten at a meal in the role `meal_role`.
    """

    name: str
    container: str  # "jar", "freezer pack", "dry jar", "crock", "tub", "loaf", "plate"
    place: Place
    mass_g_per_unit: float
    keeps_days: int
    keeps_source: str
    food: str | None = None
    volume_l_per_kg: float = 1.0  # packed, in freezer or fridge
    portions_per_unit: float = 0.0
    meal_role: str = ""  # "main", "side", "bread", "sweet" or ""
    ready_day: int = 0  # day relative to the recipe's day when it may be used or eaten


@dataclass(frozen=True, slots=True)
class Recipe:
    """A recipe of our own wording or from the household folder."""

    key: str
    name: str
    use: Use
    summary: str
    unit: str  # "1 kg of pork shoulder"
    ingredients: tuple[Ingredient, ...]
    smallest: float  # units in one run
    largest: float
    batch_reason: str
    steps: tuple[Step, ...]
    products: tuple[Product, ...]
    process: ProcessRequest | None = None
    cautions: tuple[str, ...] = ()
    source: str = ""

    @property
    def main_g(self) -> float:
        """Mass of main ingredients in one unit [g]."""
        return sum(i.mass_g for i in self.ingredients if i.main)
