"""Equilibrium cures: how much curing mix and salt for this meat, with the nitrite limit of the product.

All sums are on the green (raw) weight. ppm = g nitrite × 10⁶ / g basis, where the basis is
- dry and ground: the meat (Processing Inspectors' Calculations Handbook, USDA FSIS Directive 7620.3, ch. 3);
- brine until equal (Method Two): meat + brine;
- pumped (Method One): brine / pump fraction, so that ppm = g nitrite × pump fraction × 10⁶ / g brine.
The handbook writes “% nitrite” where the fraction is meant: 6.25 % is 0.0625 here, and nothing else is let in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError, Refusal
from stillroom.quantities import curing_limits
from stillroom.quantities.brine import SATURATED_FRACTION
from stillroom.quantities.curing_limits import CuredProduct, CureMethod, NitriteLimit

WEAKEST_MIX = 0.003  # European nitrite salts hold 0.4 to 0.9 % (memory)
STRONGEST_MIX = 0.10  # US mix No. 1 holds 6.25 %; anything near pure nitrite kills by the teaspoon
MOST_SALT = 0.10  # of the basis; more is a slip of the decimal point
STEPS_PER_G = 10  # a scale that shows 0.1 g


@dataclass(frozen=True, slots=True)
class Mix:
    """A curing mix: the share of sodium nitrite and nitrate by weight [-]; the rest is salt."""

    nitrite_fraction: float
    nitrate_fraction: float = 0.0

    def __post_init__(self) -> None:
        if not WEAKEST_MIX <= self.nitrite_fraction <= STRONGEST_MIX:
            raise Refusal(
                f"A curing mix with {self.nitrite_fraction:.4%} nitrite is outside {WEAKEST_MIX:.1%} to "
                f"{STRONGEST_MIX:.0%}: read the pack again, and never weigh out pure nitrite at home."
            )
        if not 0 <= self.nitrate_fraction <= STRONGEST_MIX:
            raise Refusal(f"A curing mix with {self.nitrate_fraction:.4%} nitrate is not one; read the pack again.")

    @property
    def salt_fraction(self) -> float:
        """Share of salt [-]."""
        return 1 - self.nitrite_fraction - self.nitrate_fraction


@dataclass(frozen=True, slots=True)
class CureOrder:
    """What is to be cured and how; `salt_fraction` and `sugar_fraction` are shares of the basis [-]."""

    product: CuredProduct
    method: CureMethod
    meat_g: float
    mix: Mix
    salt_fraction: float
    sugar_fraction: float = 0.0
    brine_g: float = 0.0  # whole brine, salt and sugar counted
    pump_fraction: float = 0.0  # brine taken up, as a share of the green weight

    def __post_init__(self) -> None:
        if not (math.isfinite(self.meat_g) and self.meat_g > 0):
            raise InputError("The meat must weigh more than nothing.")
        if not 0 < self.salt_fraction <= MOST_SALT:
            raise InputError(f"Salt of {self.salt_fraction:.1%} is out of range; write more than 0 and at most 10%.")
        if not 0 <= self.sugar_fraction <= MOST_SALT:
            raise InputError(f"Sugar of {self.sugar_fraction:.1%} is out of range; write at most 10%.")
        wet = self.method in (CureMethod.BRINE, CureMethod.PUMPED)
        if wet != (self.brine_g > 0):
            raise InputError("Say how much brine is made." if wet else "Brine belongs to the methods brine and pumped.")
        if (self.method is CureMethod.PUMPED) != (self.pump_fraction > 0) or self.pump_fraction > 0.3:
            raise InputError("A pumped cure, and only that, needs the share of brine pumped in, at most 30%.")
        if self.method is CureMethod.PUMPED and self.brine_g < self.meat_g * self.pump_fraction:
            raise InputError(f"The pump needs at least {self.meat_g * self.pump_fraction:.0f} g of brine; make more.")

    @property
    def basis_g(self) -> float:
        """The mass that shares the cure [g]; see the module."""
        if self.method is CureMethod.BRINE:
            return self.meat_g + self.brine_g
        return self.brine_g / self.pump_fraction if self.method is CureMethod.PUMPED else self.meat_g


@dataclass(frozen=True, slots=True)
class CureAmounts:
    """What to weigh out [g]; `mix_bench_g` is `mix_g` rounded down to the scale."""

    mix_g: float
    mix_bench_g: float
    nitrite_g: float
    salt_total_g: float
    salt_in_mix_g: float
    plain_salt_g: float
    sugar_g: float
    ascorbate_g: float
    water_g: float
    ppm: float
    nitrate_ppm: float
    limit: NitriteLimit


def ppm(order: CureOrder, mix_g: float) -> float:
    """Ingoing nitrite from `mix_g` of the mix [ppm of the basis]."""
    return mix_g * order.mix.nitrite_fraction * 1e6 / order.basis_g


def amounts(order: CureOrder, nitrite_ppm: float) -> CureAmounts:
    """Mix and salt that give `nitrite_ppm`; Refusal above the limit of product and method."""
    printed = _allowed(order, nitrite_ppm)
    nitrite_g = nitrite_ppm * 1e-6 * order.basis_g
    mix_g = nitrite_g / order.mix.nitrite_fraction
    salt_total_g = order.salt_fraction * order.basis_g
    salt_in_mix_g = mix_g * order.mix.salt_fraction
    if salt_in_mix_g > salt_total_g:
        raise InputError(
            f"This mix alone brings {salt_in_mix_g / order.basis_g:.2%} salt, more than the {order.salt_fraction:.2%} "
            "asked for: ask for more salt, less nitrite, or use a stronger mix."
        )
    plain_salt_g = salt_total_g - salt_in_mix_g
    sugar_g = order.sugar_fraction * order.basis_g
    ascorbate_g = printed.ascorbate_ppm * 1e-6 * order.basis_g
    return CureAmounts(
        mix_g=mix_g,
        mix_bench_g=math.floor(mix_g * STEPS_PER_G + 1e-9) / STEPS_PER_G,
        nitrite_g=nitrite_g,
        salt_total_g=salt_total_g,
        salt_in_mix_g=salt_in_mix_g,
        plain_salt_g=plain_salt_g,
        sugar_g=sugar_g,
        ascorbate_g=ascorbate_g,
        water_g=_water_g(order, mix_g + plain_salt_g + sugar_g + ascorbate_g, salt_total_g),
        ppm=nitrite_ppm,
        nitrate_ppm=nitrite_ppm * order.mix.nitrate_fraction / order.mix.nitrite_fraction,
        limit=printed,
    )


def _allowed(order: CureOrder, nitrite_ppm: float) -> NitriteLimit:
    """The printed limit, when nitrite, nitrate and salt all keep it."""
    printed = curing_limits.limit(order.product, order.method)
    if not (math.isfinite(nitrite_ppm) and nitrite_ppm > 0):
        raise InputError("The nitrite must be more than 0 ppm; a cure without nitrite is a plain salting.")
    if nitrite_ppm > printed.nitrite_ppm * (1 + 1e-12):
        raise Refusal(
            f"{nitrite_ppm:.6g} ppm nitrite is above the limit of {printed.nitrite_ppm:g} ppm for {order.product}, "
            f"{order.method} cure; take {printed.nitrite_ppm:g} ppm or less."
        )
    if order.mix.nitrate_fraction > 0:
        _nitrate_allowed(order, nitrite_ppm)
    least = curing_limits.least_salt_fraction(order.product)
    if order.salt_fraction < least:
        raise Refusal(f"{order.product.capitalize()} needs at least {least:.1%} salt, the mix counted; ask for more.")
    return printed


def _nitrate_allowed(order: CureOrder, nitrite_ppm: float) -> None:
    if not curing_limits.may_hold_nitrate(order.product):
        raise Refusal(f"A mix with nitrate does not go into {order.product}; use a mix with nitrite only.")
    nitrate_ppm = nitrite_ppm * order.mix.nitrate_fraction / order.mix.nitrite_fraction
    most = curing_limits.most_nitrate_ppm()
    if nitrate_ppm > most:
        raise Refusal(
            f"{nitrate_ppm:.4g} ppm nitrate is above the {most:g} ppm allowed from a household curing mix "
            "(21 CFR 172.170); take less of the mix."
        )


def _water_g(order: CureOrder, dissolved_g: float, salt_g: float) -> float:
    """Water of the brine [g]; 0 for the dry methods. InputError when so much would not dissolve."""
    if order.brine_g == 0:
        return 0.0
    water_g = order.brine_g - dissolved_g
    if water_g <= 0 or salt_g / (salt_g + water_g) > SATURATED_FRACTION:
        raise InputError("So much salt does not dissolve in this brine; make more brine, or ask for less salt.")
    return water_g
