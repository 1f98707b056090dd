"""Slab, infinite cylinder and sphere with surface resistance: roots, coefficients, temperature ratios.

Y = (T − T_around)/(T_start − T_around) = Σ Cᵢ X(ζᵢ x/L) exp(−ζᵢ² Fo),  Fo = α t/L²,  Bi = h L/k

with L the half thickness or the radius. The first term alone is good to 2 % from Fo = 0.2 on.
Source: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), 3.11, 7.7 and 9.4.
"""

from __future__ import annotations

from enum import Enum
from functools import cache

import numpy as np
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

from stillroom.physics.history import FloatArray

MIN_BIOT, MAX_BIOT = 1e-6, 1e8


class Shape(Enum):
    """The three bodies in which heat flows one way."""

    SLAB = "slab"
    CYLINDER = "infinite cylinder"
    SPHERE = "sphere"


@cache
def roots(shape: Shape, biot: float, count: int) -> tuple[float, ...]:
    """The first roots ζ.

    Slab ζ tan ζ = Bi; cylinder ζ J1 = Bi J0; sphere 1 − ζ cot ζ = Bi. Valid: Bi from 10⁻⁶ to 10⁸, else ValueError.
    """
    if not MIN_BIOT <= biot <= MAX_BIOT:
        raise ValueError(f"The Biot number must lie between {MIN_BIOT:g} and {MAX_BIOT:g}.")
    return tuple(
        float(brentq(_condition, low, high, args=(shape, biot), xtol=1e-13)) for low, high in _brackets(shape, count)
    )


def _condition(root: float, shape: Shape, biot: float) -> float:
    if shape is Shape.SLAB:
        return float(root * np.sin(root) - biot * np.cos(root))
    if shape is Shape.CYLINDER:
        return float(root * j1(root) - biot * j0(root))
    return float((1 - biot) * np.sin(root) - root * np.cos(root))


def _brackets(shape: Shape, count: int) -> list[tuple[float, float]]:
    """Between the roots of an insulated body and of one whose surface takes the temperature around at once."""
    number = np.arange(count)
    if shape is Shape.CYLINDER:
        return list(zip(np.append(1e-12, jn_zeros(1, count)[: count - 1]), jn_zeros(0, count), strict=True))
    if shape is Shape.SLAB:
        return list(zip(np.maximum(number * np.pi, 1e-12), (number + 0.5) * np.pi, strict=True))
    first_low = np.where(number == 0, 1e-6, number * np.pi + 1e-12)
    return list(zip(first_low, (number + 1) * np.pi, strict=True))


def coefficients(shape: Shape, biot: float, count: int) -> FloatArray:
    """The coefficients C of the first roots."""
    zeta = np.array(roots(shape, biot, count))
    if shape is Shape.SLAB:
        return np.asarray(4 * np.sin(zeta) / (2 * zeta + np.sin(2 * zeta)), dtype=np.float64)
    if shape is Shape.CYLINDER:
        return np.asarray(2 * j1(zeta) / (zeta * (j0(zeta) ** 2 + j1(zeta) ** 2)), dtype=np.float64)
    return np.asarray(4 * (np.sin(zeta) - zeta * np.cos(zeta)) / (2 * zeta - np.sin(2 * zeta)), dtype=np.float64)


def temperature_ratio(shape: Shape, biot: float, fourier: float, *, place: float = 0.0, terms: int = 40) -> float:
    """Y [-] at `place` (0 the middle, 1 the surface) after the Fourier number `fourier`.

    Valid: place 0 to 1; Fo above about 0.001 with 40 terms. One term is the printed charts' answer; charts themselves
    read up to 14 % off.
    """
    zeta = np.array(roots(shape, biot, terms))
    return float(
        (coefficients(shape, biot, terms) * _profile(shape, zeta * place) * np.exp(-(zeta**2) * fourier)).sum()
    )


def _profile(shape: Shape, argument: FloatArray) -> FloatArray:
    if shape is Shape.SLAB:
        return np.asarray(np.cos(argument), dtype=np.float64)
    if shape is Shape.CYLINDER:
        return np.asarray(j0(argument), dtype=np.float64)
    return np.asarray(np.sinc(argument / np.pi), dtype=np.float64)


def fourier_for_ratio(shape: Shape, biot: float, ratio: float, *, place: float = 0.0, terms: int = 40) -> float:
    """Fourier number at which Y falls to `ratio` (0 < ratio < 1, else ValueError). The other way round of the above."""
    if not 0 < ratio < 1:
        raise ValueError("The temperature ratio must lie between 0 and 1.")
    return float(
        brentq(
            lambda fourier: temperature_ratio(shape, biot, fourier, place=place, terms=terms) - ratio,
            1e-4,
            1e4 / biot + 1e2,
        )
    )
