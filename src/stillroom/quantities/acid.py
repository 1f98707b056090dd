"""Vinegar arithmetic: mixing to a strength, diluting a strong vinegar, and never below what a tested recipe asks for.

Strength is % acetic acid as on the bottle. The strength of the liquid says nothing about the pH of the food in the
jar: diluting vinegar with as much water moves its pH by only 0.15. A mixture is calculated here; safe it is only in
the proportions of a tested recipe, or when a calibrated pH meter has measured the food. Measure.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError, Refusal
from stillroom.model.process import Evidence, JarSize, ProcessRow
from stillroom.quantities.unit_words import MILLILITRES, UNIT_WORDS
from stillroom.tables.acids import Acid, acids
from stillroom.tables.processes import rows_for

TESTED_STRENGTH = 0.05  # the vinegar of the tested recipes: 5 % acetic, 50 grain
STRONGEST = 0.30  # essence; stronger acid burns and is not for a kitchen
MEASURE = (
    "This is a sum, not a test: keep the proportions of a tested recipe, and measure the food in the jar with a "
    "calibrated pH meter where you have one (4.6 is the legal limit; keep a margin)."
)
BURNS_FROM = 0.10  # acetic acid irritates from 10 % and burns from 25 %: classification in the EU, from memory
BURNS = (
    "Acid of this strength hurts skin and eyes, and worse: gloves, goggles, an open window, out of reach of children. "
    "The water first, then the acid into it; label the bottle. Follow what its maker prints."
)


def cautions(strongest: float) -> tuple[str, ...]:
    """What is said beside every mixture; of the strongest acid in it [-] too, where it burns."""
    return (BURNS, MEASURE) if strongest >= BURNS_FROM else (MEASURE,)


@dataclass(frozen=True, slots=True)
class Vinegar:
    """A volume [ml] and its acetic acid [-]; 0 is water."""

    volume_ml: float
    strength: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.volume_ml) and self.volume_ml > 0):
            raise InputError("Every volume must be more than nothing.")
        if not 0 <= self.strength <= STRONGEST:
            raise InputError(f"Vinegar is 0% to {STRONGEST:.0%} acetic acid; read the bottle again.")


@dataclass(frozen=True, slots=True)
class Blend:
    """How much of a stronger and a weaker liquid make a volume [ml] of the wanted strength."""

    stronger_ml: float
    weaker_ml: float
    strength: float


def mixed(*vinegars: Vinegar) -> Vinegar:
    """What several vinegars and waters give together; densities are taken as equal (error under 1 %)."""
    volume_ml = sum(vinegar.volume_ml for vinegar in vinegars)
    acid_ml = sum(vinegar.volume_ml * vinegar.strength for vinegar in vinegars)
    return Vinegar(volume_ml, acid_ml / volume_ml)


def blend(volume_ml: float, wanted: float, stronger: float, weaker: float = 0.0) -> Blend:
    """How to make `volume_ml` of strength `wanted` [-] from two strengths; weaker = 0 is water.

    Refusal when a vinegar of 5 % or more is to be brought below 5 %: tested recipes count on 5 % and say themselves
    how much water goes in.
    """
    Vinegar(volume_ml, stronger)
    if not 0 <= weaker < stronger <= STRONGEST:
        raise InputError("The stronger vinegar must be stronger than the weaker one; 0% is water.")
    if not weaker <= wanted <= stronger:
        raise InputError(f"{wanted:.1%} is not between the two strengths; nothing is made stronger by mixing.")
    if wanted < TESTED_STRENGTH:
        raise Refusal(
            f"Vinegar below {TESTED_STRENGTH:.0%} acetic acid is not used for preserving: tested recipes count on "
            f"{TESTED_STRENGTH:.0%} and say themselves how much water goes in. Buy {TESTED_STRENGTH:.0%} vinegar."
        )
    share = (wanted - weaker) / (stronger - weaker)
    return Blend(volume_ml * share, volume_ml * (1 - share), wanted)


def check_strength(strength: float, recipe_strength: float = TESTED_STRENGTH) -> None:
    """Refusal when vinegar of `strength` [-] is weaker than the recipe's; a stronger one is only sourer."""
    if strength < recipe_strength:
        raise Refusal(
            f"Vinegar of {strength:.1%} is weaker than the {recipe_strength:.0%} that the recipe was tested with; "
            "no larger volume makes up for it. Use vinegar of at least that strength."
        )


@dataclass(frozen=True, slots=True)
class AcidNeed:
    """One of several ways to acidify all jars: the printed amount per jar and the total [ml]."""

    agent: str
    per_jar: tuple[tuple[JarSize, Acid], ...]
    total_ml: float


def for_jars(process_food: str, jars: dict[JarSize, int]) -> tuple[AcidNeed, ...]:
    """Every printed way to acidify these jars of a food of the process tables; each way alone is enough.

    Rows from memory are left out. InputError when no acid is printed for the food or for one of the jars.
    """
    rows = [row for row in acids(process_food) if row.evidence != Evidence.MEMORY]
    if not rows:
        raise _no_acid(process_food)
    needs = []
    for agent in dict.fromkeys(row.agent for row in rows):
        by_jar = {row.jar: row for row in rows if row.agent == agent}
        if all(jar in by_jar for jar in jars):
            total_ml = sum(
                count * by_jar[jar].amount * MILLILITRES[UNIT_WORDS[by_jar[jar].unit]] for jar, count in jars.items()
            )
            needs.append(AcidNeed(agent, tuple((jar, by_jar[jar]) for jar in jars), total_ml))
    if not needs:
        sizes = ", ".join(dict.fromkeys(row.jar.value.replace("_", " ") for row in rows))
        raise InputError(f"Acid for {process_food} is printed for these jars only: {sizes}.")
    return tuple(needs)


def refuse_low_acid(process_food: str) -> None:
    """Refusal for a food whose every tested process is under pressure: acid does not bring it into boiling water."""
    tested = _tested(process_food)
    if tested and all(row.is_pressure for row in tested) and not acids(process_food):
        raise Refusal(
            f"{process_food.capitalize()} is low in acid and needs its own tested process under pressure: "
            "acid never takes the place of that."
        )


def _tested(process_food: str) -> list[ProcessRow]:
    return [row for row in rows_for(process_food) if row.evidence != Evidence.MEMORY]


def _no_acid(process_food: str) -> InputError:
    """Why no acid is printed jar by jar, in the words of the food's own process where it has one."""
    start = f"No acid per jar is printed for {process_food}"
    printed = {row.acidification for row in _tested(process_food) if not row.is_pressure}
    if printed:
        return InputError(f"{start} here; its tested process says: {'; '.join(sorted(printed))}.")
    return InputError(f"{start}, and acid never takes the place of its own tested process.")
