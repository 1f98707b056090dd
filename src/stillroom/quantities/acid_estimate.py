"""What pH a mixture of vinegar, water and dry acid would have by itself: an estimate that always says “measure”.

It is no ground for any process. Food in the liquid raises its pH by an amount that no sum foretells, and what counts
is the pH in the middle of the food after days.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.physics.acids import CITRIC, LACTIC, Acid, Liquid, PhEstimate, Solute, mixed, ph_estimate, vinegar
from stillroom.quantities import amounts
from stillroom.quantities.measured_text import read_percent

DRY = {"citric acid": CITRIC, "lactic acid": LACTIC}
STRONGEST = 0.30  # essence; stronger acid is not for a kitchen
CAN_READ = "“vinegar 5%=500 ml”, “water=500 ml”, “citric acid=10 g” or “lactic acid=10 g”"
NO_PROCESS = (
    "This says nothing of the food in it and is no ground for any process: the acid of the tested recipe stands. "
    "Measure the food with a calibrated meter, or with strips proven on a liquid of known pH; keep a "
    "margin to the 4.6 of the law."
)


@dataclass(frozen=True, slots=True)
class Mixture:
    """A liquid [ml], its acids by name [g/L], and its estimate."""

    volume_ml: float
    acids_g_l: dict[str, float]
    estimate: PhEstimate


def mixture(parts: list[str]) -> Mixture:
    """The mixture of parts as a cook writes them; InputError names the part that can't be read.

    Valid: up to 30 % acetic acid and 5 mol/L of any; salt, sugar and food in it are not counted.
    """
    liquids: list[Liquid] = []
    dry: dict[Acid, float] = {}
    for text in parts:
        name, sign, amount = (word.strip() for word in text.partition("="))
        if not sign:
            raise _unreadable(text)
        if (acid := DRY.get(name.lower())) is not None:
            dry[acid] = dry.get(acid, 0.0) + _grams(amount, name)
        else:
            liquids.append(_liquid(name.lower(), amount, text))
    if not liquids:
        raise InputError("An acid alone has no pH; say what it is dissolved in, as in “water=500 ml”.")
    together = mixed(liquids)
    litres = together.volume_ml / 1000
    solutes = (*together.solutes, *(Solute(acid, grams / acid.molar_g / litres) for acid, grams in dry.items()))
    whole = Liquid(together.volume_ml, solutes)
    strengths = {solute.acid.name: solute.mol_l * solute.acid.molar_g for solute in whole.solutes if solute.mol_l > 0}
    if not strengths:
        raise InputError(f"There is no acid in it; write its parts as in {CAN_READ}.")
    return Mixture(whole.volume_ml, strengths, ph_estimate(whole))


def vinegar_ph(volume_ml: float, strength: float) -> PhEstimate:
    """The estimate of a vinegar of this strength [-]."""
    return ph_estimate(vinegar(volume_ml, 1000 * strength))


def _liquid(name: str, amount: str, text: str) -> Liquid:
    volume_ml = amounts.volume_ml(amount)
    if name == "water":
        return Liquid(volume_ml)
    match = re.fullmatch(r"(?:[a-z]+ )?vinegar (.*)", name)
    if match is None:
        raise _unreadable(text)
    strength = read_percent(match[1])
    if not 0 < strength <= STRONGEST:
        raise InputError(f"Vinegar holds more than 0% and at most {STRONGEST:.0%} acid; read the bottle again.")
    return vinegar(volume_ml, 1000 * strength)


def _grams(amount: str, name: str) -> float:
    found = amounts.parse(amount)
    if found.kind != "mass":
        raise InputError(f"“{amount}” of {name} is not a weight; weigh it.")
    return found.value


def _unreadable(text: str) -> InputError:
    if "juice" in text.lower():
        return InputError(f"“{text}”: a juice does not say its acid; measure it. What can be counted: {CAN_READ}.")
    return InputError(f"“{text}” can't be read; write --mix as in {CAN_READ}.")
