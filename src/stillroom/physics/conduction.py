"""Cold spot of a jar of food that does not flow: conduction in a finite cylinder with resistance on every side."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt
from scipy.interpolate import CubicSpline
from scipy.special import j0, j1, jn_zeros

from stillroom.physics.history import FloatArray
from stillroom.physics.history_response import Modes

MIN_BIOT, MAX_BIOT = 1e-3, 1e6
FASTEST_PER_MIN = 10.0
SMALLEST_COEFFICIENT = 1e-6
ROOTS_AT_ONCE = 16  # so that jars of about one size share a table of roots


@dataclass(frozen=True, eq=False)
class ConductionJar:
    """Food as a cylinder standing on its base; every field a number or an array of shape (samples,).

    radius_mm, height_mm: inside radius and height of the food; diffusivity_m2_s: 1.0 to 1.9e-7 for moist food;
    conductivity_w_mk: of the food, about 0.5 to 0.65; side, base, top: overall heat transfer from the outside to the
    food surface [W/(m² K)] (`overall_w_m2k`); top 0 is an insulated top. Raises ValueError where a number is not
    positive.
    """

    radius_mm: float | FloatArray
    height_mm: float | FloatArray
    diffusivity_m2_s: float | FloatArray
    conductivity_w_mk: float | FloatArray
    side_w_m2k: float | FloatArray
    base_w_m2k: float | FloatArray
    top_w_m2k: float | FloatArray

    def __post_init__(self) -> None:
        positive = (self.radius_mm, self.height_mm, self.diffusivity_m2_s, self.conductivity_w_mk, self.side_w_m2k)
        if not all((np.asarray(number) > 0).all() for number in (*positive, self.base_w_m2k)):
            raise ValueError("Sizes, diffusivity, conductivity and heat transfer of a jar must be positive.")
        if not (np.asarray(self.top_w_m2k) >= 0).all():
            raise ValueError("Heat transfer through the top can't be negative.")


def overall_w_m2k(film_w_m2k: float | FloatArray, wall_mm: float | FloatArray, wall_w_mk: float = 1.05) -> FloatArray:
    """Heat transfer [W/(m² K)] through a film and a wall in series: 1 / (1/h + wall/k).

    Valid: walls thin against the radius (3 mm on 40 mm: 4 % on the wall's part). Conductivity of soda-lime glass 1.0 to
    1.1: glass handbooks, from memory.
    """
    return np.asarray(1 / (1 / np.asarray(film_w_m2k, float) + np.asarray(wall_mm, float) / 1000 / wall_w_mk), float)


def finite_cylinder_modes(jar: ConductionJar, *, fastest_per_min: float = FASTEST_PER_MIN) -> Modes:
    """Modes of the cold spot of a cylinder: on the axis, where the slowest axial mode is largest.

    Product of the radial series  Σ 2 Bi J0(λ r/R) / ((λ² + Bi²) J0(λ)),  λ J1(λ) = Bi J0(λ),  and of the series of a
    slab with its own Biot number on each face,  β = nπ + atan(Bi_base/β) + atan(Bi_top/β);  rates α (λ²/R² + β²/H²).

    Through a whole cycle the least lethality is there only if the top is insulated or as good as the base. Where little
    heat passes the top, the food under it cools sooner and gets up to a quarter less than this spot: take the top as
    insulated then, which is lower still.

    Modes faster than `fastest_per_min` are left to the ramp lag (exact but for the first instants after a kink).
    Source: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), 3.9, 7.7 and 8.4 (products of solutions).
    """
    radius_m, height_m, diffusivity, conductivity, side, base, top = _si(jar)
    fast_per_s = fastest_per_min / 60
    radial_count = max(6, int(np.sqrt(fast_per_s * (radius_m**2 / diffusivity).max()) / np.pi) + 2)
    axial_count = int(np.sqrt(fast_per_s * (height_m**2 / diffusivity).max()) / np.pi) + 2
    lambdas, radial = radial_series(side * radius_m / conductivity, radial_count)
    base_biot, top_biot = base * height_m / conductivity, top * height_m / conductivity
    betas, axial, place = axial_series(base_biot, top_biot, axial_count)
    radial_rate = 60 * diffusivity / radius_m**2 * lambdas**2
    axial_rate = 60 * diffusivity / height_m**2 * betas**2
    first, second = _kept(radial_rate, axial_rate, radial, axial, fastest_per_min)
    ramp_lag_min = 1 / (4 * 60 * diffusivity) * radius_m**2 * (1 + 2 * conductivity / (side * radius_m))
    end_effect = _end_effect(lambdas * height_m / radius_m, base_biot, top_biot, place)
    ramp_lag_min -= (radial / radial_rate * end_effect).sum(axis=0)
    return Modes(radial_rate[first] + axial_rate[second], radial[first] * axial[second], ramp_lag_min)


def radial_series(biot: FloatArray, count: int) -> tuple[FloatArray, FloatArray]:
    """Roots λ and coefficients on the axis of an infinite cylinder, shape (count, samples); Biot number h R/k.

    Valid: Biot number 0.001 to 10⁶, else ValueError; larger ones count as 10⁶.
    """
    if not (biot >= MIN_BIOT).all():
        raise ValueError(f"Biot number below {MIN_BIOT:g}: such a body has one temperature throughout.")
    biot = np.minimum(biot, MAX_BIOT)
    listed = -(-count // ROOTS_AT_ONCE) * ROOTS_AT_ONCE
    lambdas = np.ascontiguousarray(_radial_roots(listed)(np.log(biot)).T[:count], dtype=np.float64)
    return lambdas, 2 * biot / ((lambdas**2 + biot**2) * j0(lambdas))


@cache
def _radial_roots(count: int) -> CubicSpline:
    """The first roots of λ J1(λ) = Bi J0(λ) as a smooth function of ln Bi; checked to 10⁻⁷ in the tests."""
    log_biot = np.linspace(np.log(MIN_BIOT), np.log(MAX_BIOT), 500)
    biot = np.exp(log_biot)[:, None]
    low = np.append(0.0, jn_zeros(1, count - 1)) + 0 * biot
    high = jn_zeros(0, count) + 0 * biot
    for _ in range(48):
        middle = (low + high) / 2
        below = np.sign(middle * j1(middle) - biot * j0(middle)) == np.sign(low * j1(low) - biot * j0(low))
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return CubicSpline(log_biot, (low + high) / 2)


def axial_series(base_biot: FloatArray, top_biot: FloatArray, count: int) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Roots β and coefficients at the cold spot of a slab with a Biot number h H/k (whole height) on each face.

    Returns roots and coefficients of shape (count, samples) and the place of the cold spot: 0 the base, 1 the top.
    Newton's steps start left of each root of a rising, concave function and so never leave it.
    """
    base_biot, top_biot = np.minimum(base_biot, MAX_BIOT), np.minimum(top_biot, MAX_BIOT)
    number = np.arange(count)[:, None]
    above = np.pi * (number + 1)
    betas = np.pi * number + np.arctan(base_biot / above) + np.arctan(top_biot / above)
    for _ in range(60):
        excess = betas - np.pi * number - np.arctan(base_biot / betas) - np.arctan(top_biot / betas)
        slope = 1 + base_biot / (betas**2 + base_biot**2) + top_biot / (betas**2 + top_biot**2)
        betas -= excess / slope
        if np.abs(excess).max() < 1e-9:
            break
    base_phase, top_square = np.arctan(base_biot / betas), betas**2 + top_biot**2
    base_square = betas**2 + base_biot**2
    integral = (base_biot / np.sqrt(base_square) + (-1.0) ** number * top_biot / np.sqrt(top_square)) / betas
    norm = (1 + base_biot / base_square + top_biot / top_square) / 2
    place = base_phase[0] / betas[0]
    coefficient: FloatArray = integral / norm * np.cos(betas * place - base_phase)
    return np.asarray(betas, dtype=np.float64), coefficient, np.asarray(place, dtype=np.float64)


def _kept(
    radial_rate: FloatArray, axial_rate: FloatArray, radial: FloatArray, axial: FloatArray, fastest_per_min: float
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """Numbers of the radial and axial modes whose products are slow and large enough in any sample, slowest first."""
    slowest = radial_rate.min(axis=1)[:, None] + axial_rate.min(axis=1)
    size = np.abs(radial).max(axis=1)[:, None] * np.abs(axial).max(axis=1)
    keep = (slowest < fastest_per_min) & (size > SMALLEST_COEFFICIENT)
    keep[0, 0] = True
    first, second = np.nonzero(keep)
    order = np.argsort(slowest[first, second])
    return first[order], second[order]


def _end_effect(kappa: FloatArray, base_biot: FloatArray, top_biot: FloatArray, place: FloatArray) -> FloatArray:
    """How much of a radial mode's steady lag the two ends take away at the cold spot [-], shape (modes, samples).

    h'' = κ² h with  −h'(0) = Bi_base (1 − h(0))  and  h'(1) = Bi_top (1 − h(1)), lengths in heights.
    """
    fade = np.exp(-kappa)
    a11, a12, a21, a22 = kappa + base_biot, (base_biot - kappa) * fade, (top_biot - kappa) * fade, kappa + top_biot
    determinant = a11 * a22 - a12 * a21
    from_base = (base_biot * a22 - a12 * top_biot) / determinant
    from_top = (a11 * top_biot - base_biot * a21) / determinant
    return np.asarray(from_base * np.exp(-kappa * place) + from_top * np.exp(-kappa * (1 - place)), dtype=np.float64)


def _si(jar: ConductionJar) -> list[FloatArray]:
    """Radius [m], height [m] and the other fields, each of shape (samples,)."""
    metres = (np.asarray(jar.radius_mm, float) / 1000, np.asarray(jar.height_mm, float) / 1000)
    heat = (jar.diffusivity_m2_s, jar.conductivity_w_mk, jar.side_w_m2k, jar.base_w_m2k, jar.top_w_m2k)
    return [np.atleast_1d(field) for field in np.broadcast_arrays(*metres, *(np.asarray(f, float) for f in heat))]
