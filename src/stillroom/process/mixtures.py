"""Which printed process covers a mixture of ingredients, if any does.

A process belongs to a recipe. Only four kinds of mixture are covered here: one food alone, a soup of ingredients that
each have their own process, a mixture of vegetables, and the few tested recipes whose proportions the tables state.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stillroom.process.ingredient_lines import Line
from stillroom.process.row_choice import is_tested
from stillroom.tables.processes import rows_for
from stillroom.tables.vocabulary import Food

LIQUIDS = frozenset(
    {
        "water",
        "beef stock",
        "beef broth",
        "chicken stock",
        "chicken broth, low sodium",
        "turkey stock",
        "vegetable broth",
        "stock",
        "tomato juice",
    }
)
_STANDS_FOR = {
    "tomato, canned": "tomatoes",
    "tomato, crushed canned": "tomatoes",
    "tomato, cooked": "tomatoes",
    "beef bones": "beef stock",
    "chicken carcass": "chicken or turkey stock",
    "turkey carcass": "chicken or turkey stock",
}
_SEASONING_KEYS = frozenset(
    {"garlic powder", "onion powder", "onion, dried", "lemon peel", "orange peel", "hot chili pepper, dried", "ice"}
)
NO_SEASONING = frozenset({"wine", "white wine", "red wine", "beer", "cider", "brandy", "sherry", "tamarind"})
ACIDS = frozenset({"lemon juice", "lemon juice, bottled", "lime juice", "lime", "lemon", "citric acid"})
_PLAIN_GROUPS = frozenset({"vegetable", "fruit", "pork", "beef", "lamb and game", "poultry", "fish", "legume"})
_MADE_UP = frozenset(
    {"pickled beets", "dill pickles", "sauerkraut", "mixed vegetables", "succotash", "smoked fish", "fruit puree"}
    | {"mixed fruit cocktail", "tomato sauce", "applesauce", "apple butter", "apple juice", "grape juice"}
)
_NOT_IN_MIXED_VEGETABLES = frozenset(
    {"leafy greens", "dried beans or peas", "pumpkin or winter squash", "sweet potatoes", "southern peas"}
)
MADE_OF = {
    "tomato sauce": "tomatoes",
    "tomato juice": "tomatoes",
    "applesauce": "apples",
    "apple juice": "apples",
    "grape juice": "grapes",
}
SUMMER_SQUASH = frozenset({"zucchini", "summer squash"})
SQUASH_NEEDS_OTHERS = 4  # the printed mixture has carrots, corn, snap beans, limas and tomatoes beside it
_SEAFOOD = frozenset({"fish", "tuna", "clams", "crab", "oysters"})


@dataclass(frozen=True, slots=True)
class Match:
    """A printed process that covers the mixture, and what must be kept for it to hold."""

    process_food: str
    form: str | None  # None: the cook chooses among the printed forms
    conditions: tuple[str, ...]
    source: str
    pack: str | None = None  # None: the cook chooses


def is_seasoning(food: Food) -> bool:
    """Salt, spices, dried herbs, sugar and the like: they change no process in the amounts that season."""
    if food.key in NO_SEASONING:
        return False
    return food.key in _SEASONING_KEYS | ACIDS or food.group in ("seasoning and acid", "herb", "sugar and sweet")


def is_vinegar(food: Food) -> bool:
    """Whether the food is a vinegar of any kind."""
    return food.key.startswith("vinegar")


def process_food_of(food: Food) -> str | None:
    """The plain process food that an ingredient stands for in a mixture; None for what has no process of its own."""
    if food.key in _STANDS_FOR:
        return _STANDS_FOR[food.key]
    if food.process_food in _MADE_UP or food.group not in _PLAIN_GROUPS or food.process_food is None:
        return None
    return food.process_food if any(is_tested(row) for row in rows_for(food.process_food)) else None


def is_low_acid(process_food: str) -> bool:
    """Whether the printed rows of the food are low-acid ones."""
    return any(row.key.startswith("low_acid") for row in rows_for(process_food))


def solids(lines: Sequence[Line]) -> tuple[Food, ...]:
    """The foods that are neither liquid nor seasoning, each once."""
    foods = [heard.food for line in lines for heard in line.foods]
    return tuple(dict.fromkeys(food for food in foods if food.key not in LIQUIDS and not is_seasoning(food)))


def match_mixture(lines: Sequence[Line], says: str) -> Match | None:
    """The process for these lines, whose ingredients each have one of their own; `says` is name and method."""
    foods = {heard.food.key for line in lines for heard in line.foods}
    kinds = {kind for food in solids(lines) if (kind := process_food_of(food)) is not None}
    if len(kinds) == 1 and not foods & SUMMER_SQUASH:
        return _alone(next(iter(kinds)), foods)
    if not kinds or not all(is_low_acid(kind) or kind == "tomatoes" for kind in kinds):
        return None
    has_stock = bool(foods & (LIQUIDS - {"water"}))
    is_vegetables = all(food.group == "vegetable" for food in solids(lines))
    if is_vegetables and not has_stock and "soup" not in says:
        return None if kinds & _NOT_IN_MIXED_VEGETABLES else _mixed_vegetables()
    is_dry = not has_stock and "water" not in foods
    if is_dry or foods & SUMMER_SQUASH or _is_chile_con_carne(kinds, foods, says):
        return None
    return _soup(kinds)


def _is_chile_con_carne(kinds: set[str], foods: set[str], says: str) -> bool:
    """Meat, dried beans and tomatoes with chile: a tested recipe of its own, in pints only, and no soup."""
    is_hot = "chil" in says or any("chil" in food for food in foods)
    return is_hot and {"dried beans or peas", "tomatoes"} <= kinds


def is_a_recipe_of_its_own(food: Food) -> bool:
    """Whether a name stands for a made dish or product, not for an ingredient or a soup."""
    if food.key.endswith("soup") and food.key != "cream soup":
        return False
    if food.group in ("dish", "pickle and sauce", "fruit product"):
        return True
    return food.group in ("other", "sugar and sweet") and food.process_food is not None


def _alone(kind: str, foods: set[str]) -> Match | None:
    has_stock = bool(foods & (LIQUIDS - {"water", "tomato juice"}))
    if has_stock and not is_low_acid(kind):
        return None
    acid = next((row.acidification for row in rows_for(kind) if row.acidification), "")
    conditions = ["Nothing else in the jar but its own liquid and seasoning.", "One of the printed forms and packs."]
    if kind.endswith("stock"):
        conditions.append("Bones taken out, fat skimmed off.")
    if "lemon juice" in acid or "citric acid" in acid:
        conditions.append(f"Acid in every jar: {acid}.")
    return Match(kind, None, tuple(conditions), rows_for(kind)[0].source)


def _mixed_vegetables() -> Match:
    return Match(
        "mixed vegetables",
        rows_for("mixed vegetables")[0].form,
        ("Each vegetable prepared as for its own jar, then boiled together 5 min.", "Hot pack, covered with water."),
        rows_for("mixed vegetables")[0].source,
    )


def _soup(kinds: set[str]) -> Match:
    rows = rows_for("soup")
    form = next(row.form for row in rows if ("seafood" in row.form) == bool(kinds & _SEAFOOD))
    return Match(
        "soup",
        form,
        (
            "Every ingredient cooked as for its own hot pack, all boiled together 5 min.",
            "Each jar half solids, half liquid.",
            "No thickener, pasta, rice, flour, cream or milk.",
        ),
        rows[0].source,
    )
