"""Bread sums: baker's percentages, with the flour and water of a preferment counted in.

Flour is 100 %; every other ingredient is a share of all flour, that of the preferment included (rules R217, R218).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from stillroom.errors import InputError
from stillroom.tables.baking import baking_figures

MOST = {"water": 1.5, "salt": 0.05, "yeast": 0.1}  # shares of flour beyond which the decimal point has slipped


@dataclass(frozen=True, slots=True)
class Preferment:
    """Flour set to ferment beforehand: its share of all flour, its water and yeast as shares of its own flour [-]."""

    flour_share: float
    hydration: float
    yeast: float = 0.0

    def __post_init__(self) -> None:
        if not (0 < self.flour_share <= 1 and 0 < self.hydration <= MOST["water"] and 0 <= self.yeast <= MOST["yeast"]):
            raise InputError(
                "A preferment takes more than 0 and at most 100% of the flour, at most 150% water and 10% yeast."
            )


@dataclass(frozen=True, slots=True)
class Formula:
    """Shares of all flour [-]; `others` are further ingredients by name ("butter": 0.1)."""

    water: float
    salt: float
    yeast: float = 0.0
    others: dict[str, float] = field(default_factory=dict)
    preferment: Preferment | None = None

    def __post_init__(self) -> None:
        for name in ("water", "salt", "yeast"):
            share = getattr(self, name)
            if not 0 <= share <= MOST[name]:
                raise InputError(
                    f"{name.capitalize()} of {100 * share:.4g}% of the flour is out of range; write {_range(name)}."
                )
        if any(not (math.isfinite(share) and 0 <= share <= 2) for share in self.others.values()):
            raise InputError("Every other ingredient is at least 0% and at most 200% of the flour.")
        if self.preferment and self._water_left() < -1e-12:
            raise InputError("The preferment holds more water than the whole dough; lower its flour or its water.")
        if self.preferment and self._yeast_left() < -1e-12:
            raise InputError("The preferment holds more yeast than the whole dough; raise the yeast of the dough.")

    def _water_left(self) -> float:
        first = self.preferment
        return self.water - (first.flour_share * first.hydration if first else 0.0)

    def _yeast_left(self) -> float:
        first = self.preferment
        return self.yeast - (first.flour_share * first.yeast if first else 0.0)

    @property
    def total(self) -> float:
        """All shares added, flour included [-]."""
        return 1 + self.water + self.salt + self.yeast + sum(self.others.values())

    def from_flour(self, flour_g: float) -> DoughAmounts:
        """What to weigh for this much flour in all [g]."""
        if not (math.isfinite(flour_g) and flour_g > 0):
            raise InputError("The flour must weigh more than nothing.")
        first = self.preferment
        first_flour_g = flour_g * first.flour_share if first else 0.0
        return DoughAmounts(
            flour_g=flour_g,
            water_g=flour_g * self.water,
            salt_g=flour_g * self.salt,
            yeast_g=flour_g * self.yeast,
            others_g={name: flour_g * share for name, share in self.others.items()},
            total_g=flour_g * self.total,
            preferment_flour_g=first_flour_g,
            preferment_water_g=first_flour_g * first.hydration if first else 0.0,
            preferment_yeast_g=first_flour_g * first.yeast if first else 0.0,
        )

    def from_total(self, total_g: float) -> DoughAmounts:
        """What to weigh for this much dough [g]."""
        return self.from_flour(total_g / self.total)


@dataclass(frozen=True, slots=True)
class DoughAmounts:
    """What to weigh [g]; flour, water and yeast are those of the whole dough, the preferment's share among them."""

    flour_g: float
    water_g: float
    salt_g: float
    yeast_g: float
    others_g: dict[str, float]
    total_g: float
    preferment_flour_g: float
    preferment_water_g: float
    preferment_yeast_g: float

    @property
    def final_flour_g(self) -> float:
        """Flour added when the dough is mixed [g]."""
        return self.flour_g - self.preferment_flour_g

    @property
    def final_water_g(self) -> float:
        """Water added when the dough is mixed [g]."""
        return self.water_g - self.preferment_water_g

    @property
    def final_yeast_g(self) -> float:
        """Yeast added when the dough is mixed [g]."""
        return self.yeast_g - self.preferment_yeast_g


def unusual(formula: Formula) -> tuple[str, ...]:
    """Shares outside what bakers usually take, in words; nobody is kept from baking it.

    Yeast that is not there rises by levain; a pinch for a night is as usual as what a straight dough takes.
    """
    usual = {figure.quantity: figure for figure in baking_figures()}
    straight, overnight = usual["instant yeast, straight dough"], usual["instant yeast, overnight at room temperature"]
    ranges = {
        "water": (usual["water"].low, usual["water"].high),
        "salt": (usual["salt"].low, usual["salt"].high),
        "yeast": (overnight.low, straight.high),
    }
    return tuple(
        f"{name.capitalize()} of {100 * share:.3g}% is unusual: most bread takes {low:g} to {high:g}% of the flour "
        f"({usual['water'].rule}, common practice)."
        for name, (low, high) in ranges.items()
        if (share := getattr(formula, name)) > 0 and not low <= round(100 * share, 6) <= high
    )


def _range(name: str) -> str:
    return f"at least 0% and at most {MOST[name]:.0%}"
