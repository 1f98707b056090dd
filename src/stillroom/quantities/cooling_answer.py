"""All that is told of a pot that has to cool: the pot as it is, shallow pans, ice; figures and sentences."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.physics.pots import Pan, Pot
from stillroom.physics.two_stages import TwoStages
from stillroom.quantities.cold_text import AUTHORITY, MODEL, hours_words, source_words, span_words, temp_words
from stillroom.quantities.cooling import (
    FILLED_C,
    PAN,
    Around,
    Ice,
    Pace,
    Pans,
    Way,
    cooling_rule,
    ice_for,
    litres,
    pans_for,
    pot_of,
    ways_for,
)
from stillroom.quantities.food_parts import FoodParts
from stillroom.tables.constants import constant
from stillroom.units import celsius

MOST_KG = 200.0
COOLING_RULES = ("R095", "R096", "R097", "R105")


@dataclass(frozen=True, slots=True)
class CoolingAnswer:
    """A mass of food [kg] that is `from_c` warm: ways for the pot it stands in (if told), pans of one size, ice."""

    parts: FoodParts
    mass_kg: float
    litres: float
    from_c: float
    pot: Pot | None
    ways: tuple[Way, ...]
    pan: Pan
    pans: tuple[Pans, ...]
    ice: Ice

    @property
    def sentences(self) -> tuple[str, ...]:
        """What a cook reads, in order."""
        return (rule_words(cooling_rule()), *self._pot_words(), *self._pan_words(), self._ice_words())

    def _pot_words(self) -> tuple[str, ...]:
        if self.pot is None:
            return ()
        return (
            f"As it is, {100 * self.pot.depth_m:.1f} cm deep with the lid off (first stage; in all):",
            *(
                f"- {way.how}: {hours_words(way.cooling.first)}; {hours_words(way.cooling.total)}: "
                f"{way.cooling.verdict.value}"
                for way in self.ways
            ),
        )

    def _pan_words(self) -> tuple[str, ...]:
        sides = f"{100 * self.pan.length_m:.3g} × {100 * self.pan.width_m:.3g} cm"
        words = []
        for each in self.pans:
            if each.depth_m is None:
                words.append(f"Shallow pans {each.how}: no layer of a centimetre or more surely makes it.")
            else:
                many = "pan" if each.count == 1 else "pans"
                depth_cm = 100 * each.depth_m
                words.append(f"{each.count} {many} of {sides} {each.how}, no deeper than {depth_cm:.1f} cm.")
        return tuple(words)

    def _ice_words(self) -> str:
        return (
            f"Ice for a bath with as much tap water as food: {span_words(self.ice.at_once, 'kg')}, or "
            f"{span_words(self.ice.after_water, 'kg')} where tap water, changed as it warms, takes the first heat."
        )


def cool(
    parts: FoodParts, mass_kg: float, kitchen: Around, *, from_c: float = FILLED_C, pot_m: float = 0.0, pan: Pan = PAN
) -> CoolingAnswer:
    """Everything at once; `pot_m` is the inside width of the pot [m], 0 if not told; its wall is that of `pan`.

    Raises InputError for a pot or pan that can't be, and for more than a kitchen cools at once.
    """
    if not mass_kg <= MOST_KG:
        raise InputError(f"{mass_kg:.0f} kg is no pot of a kitchen; up to {MOST_KG:.0f} kg can be told. Divide it.")
    pot = pot_of(parts, mass_kg, pot_m, pan.wall_m2_k_w) if pot_m else None
    return CoolingAnswer(
        parts,
        mass_kg,
        litres(parts, mass_kg),
        from_c,
        pot,
        ways_for(parts, pot, kitchen, from_c) if pot else (),
        pan,
        pans_for(parts, mass_kg, kitchen, pan),
        ice_for(parts, mass_kg, kitchen, from_c),
    )


def rule_words(rule: TwoStages) -> str:
    """The two-stage rule in one sentence."""
    return (
        f"The rule: {temp_words(rule.first_c)} within {rule.first_h:g} h of {temp_words(rule.start_c)}, and "
        f"{temp_words(rule.last_c)} within {rule.total_h:g} h in all."
    )


def pace_words(found: Pace) -> str:
    """What two readings say."""
    start = temp_words(cooling_rule().start_c)
    before = (
        f". Its clock began at {start}, before the first reading, and the hours here suppose this pace all along: "
        "add those in which it cooled more slowly, or throw it out if nobody knows them"
    )
    return (
        f"At the pace of both readings: first stage {hours_words(found.first)} ({hours_words(found.left)} from now), "
        f"in all {hours_words(found.total)}: {found.verdict.value}{before if found.began_unseen else ''}"
    )


def cooling_cautions() -> tuple[str, ...]:
    """What holds for every pot."""
    reheat_c, rule = celsius(constant("reheat_f").value), cooling_rule()
    return (
        f"Not down to {temp_words(rule.first_c)} when the {rule.first_h:g} h are over: reheat it then and there to "
        f"{temp_words(reheat_c)} and cool it a quicker way, or throw it out. Found out later, or the second "
        "stage missed: throw it out, no heating makes it good (common practice, no source).",
        MODEL,
        AUTHORITY,
    )


def cooling_sources() -> str:
    """Where the rule is printed."""
    return source_words(*COOLING_RULES)
