"""How much of a person a piece of work takes."""

from __future__ import annotations

from enum import StrEnum


class Attention(StrEnum):
    """How much of a person a step takes."""

    HANDS = "hands"  # one person, nothing else
    NEAR = "near"  # someone must be in the kitchen; up to three such steps at once
    FREE = "free"  # nobody needed
