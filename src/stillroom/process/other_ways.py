"""Freezing and drying as ways out, each verified in the tables of keeping, freezing and drying."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.model.process import Alternative
from stillroom.tables.vocabulary import Food


def other_ways(food: str) -> tuple[Alternative, ...]:
    return ()


def freeze_mixture(foods: Sequence[Food]) -> tuple[Alternative, ...]:
    return ()
