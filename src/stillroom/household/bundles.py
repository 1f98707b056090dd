"""Amounts counted in pieces of one size: "6 birds of 2.2 kg", "9 quart jars of 900 g"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from stillroom.quantities.amounts import mass_g

_BUNDLE = re.compile(r"\s*([1-9]\d*)\s+((?:[1-9]\d* ml )?[^\d].*?)\s+of\s+(.+)")  # "3 300 ml jars of 280 g"


@dataclass(frozen=True, slots=True)
class Bundle:
    """So many pieces of one kind; `mass_g` is that of all of them, `piece` is empty when none was named."""

    count: int
    piece: str
    mass_g: float


def read_bundle(text: str, food_key: str) -> Bundle:
    """An amount in any unit known for the food; UnreadableAmount or InputError otherwise."""
    match = _BUNDLE.fullmatch(text)
    if match is None:
        return Bundle(1, "", mass_g(text, food_key))
    count = int(match[1])
    return Bundle(count, _singular(match[2]), count * mass_g(match[3], food_key))


def _singular(words: str) -> str:
    return words.removesuffix("es") if words.endswith(("xes", "shes")) else words.removesuffix("s")
