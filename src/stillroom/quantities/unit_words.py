"""The words for units that the strict amount parser knows, and nothing else.

Cups, spoons, pints, quarts and gallons are US measures (NIST Handbook 44, Appendix C); imperial ones need the word
"imp" (1 imperial gallon = 4.54609 l, UK Weights and Measures Act 1985); "metric cup" is 250 ml.
"""

from __future__ import annotations

from stillroom import units

GRAMS: dict[str, float] = {"g": 1.0, "kg": 1000.0, "lb": units.G_PER_LB, "oz": units.G_PER_OZ}
GRAMS |= {"stone": 14 * units.G_PER_LB}  # UK Weights and Measures Act 1985, Schedule 1

MILLILITRES: dict[str, float] = {
    "ml": 1.0,
    "cl": 10.0,
    "dl": 100.0,
    "litre": 1000.0,
    "metric cup": 250.0,
    "teaspoon": units.ML_PER_TEASPOON,
    "tablespoon": units.ML_PER_TABLESPOON,
    "fl oz": units.ML_PER_FLUID_OUNCE,
    "cup": units.ML_PER_CUP,
    "pint": units.ML_PER_PINT,
    "quart": units.ML_PER_QUART,
    "gallon": units.ML_PER_GALLON,
    "imp fl oz": units.ML_PER_IMPERIAL_GALLON / 160,
    "imp pint": units.ML_PER_IMPERIAL_GALLON / 8,
    "imp quart": units.ML_PER_IMPERIAL_GALLON / 4,
    "imp gallon": units.ML_PER_IMPERIAL_GALLON,
}

# Sold or counted by name; what one weighs is a row of the measure table of its food.
_TRADE_MEASURES = (
    "bushel peck lug crate flat bunch head clove stalk ear leaf sprig stick slice fillet spear "
    "wedge dash link breast thigh drumstick bird ring pod"
)
TRADE_MEASURES: tuple[str, ...] = tuple(_TRADE_MEASURES.split())

SIZES: dict[str, str] = {size: size for size in ("extra small", "small", "medium", "large", "extra large", "jumbo")}

PIECE_WORDS: frozenset[str] = frozenset(("piece", "fruit", "whole"))

_SPELLINGS: dict[str, str] = {
    "gram": "g",
    "gramme": "g",
    "kilo": "kg",
    "kilogram": "kg",
    "pound": "lb",
    "ounce": "oz",
    "millilitre": "ml",
    "milliliter": "ml",
    "l": "litre",
    "liter": "litre",
    "doz": "dozen",
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "pt": "pint",
    "qt": "quart",
    "gal": "gallon",
    "floz": "fl oz",
    "fl ounce": "fl oz",
    "fluid oz": "fl oz",
    "fluid ounce": "fl oz",
}

_IRREGULAR_PLURALS: dict[str, str] = {"bunches": "bunch", "dashes": "dash", "leaves": "leaf", "dozens": "dozen"}


def _unit_words() -> dict[str, str]:
    """Every way of writing a unit, singular or plural, to the one word used for it here."""
    words = {unit: unit for unit in (*GRAMS, *MILLILITRES, *TRADE_MEASURES, "dozen", "piece")} | _SPELLINGS
    for spelling, unit in tuple(words.items()):
        if f"imp {unit}" in MILLILITRES:
            words |= {f"{imperial} {spelling}": f"imp {unit}" for imperial in ("imp", "imperial", "uk")}
    plurals = {f"{word}s": unit for word, unit in words.items() if len(word) > 1 and unit not in ("leaf", "dash")}
    return words | plurals | _IRREGULAR_PLURALS


UNIT_WORDS: dict[str, str] = _unit_words()

# How food lies in the measure: one word per way of cutting, as typed or as the measure tables print it.
_QUALIFIERS = (
    "chopped diced shredded grated mashed pureed ground packed unpacked sifted unsifted melted crumbled quartered "
    "pitted drained undrained slivered cooked whole whipped cut shelled halved sliced cubed strips pieces chunks "
    "balls leaves sprigs sections"
)
QUALIFIERS: dict[str, str] = {word: word for word in _QUALIFIERS.split()} | {
    "cubes": "cubed",
    "slices": "sliced",
    "halves": "halved",
    "puréed": "pureed",
    "in pods": "in pods",
    "in husks": "in husks",
    "without tops": "without tops",
    "without pits": "without pits",
}

CAN_READ = (
    "g, kg, lb, oz, stone; ml, cl, dl, l, tsp, tbsp, fl oz, cup, pint, quart, gallon (US; write “imp pint” for "
    "imperial, “metric cup” for 250 ml); a plain number or dozens of pieces; small, medium, large; "
    "bushel, peck, lug, crate, flat, bunch, head, clove, stalk, ear and the like"
)


def take(words: list[str], known: dict[str, str]) -> tuple[str, list[str]]:
    """The longest term of `known` that `words` begin with, in its one spelling, and the words left; "" when none."""
    for length in (3, 2, 1):
        heard = known.get(" ".join(words[:length])) if len(words) >= length else None
        if heard is not None:
            return heard, words[length:]
    return "", words


def singular(word: str) -> str:
    """A name in the singular, as far as comparing names of foods and measures needs it."""
    for ending, single in (("ies", "y"), ("oes", "o"), ("s", "")):
        if word.endswith(ending) and not word.endswith("ss") and len(word) > len(ending) + 1:
            return word.removesuffix(ending) + single
    return word
