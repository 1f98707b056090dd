"""How much herb and spice still counts as seasoning; above that it is an ingredient that was never tested.

The ceilings are common practice without a source: the published recipes let spices vary and say no figure.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from stillroom.errors import InputError, SourceError
from stillroom.process.ingredient_lines import Line
from stillroom.process.mixtures import ACIDS, LIQUIDS, is_seasoning, is_vinegar
from stillroom.process.screening_rules import Finding
from stillroom.quantities.amounts import mass_g, volume_ml
from stillroom.quantities.number_text import NUMBER, plain_text, read_number
from stillroom.tables.vocabulary import Food

FRESH_SHARE, DRY_SHARE = 0.03, 0.02  # of the mass of the food; common practice, no source
FRESH_ML, DRY_ML = 60.0, 30.0  # where the food can't be weighed: 4 and 2 tbsp; common practice, no source
FRESH_G_PER_ML, DRY_G_PER_ML = 0.25, 0.5  # where no table has the measure; common practice, no source
MOST_PIECES = 12.0  # sprigs, leaves, cloves, sticks; common practice, no source
PIECES_PER_BUNCH = 24.0  # common practice, no source
_DRY = ("dried", "ground", "powder")
_FREE = frozenset({"salt", "canning salt", "citric acid", "ascorbic acid", "calcium chloride", "ice"})
_WEIGHED_SWEETS = frozenset({"cocoa powder", "jam", "jelly", "marmalade"})
_SOURCE = "common practice, no source"


def too_much_seasoning(lines: Sequence[Line]) -> tuple[Finding, ...]:
    """A finding for each line of herbs or spices above the ceiling; amounts that nobody wrote count as a pinch."""
    food_g = _food_g(lines)
    return tuple(_finding(line) for line in lines if _is_herb_or_spice(line) and _is_above(line, food_g))


def _finding(line: Line) -> Finding:
    food = line.foods[0].food
    share, spoons = (FRESH_SHARE, 4) if _is_fresh(food) else (DRY_SHARE, 2)
    return Finding(
        line.text,
        food.key,
        "too much seasoning",
        f"up to {share:.0%} of the weight of the food ({spoons} tbsp where that can't be weighed) counts as seasoning; "
        "more is an ingredient, and it was not tested",
        "use less, or add it when the jar is opened",
        _SOURCE,
    )


def _is_herb_or_spice(line: Line) -> bool:
    return bool(line.foods) and all(_is_limited(heard.food) for heard in line.foods)


def _is_limited(food: Food) -> bool:
    if not is_seasoning(food) or food.key in _FREE | ACIDS or is_vinegar(food):
        return False
    return food.group != "sugar and sweet" or food.key in _WEIGHED_SWEETS


def _is_fresh(food: Food) -> bool:
    return food.group == "herb" and not any(word in food.key for word in _DRY)


def _is_above(line: Line, food_g: float | None) -> bool:
    """Whether the line holds more than its ceiling; a heap that can't be read at all (“2 bunches”) is above it."""
    food = line.foods[0].food
    is_fresh = _is_fresh(food)
    ml = _volume(line)
    grams = _mass(line, food.key)
    if grams is None and ml is not None:
        grams = ml * (FRESH_G_PER_ML if is_fresh else DRY_G_PER_ML)
    if grams is None:
        return _pieces(line) > MOST_PIECES
    if food_g:
        return grams > food_g * (FRESH_SHARE if is_fresh else DRY_SHARE)
    limit_ml = FRESH_ML if is_fresh else DRY_ML
    return (ml if ml is not None else grams / (FRESH_G_PER_ML if is_fresh else DRY_G_PER_ML)) > limit_ml


def _food_g(lines: Sequence[Line]) -> float | None:
    """Mass of everything that is neither liquid nor seasoning [g]; None when a line can't be weighed."""
    total_g = 0.0
    for line in lines:
        keys = [
            heard.food.key for heard in line.foods if not is_seasoning(heard.food) and heard.food.key not in LIQUIDS
        ]
        if keys:
            grams = _mass(line, keys[0])
            if grams is None:
                return None
            total_g += grams
    return total_g or None


def _mass(line: Line, key: str) -> float | None:
    if not line.amount:
        return None
    try:
        return mass_g(line.amount, key)
    except (InputError, SourceError):
        return None


def _volume(line: Line) -> float | None:
    try:
        return volume_ml(line.amount) if line.amount else None
    except InputError:
        return None


def _pieces(line: Line) -> float:
    """Pieces that a line counts (“3 sprigs”); no number is one, a bunch or head is many."""
    try:
        number = re.match(NUMBER, plain_text(line.text))
        count = read_number(number[0].strip(), line.text) if number else 1.0
    except InputError:
        count = 1.0
    return count * (PIECES_PER_BUNCH if re.search(r"\b(?:bunch|bunches|heads?)\b", line.text.lower()) else 1.0)
