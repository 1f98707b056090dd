"""What a cook wants otherwise than a split has it: it narrows or pulls a plan. No rule of safety gives way to it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

GIVE_AWAY = "give away"  # a use that needs no recipe


class WishKind(StrEnum):
    """What is wished."""

    NO_USE = "no use"  # nothing of a food goes to a use
    AT_LEAST = "at least"  # so much of a food goes to a use
    NO_RECIPE = "no recipe"  # a recipe is not done
    NOT_ON = "not on"  # a recipe is not done on a day
    ON = "on"  # a recipe is done on a day, with at least so much food


@dataclass(frozen=True, slots=True)
class Wish:
    """One wish: of a food and a use, or of a recipe and perhaps a day; `mass_g` counts food as it goes in [g].

    `use` is the value of a `Use`, or GIVE_AWAY. Raises ValueError where what the kind needs is missing.
    """

    kind: WishKind
    food: str = ""  # vocabulary key
    use: str = ""
    recipe: str = ""  # key
    day: date | None = None
    mass_g: float = 0.0

    def __post_init__(self) -> None:
        of_food = self.kind in (WishKind.NO_USE, WishKind.AT_LEAST)
        if of_food != bool(self.food) or of_food != bool(self.use) or of_food == bool(self.recipe):
            raise ValueError(f"A wish “{self.kind}” is of a food and a use, or of a recipe.")
        if (self.kind in (WishKind.NOT_ON, WishKind.ON)) != (self.day is not None):
            raise ValueError(f"A wish “{self.kind}” and its day ({self.day}) don't go together.")
        if self.mass_g < 0 or (self.kind is WishKind.AT_LEAST and self.mass_g == 0):
            raise ValueError(f"A wish is of more than {self.mass_g:g} g.")

    def contradicts(self, other: Wish) -> bool:
        """Whether both speak of the same thing, so that only one of them can hold."""
        if self.food:
            return (self.food, self.use) == (other.food, other.use)
        same_day = self.day == other.day or WishKind.NO_RECIPE in (self.kind, other.kind)
        return self.recipe == other.recipe and same_day


@dataclass(frozen=True, slots=True)
class WishAnswer:
    """What became of a wish: `words` say it; where it is not kept, `why` says why, and what would help."""

    wish: Wish
    words: str
    is_kept: bool
    got_g: float = 0.0
    why: str = ""
    ways_out: tuple[str, ...] = ()
