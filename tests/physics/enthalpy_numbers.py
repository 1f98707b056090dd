"""Freezing and thawing by numbers: enthalpy in cells, method of lines, no code shared with the formulas it checks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

KELVIN_STEPS = np.linspace(-60.0, 110.0, 34001)


@dataclass(frozen=True)
class Body:
    """Specific heats [J/(kg K)], heat of freezing down to −18 °C [J/kg], conductivities [W/(m K)], freezing point."""

    density: float
    heat_unfrozen: float
    heat_frozen: float
    latent: float
    k_unfrozen: float
    k_frozen: float
    freezing_c: float


def ice_share(body: Body, temp_c):
    """Ice against that at −18 °C by Raoult's law: (1 − tf/t)/(1 − tf/−18)."""
    colder = np.minimum(temp_c, body.freezing_c)
    return (1 - body.freezing_c / colder) / (1 - body.freezing_c / -18.0)


def enthalpy_table(body: Body):
    over = KELVIN_STEPS - body.freezing_c
    sensible = np.where(over > 0, body.heat_unfrozen * over, body.heat_frozen * over)
    return sensible - body.latent * ice_share(body, KELVIN_STEPS)


def time_to_centre(body: Body, half_m, film, *, from_c, around_c, stop_c, power=0, cells=40, days=20.0) -> float:
    """Seconds until the middle cell is at `stop_c`; power 0 slab, 1 cylinder, 2 sphere; surface with a film."""
    table = enthalpy_table(body)
    edges = np.linspace(0, half_m, cells + 1)
    volume = np.diff(edges ** (power + 1)) / (power + 1)
    area = edges**power
    width = half_m / cells
    sign = 1.0 if stop_c > from_c else -1.0

    def temps(enthalpy):
        return np.interp(enthalpy, table, KELVIN_STEPS)

    def slope(_, enthalpy):
        temp = temps(enthalpy)
        k = body.k_unfrozen + (body.k_frozen - body.k_unfrozen) * ice_share(body, temp)
        between = 2 / (1 / k[1:] + 1 / k[:-1])
        flow = np.zeros(cells + 1)
        flow[1:-1] = between * (temp[:-1] - temp[1:]) / width
        flow[-1] = (temp[-1] - around_c) / (1 / film + width / 2 / k[-1])
        return -np.diff(area * flow) / (body.density * volume)

    def arrived(_, enthalpy):
        return sign * (temps(enthalpy[:1])[0] - stop_c)

    arrived.terminal = True
    start = np.full(cells, np.interp(from_c, KELVIN_STEPS, table))
    done = solve_ivp(
        slope,
        (0, days * 86400),
        start,
        method="LSODA",
        events=arrived,
        rtol=1e-5,
        atol=20.0,
        lband=1,
        uband=1,
    )
    assert done.t_events[0].size, "never arrived"
    return float(done.t_events[0][0])


def block_time_to_centre(
    body: Body, halves_m, film, *, from_c, around_c, stop_c, cells=(12, 12, 12), days=20.0
) -> float:
    """As `time_to_centre` for a block, an eighth of it, small explicit steps."""
    table = enthalpy_table(body)
    widths = [half / n for half, n in zip(halves_m, cells, strict=True)]
    fastest = max(
        body.k_frozen / (body.density * body.heat_frozen), body.k_unfrozen / (body.density * body.heat_unfrozen)
    )
    step_s = 0.4 / (fastest * 2 * sum(1 / width**2 for width in widths))
    enthalpy = np.full(cells, np.interp(from_c, KELVIN_STEPS, table))
    sign = 1.0 if stop_c > from_c else -1.0
    time_s, before = 0.0, from_c
    while time_s < days * 86400:
        temp = np.interp(enthalpy, table, KELVIN_STEPS)
        if sign * (temp[0, 0, 0] - stop_c) >= 0:
            return time_s - step_s * (temp[0, 0, 0] - stop_c) / (temp[0, 0, 0] - before)
        before = temp[0, 0, 0]
        k = body.k_unfrozen + (body.k_frozen - body.k_unfrozen) * ice_share(body, temp)
        change = np.zeros(cells)
        for axis, width in enumerate(widths):
            t, c = np.moveaxis(temp, axis, 0), np.moveaxis(k, axis, 0)
            flow = np.zeros((t.shape[0] + 1, *t.shape[1:]))
            flow[1:-1] = 2 / (1 / c[1:] + 1 / c[:-1]) * (t[:-1] - t[1:]) / width
            flow[-1] = (t[-1] - around_c) / (1 / film + width / 2 / c[-1])
            change -= np.moveaxis(np.diff(flow, axis=0), 0, axis) / (body.density * width)
        enthalpy = enthalpy + step_s * change
        time_s += step_s
    raise AssertionError("never arrived")
