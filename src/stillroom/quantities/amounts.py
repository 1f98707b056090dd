"""The strict parser of amounts: mixed units in, one unit inside (g, ml, pieces, or a named trade measure).

What can be read: “9 kg”, “1½ lb”, “2 lb 3 oz”, “3 cups chopped”, “1 imp pint”, “2 bushels”, “12 large heads”, “12”,
“a dozen”. A decimal point is a point; a comma between figures is refused. Cups, spoons, pints, quarts and gallons are
those of the USA.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from stillroom.errors import UnreadableAmount
from stillroom.quantities import measure_rows
from stillroom.quantities.number_text import NUMBER, plain_text, read_number
from stillroom.quantities.unit_words import (
    CAN_READ,
    GRAMS,
    MILLILITRES,
    QUALIFIERS,
    SIZES,
    TRADE_MEASURES,
    UNIT_WORDS,
    take,
)

SMALLEST = 0.001  # g, ml or pieces
LARGEST = {"mass": 10_000_000.0, "volume": 10_000_000.0, "count": 100_000.0, "measure": 100_000.0}
_PART = re.compile(rf"({NUMBER}) ?([^0-9/]*)")
Kind = Literal["mass", "volume", "count", "measure"]


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount in the one unit used inside.

    `value` is g for a mass, ml for a volume, pieces for a count, and a number of `unit_word` for a trade measure.
    `unit_word` is the unit as it was heard ("cup", "bushel", "large"; "" for a count); `qualifiers` say how the food
    lies in the measure or how large the pieces are ("chopped", "medium").
    """

    kind: Kind
    value: float
    unit_word: str
    qualifiers: tuple[str, ...] = ()

    def __str__(self) -> str:
        unit = {"mass": "g", "volume": "ml", "count": "", "measure": self.unit_word}[self.kind]
        size = [word for word in self.qualifiers if word in SIZES]
        others = [word for word in self.qualifiers if word not in SIZES]
        return " ".join(part for part in (f"{self.value!r}", *size, unit, *others) if part)


def parse(text: str) -> Amount:
    """The amount written in `text`; UnreadableAmount says what is wrong and what can be read."""
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", _counted_words(plain_text(text)))
    if not plain:
        raise UnreadableAmount(f"The amount is empty. This can be read: {CAN_READ}.")
    parts = [(match[1], match[2]) for match in _PART.finditer(plain)]
    if not parts or "".join(number + words for number, words in parts).replace(" ", "") != plain.replace(" ", ""):
        raise _unreadable(text)
    amounts = [_one(number, words, text) for number, words in parts]
    return _bounded(_added(amounts, text) if len(amounts) > 1 else amounts[0], text)


def volume_ml(text: str) -> float:
    """The volume written in `text` [ml]."""
    amount = parse(text)
    if amount.kind != "volume":
        raise UnreadableAmount(f"“{text}” is not a volume; write it in ml, l, cups, pints, quarts or gallons.")
    return amount.value


def weight_g(text: str) -> float:
    """The mass [g] of a weight; InputError for a volume or a count, which say nothing without their food."""
    amount = parse(text)
    if amount.kind != "mass":
        raise UnreadableAmount(f"“{text}” is not a weight; weigh it, as in “2 kg” or “4 lb 6 oz”.")
    return amount.value


def mass_g(text: str, food_key: str) -> float:
    """The mass of `text` of the food `food_key` [g], through its measure table where needed; see `weigh`."""
    return weigh(text, food_key).mass_g


def weigh(text: str, food_key: str) -> measure_rows.Weighed:
    """The mass of `text` of the food, and the row of the measure table that was used.

    Raises UnreadableAmount when the text can't be read, or when the table has no row, or several that differ.
    """
    amount = parse(text)
    if amount.kind == "mass":
        return measure_rows.Weighed(amount.value, None, "as weighed")
    return measure_rows.weighed(amount.kind, amount.value, amount.unit_word, amount.qualifiers, food_key)


def _counted_words(plain: str) -> str:
    """“a peck” is 1 peck, “half a dozen” is 6."""
    plain = re.sub(r"^half (?:an? )?(?=[a-z])", "1/2 ", plain)
    plain = re.sub(r"^an? (?=[a-z])", "1 ", plain)
    return re.sub(r"^dozen\b", "1 dozen", plain)


def _unreadable(text: str) -> UnreadableAmount:
    return UnreadableAmount(f"“{text}” can't be read as an amount. This can be read: {CAN_READ}.")


def _one(number: str, words: str, text: str) -> Amount:
    """One number with its words: [size] [unit] [how the food lies in it]."""
    value = read_number(number, text)
    left = [word.removesuffix(".") for word in re.split(r"[ ,]+", words) if word]
    size, left = take(left, SIZES)
    unit, left = take(left, UNIT_WORDS)
    said: list[str] = [size] if size else []
    while left:
        qualifier, left = take(left, QUALIFIERS)
        if not qualifier or qualifier in said:
            raise _unreadable(text)
        said.append(qualifier)
    return _in_one_unit(value, unit, size, tuple(said), text)


def _in_one_unit(value: float, unit: str, size: str, said: tuple[str, ...], text: str) -> Amount:
    if unit in GRAMS and not said:
        return Amount("mass", value * GRAMS[unit], unit)
    if unit in MILLILITRES and not size:
        return Amount("volume", value * MILLILITRES[unit], unit, said)
    if unit in TRADE_MEASURES:
        return Amount("measure", value, unit, said)
    if unit in ("", "piece") and said == (size,):
        return Amount("measure", value, size)
    if unit in ("", "piece", "dozen") and not said:
        return Amount("count", value * (12 if unit == "dozen" else 1), "")
    raise _unreadable(text)


def _added(amounts: list[Amount], text: str) -> Amount:
    """“2 lb 3 oz”: each part in a smaller unit than the one before, and less than one of it."""
    sizes = GRAMS if amounts[0].kind == "mass" else MILLILITRES
    for larger, smaller in pairwise(amounts):
        alike = larger.kind == smaller.kind and larger.kind in ("mass", "volume")
        if not alike or larger.qualifiers or smaller.qualifiers or smaller.value >= sizes[larger.unit_word]:
            raise _unreadable(text)
        count = larger.value / sizes[larger.unit_word]
        if abs(count - round(count)) > 1e-9:
            raise UnreadableAmount(f"“{text}”: only the last part of an amount may be a fraction.")
    return Amount(amounts[0].kind, sum(amount.value for amount in amounts), amounts[0].unit_word)


def _bounded(amount: Amount, text: str) -> Amount:
    if not SMALLEST <= amount.value <= LARGEST[amount.kind]:
        raise UnreadableAmount(f"“{text}” is too small or too large for a kitchen; check the unit.")
    return amount
