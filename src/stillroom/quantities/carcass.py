"""Breaks down an animal: live weight to carcass, carcass to parts; the shares of the parts never exceed the whole."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from stillroom.errors import InputError, SourceError
from stillroom.tables.rules import Rule, rule


@dataclass(frozen=True, slots=True)
class Species:
    """Printed figures of one kind of animal: dressing share of live weight, parts as shares of the carcass [-]."""

    name: str
    dressing: tuple[float, float]
    parts: tuple[tuple[str, float], ...]
    rest: str
    rules: tuple[Rule, ...]

    def __post_init__(self) -> None:
        low, high = self.dressing
        if not (0 < low <= high < 1 and all(share > 0 for _, share in self.parts)):
            raise SourceError(f"The carcass figures of {self.name} are not shares.")
        if sum(share for _, share in self.parts) > 1 + 1e-9:
            raise SourceError(f"The parts of {self.name} add up to more than the carcass.")


@dataclass(frozen=True, slots=True)
class Breakdown:
    """A carcass [g, low and high] and its parts [g, at the middle of the range], the rest last."""

    species: Species
    carcass_low_g: float
    carcass_high_g: float
    parts_g: tuple[tuple[str, float], ...]


@cache
def all_species() -> dict[str, Species]:
    """The animals whose figures are printed, by name."""
    text = (files("stillroom.quantities") / "data" / "carcass.toml").read_text(encoding="utf-8")
    return {
        name: Species(
            name=name,
            dressing=(row["dressing"][0], row["dressing"][1]),
            parts=tuple(row.get("parts", {}).items()),
            rest=row["rest"],
            rules=tuple(rule(rule_id) for rule_id in row["rules"]),
        )
        for name, row in tomllib.loads(text)["species"].items()
    }


def break_down(name: str, mass_g: float, state: Literal["live", "carcass"]) -> Breakdown:
    """What an animal of `mass_g` [g] gives; InputError for an animal without printed figures.

    The parts are estimates for butchers' cuts with bone; breed, fat and cutter move them by several per cent.
    """
    species = all_species().get(name)
    if species is None:
        raise InputError(f"No carcass figures are known for “{name}”; known are: {', '.join(sorted(all_species()))}.")
    if not mass_g > 0:
        raise InputError("The animal must weigh more than nothing.")
    low, high = species.dressing if state == "live" else (1.0, 1.0)
    middle_g = mass_g * (low + high) / 2
    parts = [(part, share * middle_g) for part, share in species.parts]
    left_g = middle_g - sum(part_g for _, part_g in parts)
    if left_g > 1e-6 * middle_g:
        parts.append((species.rest, left_g))
    return Breakdown(species, mass_g * low, mass_g * high, tuple(parts))
