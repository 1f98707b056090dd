"""From a volume, a count or a trade measure of one food to grams, by the row of its measure table.

A cup of chopped onion and a cup of sliced onion differ by a third, so how the food is cut has to be said where the
table has more than one way. Piece weights of USDA Standard Reference are those of the edible part.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from stillroom.errors import UnreadableAmount
from stillroom.quantities.unit_words import (
    MILLILITRES,
    PIECE_WORDS,
    QUALIFIERS,
    SIZES,
    UNIT_WORDS,
    singular,
    take,
)
from stillroom.tables.densities import Measure, measures

PECKS_PER_BUSHEL = 4
AGREE_WITHIN = 0.01  # rows of one measure that differ by no more than this count as the same


@dataclass(frozen=True, slots=True)
class Weighed:
    """A mass [g], the table row that gave it (None when it was weighed), and the row in words."""

    mass_g: float
    row: Measure | None
    how: str


@dataclass(frozen=True, slots=True)
class _Reading:
    """A row read as a measure: its unit ("ml", "piece", "bushel" ...), how many of it, and what is said of the food."""

    row: Measure
    unit: str
    unit_word: str
    amount: float
    said: frozenset[str]

    @property
    def grams_per_unit(self) -> float:
        return self.row.grams / self.amount


def weighed(kind: str, value: float, unit_word: str, qualifiers: tuple[str, ...], food_key: str) -> Weighed:
    """The mass of `value` (ml, pieces or trade measures) of the food; UnreadableAmount when no single row fits."""
    unit, wanted = _wanted(kind, unit_word, qualifiers)
    readings = [reading for row in measures(food_key) if (reading := _read(row, food_key)) is not None]
    alike = [reading for reading in readings if reading.unit == unit]
    if unit == "peck" and not alike:  # 4 pecks are a bushel, NIST Handbook 44, Appendix C
        return weighed(kind, value / PECKS_PER_BUSHEL, "bushel", qualifiers, food_key)
    fitting = [reading for reading in alike if wanted <= reading.said]
    chosen = _choose(fitting, wanted, unit_word)
    if chosen is None:
        raise UnreadableAmount(_no_row(unit_word or "piece", food_key, fitting or alike or readings))
    return Weighed(value * chosen.grams_per_unit, chosen.row, _in_words(chosen, fitting, food_key))


def _wanted(kind: str, unit_word: str, qualifiers: tuple[str, ...]) -> tuple[str, frozenset[str]]:
    if kind == "volume":
        return "ml", frozenset(qualifiers)
    if kind == "count":
        return "piece", frozenset()
    if unit_word in SIZES:
        return "piece", frozenset((unit_word,))
    return unit_word, frozenset(qualifiers)


def _choose(fitting: list[_Reading], wanted: frozenset[str], unit_word: str) -> _Reading | None:
    """The row that says what was asked and as little more as possible; None when several such rows differ."""
    fitting = [reading for reading in fitting if _may_stay_unsaid(reading, reading.said - wanted)]
    if not fitting:
        return None
    fewest = min(len(reading.said - wanted) for reading in fitting)
    closest = [reading for reading in fitting if len(reading.said - wanted) == fewest]
    medium = [reading for reading in fitting if reading.said - wanted == {"medium"}]
    closest = medium if medium and fewest else closest
    closest = [reading for reading in closest if reading.unit_word == unit_word] or closest
    closest = [reading for reading in closest if "(" not in reading.row.measure] or closest
    # Larger measures are weighed more exactly: a teaspoon is printed to a tenth of a gram, a cup to a gram.
    best = max(closest, key=lambda reading: reading.amount)
    agree = all(abs(r.grams_per_unit / best.grams_per_unit - 1) <= AGREE_WITHIN for r in closest)
    return best if agree or (best.unit == "ml" and fewest == 0) else None


def _read(row: Measure, food_key: str) -> _Reading | None:
    """The row as a reading; None for rows that weigh something else than what fills the measure."""
    measure = row.measure.lower()
    if re.search(r"yield|with liquid", measure):
        return None
    # A printed crate is named by what it holds ("24-quart crate"); that number is no amount of ours.
    words = re.sub(r"\([^)]*\)?|,|^[0-9]+-[a-z]+ (?=crate)", " ", measure).split()
    size, words = take(words, SIZES)
    unit, words = take(words, UNIT_WORDS)
    said = {size} if size else set()
    name = {singular(word) for word in re.split(r"[ ,]+", food_key)} | PIECE_WORDS
    if unit in ("", "piece"):
        if not (unit or size) and singular(words[0]) not in name:
            return None
        words = [word for word in words if singular(word) not in name]
        unit = "piece"
    while words:
        term, left = take(words, QUALIFIERS | SIZES)
        said.add(term or words[0])
        words = left if term else words[1:]
    if unit in MILLILITRES:
        return _Reading(row, "ml", unit, MILLILITRES[unit], frozenset(said))
    return _Reading(row, unit, unit, 1.0, frozenset(said))


def _may_stay_unsaid(reading: _Reading, unsaid: frozenset[str]) -> bool:
    """Middling size goes without saying, another size does not; nor does a piece without its bone or skin."""
    if reading.unit == "piece":
        return unsaid <= {"medium"}
    return not (unsaid & (set(SIZES) - {"medium"}))


def _in_words(chosen: _Reading, fitting: list[_Reading], food_key: str) -> str:
    edible = chosen.unit != "ml" and "SR" in chosen.row.source
    others = [
        f"{other.row.grams:g} g"
        for other in fitting
        if other.said == chosen.said and other.unit_word == chosen.unit_word and other.row.grams != chosen.row.grams
    ]
    return (
        f"{chosen.row.measure} of {food_key} = {chosen.row.grams:g} g"
        + (", edible part only" if edible else "")
        + (f" (another source says {', '.join(others)})" if others else "")
    )


def _no_row(asked: str, food_key: str, known: list[_Reading]) -> str:
    if not known:
        return f"How much a {asked} of {food_key} weighs is not in our tables; weigh it and write g, kg, lb or oz."
    listed = "; ".join(f"{reading.row.measure} = {reading.row.grams:g} g" for reading in known[:8])
    return f"Which {asked} of {food_key} is meant is not clear; weigh it, or use one of: {listed}."
