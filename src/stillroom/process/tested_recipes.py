"""The few tested mixtures whose proportions the tables state, so that amounts can be held against them."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from stillroom import units
from stillroom.errors import InputError, SourceError
from stillroom.process.ingredient_lines import Line
from stillroom.process.mixtures import ACIDS, Match, is_seasoning, is_vinegar
from stillroom.process.screening_rules import Finding
from stillroom.quantities.amounts import mass_g, volume_ml
from stillroom.tables.processes import rows_for
from stillroom.tables.vocabulary import Food

# Tested salsa: 5 lb tomatoes, 2 lb chiles, 1 lb onions, 1 cup vinegar (Guide 3, hot tomato and chile).
SALSA = "5 lb tomatoes, 2 lb chiles, 1 lb onions, 1 cup vinegar of 5 %"
SALSA_CHILES_PER_TOMATO = 2 / 5
SALSA_ONIONS_PER_TOMATO = 1 / 5
SALSA_ACID_ML_PER_G = units.ML_PER_CUP / (5 * units.G_PER_LB)
TESTED_VINEGAR_PERCENT = 5.0
# Tomatoes with okra or zucchini: 3 lb to 1 lb (Guide 3).
TOMATOES_PER_VEGETABLE = 3.0
# Jam without added pectin is printed for apricot, berry and peach (Guide 7); with pectin for fruit in general.
_JAM_WITHOUT_PECTIN = frozenset({"apricots", "berries", "peaches", "strawberry"})
_NEEDS_LEMON = frozenset({"apricots", "peaches"})
# Fruit whose printed rows ask for acid (figs, Asian pears, papaya), and pears, whose tested jam has lemon juice in it.
_LOW_IN_ACID = frozenset({"figs", "asian pears", "papaya", "pears"})
ROUNDING = 1.005  # weights are rounded when they are written down

_ONIONS = frozenset({"onion", "garlic", "spring onion", "shallot"})
_TOMATOES = frozenset({"tomatoes", "green tomatoes"})
_WEAK_VINEGARS = frozenset({"vinegar, rice"})  # sold at 4 to 4.5 % (common practice, no source)
_PERCENT = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:%|per ?cent)")
_JUICES = frozenset({"lemon juice, bottled", "lime juice", "lemon juice"})
_QUALIFIERS = ("chopped", "sliced", "diced", "shredded", "whole", "minced")


@dataclass(frozen=True, slots=True)
class _SalsaAmounts:
    """What the lines weigh [g] and the volume of their acid [ml]."""

    tomatoes_g: float
    peppers_g: float
    onions_g: float
    acid_ml: float


def match_salsa(lines: Sequence[Line], says: str) -> Match | Finding | None:
    """The salsa row, a finding when its proportions are broken or unreadable, or None when this is no salsa."""
    if not _is_salsa(_foods(lines), says):
        return None
    amounts = _salsa_amounts(lines)
    if amounts is None:
        return _salsa_unweighed(lines)
    if amounts.peppers_g > amounts.tomatoes_g * SALSA_CHILES_PER_TOMATO * ROUNDING:
        why = "there are more peppers to the tomatoes than in the tested recipe"
        return _salsa_finding(_first(lines, _is_pepper), "too many low-acid solids", why)
    if amounts.onions_g > amounts.tomatoes_g * SALSA_ONIONS_PER_TOMATO * ROUNDING:
        why = "there is more onion and garlic to the tomatoes than in the tested recipe"
        return _salsa_finding(_first(lines, _is_onion), "too many low-acid solids", why)
    if amounts.acid_ml * ROUNDING < amounts.tomatoes_g * SALSA_ACID_ML_PER_G:
        why = "there is less vinegar or bottled juice to the tomatoes than in the tested recipe"
        return _salsa_finding(_first(lines, _is_acid) or "the mixture", "too little acid", why)
    return _match(
        "salsa",
        "hot tomato and chile",
        f"Made like the tested one: {SALSA}; never less acid, and only bottled juice for it.",
    )


def match_tomatoes_with_vegetable(lines: Sequence[Line]) -> Match | Finding | None:
    """Tomatoes with okra or zucchini by weight; None when this is something else."""
    foods = _foods(lines)
    others = [food for food in foods if not is_seasoning(food) and not _is_ripe_tomato(food)]
    if not others or not any(map(_is_ripe_tomato, foods)) or not all(map(_is_okra_or_zucchini, others)):
        return None
    tomatoes_g, others_g = _mass_g(lines, _is_ripe_tomato), _mass_g(lines, _is_okra_or_zucchini)
    if tomatoes_g is None or others_g is None or others_g * TOMATOES_PER_VEGETABLE > tomatoes_g * ROUNDING:
        return Finding(
            _first(lines, _is_okra_or_zucchini),
            others[0].key,
            "too many low-acid solids",
            "the tested mixture is 3 lb tomatoes to 1 lb okra or zucchini by weight, and this is not shown to be it",
            "use 3 lb tomatoes to 1 lb vegetable, or freeze it",
            rows_for("tomatoes with okra or zucchini")[0].source,
        )
    return _match("tomatoes with okra or zucchini", None, "3 lb tomatoes to 1 lb vegetable at most; pressure only.")


def match_jam(lines: Sequence[Line]) -> Match | None:
    """The jam rows for acid fruit boiled down with at least half its weight of sugar; None when this is no such jam."""
    foods = _foods(lines)
    fruits = {food.process_food or food.key for food in foods if food.group == "fruit" and not is_seasoning(food)}
    has_pectin = any(food.key.startswith("pectin") for food in foods)
    has_acid = any(food.key in ACIDS for food in foods)
    if not fruits or not all(food.group == "fruit" or is_seasoning(food) or food.key == "water" for food in foods):
        return None
    if has_pectin:
        is_sour = has_acid or not fruits & _LOW_IN_ACID
        is_jam = is_sour and all(kind == "strawberry" or bool(rows_for(kind)) for kind in fruits)
    else:
        is_jam = fruits <= _JAM_WITHOUT_PECTIN and (has_acid or not fruits & _NEEDS_LEMON)
    if not is_jam or not _has_jam_sugar(lines):
        return None
    form = next(row.form for row in rows_for("jam") if ("without" in row.form) != has_pectin)
    return _match("jam", form, "Boiled to the gel point with its sugar, as the tested recipe for that fruit says.")


def _has_jam_sugar(lines: Sequence[Line]) -> bool:
    """Whether plain sugar makes up at least half the weight of the fruit (the least of the printed jams is more)."""
    sugar_g = _mass_g(lines, lambda food: food.key.startswith("sugar, "))
    fruit_g = _mass_g(lines, lambda food: food.group == "fruit" and not is_seasoning(food))
    return sugar_g is not None and fruit_g is not None and sugar_g * 2 >= fruit_g > 0


def _is_salsa(foods: Sequence[Food], says: str) -> bool:
    """Tomatoes and peppers with acid, or called a salsa, and nothing else that has a rule of its own."""
    has_both = any(map(_is_pepper, foods)) and any(map(_is_tomato, foods))
    is_meant = "salsa" in says or any(map(_is_acid, foods))
    return has_both and is_meant and all(map(_belongs_in_salsa, foods))


def _salsa_amounts(lines: Sequence[Line]) -> _SalsaAmounts | None:
    tomatoes_g, peppers_g, onions_g = (_mass_g(lines, test) for test in (_is_tomato, _is_pepper, _is_onion))
    acid_ml = _acid_ml(lines)
    if tomatoes_g is None or peppers_g is None or onions_g is None or acid_ml is None:
        return None
    return _SalsaAmounts(tomatoes_g, peppers_g, onions_g, acid_ml)


def _match(process_food: str, form: str | None, proportions: str) -> Match:
    row = next(row for row in rows_for(process_food) if form in (None, row.form))
    return Match(process_food, row.form, (proportions, "Spices and salt may vary."), row.source)


def _salsa_finding(ingredient: str, rule: str, why: str) -> Finding:
    source = rows_for("salsa")[0].source
    return Finding(ingredient, "salsa", rule, f"{why} ({SALSA})", "make the tested salsa, or freeze it", source)


def _salsa_unweighed(lines: Sequence[Line]) -> Finding:
    """Names the lines whose amount can't be weighed, so that the cook can weigh just those."""
    tests = (_is_tomato, _is_pepper, _is_onion)
    odd = [line.text for line in lines if any(_mass_g((line,), test) is None for test in tests)]
    odd += [line.text for line in lines if _acid_ml((line,)) is None]
    why = "its amount can't be weighed against the tested recipe; write it in pounds or grams, and acid in cups"
    return _salsa_finding("; ".join(odd), "proportions", why)


def _foods(lines: Sequence[Line]) -> tuple[Food, ...]:
    return tuple(heard.food for line in lines for heard in line.foods)


def _belongs_in_salsa(food: Food) -> bool:
    return _is_tomato(food) or _is_pepper(food) or _is_onion(food) or is_seasoning(food)


def _is_tomato(food: Food) -> bool:
    return food.process_food in _TOMATOES


def _is_ripe_tomato(food: Food) -> bool:
    return food.process_food == "tomatoes"


def _is_pepper(food: Food) -> bool:
    return food.process_food == "peppers"


def _is_onion(food: Food) -> bool:
    return food.key in _ONIONS


def _is_acid(food: Food) -> bool:
    return is_vinegar(food) or food.key in _JUICES


def _is_okra_or_zucchini(food: Food) -> bool:
    return food.key in ("okra", "zucchini")


def _first(lines: Sequence[Line], test: Callable[[Food], bool]) -> str:
    return next((line.text for line in lines if any(test(heard.food) for heard in line.foods)), "")


def _mass_g(lines: Sequence[Line], test: Callable[[Food], bool]) -> float | None:
    """Mass of all lines whose food passes the test [g]; None when one can't be weighed."""
    total_g = 0.0
    for line in lines:
        keys = [heard.food.key for heard in line.foods if test(heard.food)]
        if keys:
            mass = _line_g(line, keys[0]) if len(keys) == len(line.foods) else None
            if mass is None:
                return None
            total_g += mass
    return total_g


def _line_g(line: Line, key: str) -> float | None:
    said = [word for word in _QUALIFIERS if word in line.left_over.split()]
    for amount in (*(f"{line.amount} {word}" for word in said), line.amount):
        try:
            return mass_g(amount, key)
        except (InputError, SourceError):
            continue
    return None


def is_weak(line: Line) -> bool:
    """Whether the line is vinegar below the 5 % of the tested recipes."""
    said = _PERCENT.search(line.text)
    is_below = said is not None and float(said[1].replace(",", ".")) < TESTED_VINEGAR_PERCENT
    return is_below or any(heard.food.key in _WEAK_VINEGARS for heard in line.foods)


def acid_agent(food: Food) -> str | None:
    """The printed name of an acid that is put into jars; None for what no table allows there."""
    if is_vinegar(food):
        return "vinegar 5 %"
    return {"lemon juice, bottled": "bottled lemon juice", "citric acid": "citric acid"}.get(food.key)


def _acid_ml(lines: Sequence[Line]) -> float | None:
    """Volume of vinegar and bottled juice [ml]; 0 where there is none, None where it can't be read.

    Vinegar weaker than the 5 % of the tested recipe counts for nothing: rice vinegar, or what the line says of it.
    """
    total_ml = 0.0
    for line in lines:
        if any(_is_acid(heard.food) for heard in line.foods) and not is_weak(line):
            try:
                total_ml += volume_ml(line.amount)
            except InputError:
                return None
    return total_ml
