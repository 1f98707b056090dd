"""pH of mixed acids in water by charge balance: an estimate that always says “measure”.

It is the pH of the liquid alone. Food in it buffers, and what counts is the pH inside the food after days: nothing
here says that a food is acid enough, and published ranges of food pH are never used for that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scipy.optimize import brentq

from stillroom.errors import OutsideTable
from stillroom.physics.band import Band

WATER_PK = 14.0
REAL_VINEGAR = 0.1  # real vinegar is within about 0.1 of an ideal solution


@dataclass(frozen=True, slots=True)
class Acid:
    """A weak acid: molar mass [g/mol] and its pKa at 25 °C, first step first."""

    name: str
    molar_g: float
    pka: tuple[float, ...]


# pKa at 25 °C: handbook values, acetic and lactic from memory; citric from Ka 7.4e-4, 1.7e-5, 4.0e-7 (an older set
# with a third constant of 4.0e-6 is ten times too large)
ACETIC = Acid("acetic acid", 60.052, (4.757,))
CITRIC = Acid("citric acid", 192.12, (3.13, 4.77, 6.40))
LACTIC = Acid("lactic acid", 90.08, (3.86,))


@dataclass(frozen=True, slots=True)
class Solute:
    """An acid at its whole concentration, dissociated or not [mol/L]."""

    acid: Acid
    mol_l: float

    def __post_init__(self) -> None:
        if not 0 <= self.mol_l <= 5:
            raise OutsideTable("Acids are taken up to 5 mol/L: about 30 % acetic acid.")


@dataclass(frozen=True, slots=True)
class Liquid:
    """A volume [mL] and the acids in it; water has none."""

    volume_ml: float
    solutes: tuple[Solute, ...] = ()

    def __post_init__(self) -> None:
        if not 0 < self.volume_ml < math.inf:
            raise ValueError("Every volume is above zero.")


@dataclass(frozen=True, slots=True)
class PhEstimate:
    """What an ideal solution would have. Not a number to act on: it can't be compared, and it says “measure”."""

    band: Band
    advice: str = "measure with a calibrated meter, in the food and after it has evened out"

    def __post_init__(self) -> None:
        if "measure" not in self.advice:
            raise ValueError("An estimate of pH always says “measure”.")

    def __str__(self) -> str:
        return f"about pH {self.band.low:.1f} to {self.band.high:.1f} for the liquid alone: {self.advice}"


def vinegar(volume_ml: float, acetic_g_l: float) -> Liquid:
    """Vinegar of a strength in grams of acetic acid per litre (5 % is 50 g/L)."""
    return Liquid(volume_ml, (Solute(ACETIC, acetic_g_l / ACETIC.molar_g),))


def mixed(liquids: Sequence[Liquid]) -> Liquid:
    """What several liquids give together: c = Σ c_i V_i/Σ V_i, volumes add.

    Valid: at least one liquid, else ValueError. Source: mass balance; volumes of water and acid add within 1 %.
    """
    if not liquids:
        raise ValueError("A mixture holds at least one liquid.")
    volume_ml = sum(liquid.volume_ml for liquid in liquids)
    amounts: dict[Acid, float] = {}
    for liquid in liquids:
        for solute in liquid.solutes:
            amounts[solute.acid] = amounts.get(solute.acid, 0.0) + solute.mol_l * liquid.volume_ml
    return Liquid(volume_ml, tuple(Solute(acid, amount / volume_ml) for acid, amount in amounts.items()))


def ph_estimate(liquid: Liquid) -> PhEstimate:
    """The ideal pH of a liquid with 0.1 either way, as a type that says “measure”.

    Valid: each acid up to 5 mol/L, no salts or buffers. Food in the liquid raises its pH by an amount that no sum
    foretells; diluting vinegar with as much water raises it by only 0.15, so the pH of a brine says nothing about
    the packed food.
    """
    ph = _ideal_ph(liquid.solutes)
    return PhEstimate(Band(ph - REAL_VINEGAR, ph, ph + REAL_VINEGAR, "pH"))


def _ideal_ph(solutes: Sequence[Solute]) -> float:
    """pH [-] of weak acids in water at 25 °C, activities as concentrations.

    [H] = Kw/[H] + Σ c_i n_i([H]), n = Σ k α_k charges per molecule of each acid

    Valid: each acid up to 5 mol/L, no salts or buffers. Source: charge balance; pKa of each acid as given.
    """

    def excess(ph: float) -> float:
        return 10**-ph - 10 ** (ph - WATER_PK) - sum(s.mol_l * _charges(s.acid, ph) for s in solutes)

    return float(brentq(excess, -1.0, WATER_PK, xtol=1e-10))


def _charges(acid: Acid, ph: float) -> float:
    """Mean number of protons that a molecule has given off [-]."""
    weights, log_k = [1.0], 0.0
    for pka in acid.pka:
        log_k += ph - pka
        weights.append(10**log_k)
    return sum(step * weight for step, weight in enumerate(weights)) / sum(weights)
