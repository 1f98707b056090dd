"""The few tested mixtures whose proportions the tables state, so that amounts can be held against them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from stillroom import units
from stillroom.errors import InputError, SourceError
from stillroom.process.ingredient_lines import Line
from stillroom.process.mixtures import ACIDS, Match, is_seasoning, is_vinegar
from stillroom.process.screening_rules import Finding
from stillroom.quantities.amounts import mass_g, volume_ml
from stillroom.tables.processes import rows_for
from stillroom.tables.vocabulary import Food

# Tested salsa: 5 lb tomatoes, 2 lb chiles, 1 lb onions, 1 cup vinegar (Guide 3, hot tomato and chile).
SALSA_CHILES_PER_TOMATO = 2 / 5
SALSA_ONIONS_PER_TOMATO = 1 / 5
SALSA_ACID_ML_PER_G = units.ML_PER_CUP / (5 * units.G_PER_LB)
# Tomatoes with okra or zucchini: 3 lb to 1 lb (Guide 3).
TOMATOES_PER_VEGETABLE = 3.0

_ONIONS = frozenset({"onion", "garlic", "spring onion", "shallot", "red onion"})
_TOMATOES = frozenset({"tomatoes", "green tomatoes"})
_QUALIFIERS = ("chopped", "sliced", "diced", "shredded", "whole", "minced")


def match_salsa(lines: Sequence[Line], says: str) -> Match | Finding | None:
    """The salsa row, a finding when its proportions are broken or unreadable, or None when this is no salsa."""
    foods = [heard.food for line in lines for heard in line.foods]
    has_peppers = any(food.process_food == "peppers" for food in foods)
    if not (has_peppers and any(food.process_food in _TOMATOES for food in foods)):
        return None
    if "salsa" not in says and not any(is_vinegar(food) or food.key in ACIDS for food in foods):
        return None
    if not all(_belongs_in_salsa(food) for food in foods):
        return None
    masses = [_mass_g(lines, test) for test in (_is_tomato, _is_pepper, _is_onion)]
    acid_ml = _acid_ml(lines)
    if any(mass is None for mass in masses) or acid_ml is None:
        return _salsa_finding("its amounts can't be weighed against the tested recipe", "")
    tomatoes_g, peppers_g, onions_g = (mass or 0.0 for mass in masses)
    if peppers_g > tomatoes_g * SALSA_CHILES_PER_TOMATO * 1.005:
        return _salsa_finding("too many low-acid solids: more peppers", _first(lines, _is_pepper))
    if onions_g > tomatoes_g * SALSA_ONIONS_PER_TOMATO * 1.005:
        return _salsa_finding("too many low-acid solids: more onion and garlic", _first(lines, _is_onion))
    if acid_ml < tomatoes_g * SALSA_ACID_ML_PER_G * 0.995:
        return _salsa_finding("too little acid", _first(lines, _is_acid))
    return _match(
        "salsa", "hot tomato and chile", "Tomatoes 5 lb : chiles 2 lb : onions 1 lb : vinegar 1 cup at least."
    )


def match_tomatoes_with_vegetable(lines: Sequence[Line]) -> Match | Finding | None:
    """Tomatoes with okra or zucchini by weight; None when this is something else."""
    foods = [heard.food for line in lines for heard in line.foods]
    others = [food for food in foods if not is_seasoning(food) and food.process_food != "tomatoes"]
    if not others or not all(_is_okra_or_zucchini(food) for food in others):
        return None
    if not any(food.process_food == "tomatoes" for food in foods):
        return None
    tomatoes_g, others_g = _mass_g(lines, _is_tomato), _mass_g(lines, _is_okra_or_zucchini)
    if tomatoes_g is None or others_g is None or others_g * TOMATOES_PER_VEGETABLE > tomatoes_g * 1.005:
        return Finding(
            _first(lines, _is_okra_or_zucchini),
            others[0].key,
            "too many low-acid solids",
            "the tested mixture is 3 lb tomatoes to 1 lb okra or zucchini by weight, and this is not shown to be it",
            "use 3 lb tomatoes to 1 lb vegetable, or freeze it",
            rows_for("tomatoes with okra or zucchini")[0].source,
        )
    return _match("tomatoes with okra or zucchini", None, "3 lb tomatoes to 1 lb vegetable at most; pressure only.")


def _match(process_food: str, form: str | None, proportions: str) -> Match:
    rows = [row for row in rows_for(process_food) if form in (None, row.form)]
    return Match(process_food, rows[0].form, (proportions, "Spices and salt may vary."), rows[0].source)


def _salsa_finding(why: str, ingredient: str) -> Finding:
    return Finding(
        ingredient or "the mixture",
        "salsa",
        "too many low-acid solids" if "solids" in why else "proportions",
        f"{why} than the tested salsa allows (5 lb tomatoes, 2 lb chiles, 1 lb onions, 1 cup vinegar of 5 %)"
        if ingredient
        else f"{why} (5 lb tomatoes, 2 lb chiles, 1 lb onions, 1 cup vinegar of 5 %)",
        "make the tested salsa, or freeze it",
        rows_for("salsa")[0].source,
    )


def _belongs_in_salsa(food: Food) -> bool:
    return _is_tomato(food) or _is_pepper(food) or _is_onion(food) or is_seasoning(food)


def _is_tomato(food: Food) -> bool:
    return food.process_food in _TOMATOES


def _is_pepper(food: Food) -> bool:
    return food.process_food == "peppers"


def _is_onion(food: Food) -> bool:
    return food.key in _ONIONS


def _is_acid(food: Food) -> bool:
    return is_vinegar(food) or food.key in ("lemon juice, bottled", "lime juice", "lemon juice")


def _is_okra_or_zucchini(food: Food) -> bool:
    return food.key in ("okra", "zucchini")


def _first(lines: Sequence[Line], test: Callable[[Food], bool]) -> str:
    return next((line.text for line in lines if any(test(heard.food) for heard in line.foods)), "")


def _mass_g(lines: Sequence[Line], test: Callable[[Food], bool]) -> float | None:
    """Mass of all lines whose food passes the test [g]; None when one can't be weighed."""
    total_g = 0.0
    for line in lines:
        keys = [heard.food.key for heard in line.foods if test(heard.food)]
        if not keys:
            continue
        mass = _line_g(line, keys[0])
        if mass is None or len(line.foods) > 1:
            return None
        total_g += mass
    return total_g


def _line_g(line: Line, key: str) -> float | None:
    said = [word for word in _QUALIFIERS if word in line.left_over.split()]
    for amount in (line.amount, *(f"{line.amount} {word}" for word in said)):
        try:
            return mass_g(amount, key)
        except (InputError, SourceError):
            continue
    return None


def _acid_ml(lines: Sequence[Line]) -> float | None:
    """Volume of vinegar and bottled juice [ml]; 0 where there is none, None where it can't be read."""
    total_ml = 0.0
    for line in lines:
        if any(_is_acid(heard.food) for heard in line.foods):
            try:
                total_ml += volume_ml(line.amount)
            except InputError:
                return None
    return total_ml
