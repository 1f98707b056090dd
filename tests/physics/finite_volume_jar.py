"""The same jar by an independent road: finite volumes in (r, z) and a stiff solver. No modes, no Bessel functions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.sparse import csc_matrix, lil_matrix


@dataclass(frozen=True)
class FiniteVolumeJar:
    """One jar in SI units, as in `ConductionJar` but with plain numbers."""

    radius_m: float
    height_m: float
    diffusivity_m2_s: float
    conductivity_w_mk: float
    side_w_m2k: float
    base_w_m2k: float
    top_w_m2k: float


def faces(length_m: float, cells: int) -> np.ndarray:
    """Cell faces along one side."""
    return np.linspace(0.0, length_m, cells + 1)


def operator(jar: FiniteVolumeJar, radial_cells: int, axial_cells: int) -> tuple[csc_matrix, np.ndarray]:
    """dT/dt = A T + b T_outside [1/s]: fluxes over faces divided by ρ c V, with k/(ρ c) = diffusivity."""
    r_face, z_face = faces(jar.radius_m, radial_cells), faces(jar.height_m, axial_cells)
    dr, dz = r_face[1], z_face[1]
    k, heat_capacity = jar.conductivity_w_mk, jar.conductivity_w_mk / jar.diffusivity_m2_s
    matrix, outside = lil_matrix((radial_cells * axial_cells,) * 2), np.zeros(radial_cells * axial_cells)
    for i in range(radial_cells):
        ring = np.pi * (r_face[i + 1] ** 2 - r_face[i] ** 2)
        for j in range(axial_cells):
            here, capacity = i * axial_cells + j, heat_capacity * ring * dz
            links = []
            if i > 0:
                links.append((here - axial_cells, k / dr * 2 * np.pi * r_face[i] * dz))
            if i < radial_cells - 1:
                links.append((here + axial_cells, k / dr * 2 * np.pi * r_face[i + 1] * dz))
            else:
                links.append((None, 2 * np.pi * jar.radius_m * dz / (dr / 2 / k + 1 / jar.side_w_m2k)))
            for neighbour, film in ((j - 1, jar.base_w_m2k), (j + 1, jar.top_w_m2k)):
                if 0 <= neighbour < axial_cells:
                    links.append((i * axial_cells + neighbour, k / dz * ring))
                elif film > 0:
                    links.append((None, ring / (dz / 2 / k + 1 / film)))
            for other, conductance_w_k in links:
                matrix[here, here] -= conductance_w_k / capacity
                if other is None:
                    outside[here] += conductance_w_k / capacity
                else:
                    matrix[here, other] += conductance_w_k / capacity
    return csc_matrix(matrix), outside


@dataclass(frozen=True)
class Solution:
    """Heights of the cell centres [m], temperatures on the axis [°C] (times, axial cells), all cells at the end."""

    height_m: np.ndarray
    axis_c: np.ndarray
    last_c: np.ndarray

    def at_height(self, height_m: float) -> np.ndarray:
        """Temperatures on the axis at one height [°C], shape (times,)."""
        return CubicSpline(self.height_m, self.axis_c, axis=1)(height_m)


def solve(
    jar: FiniteVolumeJar,
    kink_time_min: np.ndarray,
    kink_temp_c: np.ndarray,
    initial_c: float | np.ndarray,
    at_min: np.ndarray,
    *,
    radial_cells: int = 40,
    axial_cells: int = 60,
) -> Solution:
    """Temperatures at the times `at_min`, from one temperature or from the last cells of another solution.

    Solved piece by piece so that no step jumps over a kink; the axis value is a parabola through the two inmost cells.
    """
    matrix, outside = operator(jar, radial_cells, axial_cells)
    state = np.zeros(radial_cells * axial_cells) + initial_c
    rows = np.empty((len(at_min), radial_cells * axial_cells))
    rows[at_min <= kink_time_min[0]] = state
    pieces = zip(kink_time_min, kink_time_min[1:], kink_temp_c, kink_temp_c[1:], strict=False)
    for start, end, start_c, end_c in pieces:
        inside = (at_min > start) & (at_min <= end)
        span_s = (end - start) * 60
        slope_per_s = (end_c - start_c) / span_s
        wanted_s = np.minimum((at_min[inside] - start) * 60, span_s)
        grid_s = np.union1d(wanted_s, span_s)
        solved = solve_ivp(
            lambda t, y, c=start_c, s=slope_per_s: matrix @ y + outside * (c + s * t),
            (0.0, span_s),
            state,
            method="BDF",
            jac=lambda _t, _y: matrix,
            t_eval=grid_s,
            rtol=1e-6,
            atol=1e-5,
        )
        rows[inside] = solved.y[:, np.searchsorted(grid_s, wanted_s)].T
        state = solved.y[:, -1]
    grid = rows.reshape(len(at_min), radial_cells, axial_cells)
    axis = grid[:, 0] + (grid[:, 0] - grid[:, 1]) / 8  # T = a + b r² through r = dr/2 and 3 dr/2
    return Solution(faces(jar.height_m, axial_cells)[:-1] + jar.height_m / axial_cells / 2, axis, state)
