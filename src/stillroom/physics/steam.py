"""Saturated steam: which temperature belongs to which pressure, in a pot and in a canner."""

from __future__ import annotations

import numpy as np

from stillroom import units
from stillroom.physics import atmosphere
from stillroom.physics.history import FloatArray

# IAPWS R7-97(2012), table 34: n1 … n10 of region 4
N1, N2, N3, N4 = 0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5
N5, N6, N7, N8 = -0.32325550322333e7, 0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6
N9, N10 = -0.23855557567849, 0.65017534844798e3
ZERO_C_K = 273.15
LOWEST_K, HIGHEST_K = 273.15, 647.096
LOWEST_PA, HIGHEST_PA = 611.2127, 22.064e6


def saturation_pressure_pa(temp_c: float | FloatArray) -> FloatArray:
    """Absolute pressure [Pa] of saturated steam at `temp_c`.

    Valid: 0 to 373.9 °C, else ValueError. Source: IAPWS R7-97(2012), equation 30.
    """
    temp_k = np.asarray(temp_c, dtype=np.float64) + ZERO_C_K
    if not ((temp_k >= LOWEST_K) & (temp_k <= HIGHEST_K)).all():
        raise ValueError("Steam temperature must lie between 0 and 373.9 °C.")
    theta = temp_k + N9 / (temp_k - N10)
    a = theta**2 + N1 * theta + N2
    b = N3 * theta**2 + N4 * theta + N5
    c = N6 * theta**2 + N7 * theta + N8
    return np.asarray(1e6 * (2 * c / (-b + np.sqrt(b**2 - 4 * a * c))) ** 4, dtype=np.float64)


def saturation_temp_c(pressure_pa: float | FloatArray) -> FloatArray:
    """Temperature [°C] of saturated steam at the absolute pressure `pressure_pa`.

    Valid: 611.2 Pa to 22.06 MPa, else ValueError. Source: IAPWS R7-97(2012), equation 31.
    """
    absolute_pa = np.asarray(pressure_pa, dtype=np.float64)
    if not ((absolute_pa >= LOWEST_PA) & (absolute_pa <= HIGHEST_PA)).all():
        raise ValueError("Steam pressure must lie between 611.2 Pa and 22.06 MPa absolute.")
    beta = (absolute_pa / 1e6) ** 0.25
    e = beta**2 + N3 * beta + N6
    f = N1 * beta**2 + N4 * beta + N7
    g = N2 * beta**2 + N5 * beta + N8
    d = 2 * g / (-f - np.sqrt(f**2 - 4 * e * g))
    temp_k = (N10 + d - np.sqrt((N10 + d) ** 2 - 4 * (N9 + N10 * d))) / 2
    return np.asarray(temp_k - ZERO_C_K, dtype=np.float64)


def boiling_point_c(altitude_m: float | FloatArray) -> FloatArray:
    """Boiling point of water [°C] at an altitude.

    Valid: −500 to 11000 m. Source: IAPWS R7-97 on the standard atmosphere. Differs from the printed table of boiling
    points for home canning, which takes air of one temperature at all heights and lies up to 0.6 °C higher at 3000 m.
    """
    return saturation_temp_c(atmosphere.pressure_pa(altitude_m))


def altitude_of_boiling_m(temp_c: float | FloatArray) -> FloatArray:
    """Altitude [m] at which water boils at `temp_c` [°C]: `boiling_point_c` the other way round.

    Half a degree is 150 m, and so is a change of the weather: never a substitute for a map where pressure depends on
    it. Valid and source: as for `boiling_point_c`.
    """
    return atmosphere.altitude_m(saturation_pressure_pa(temp_c))


def canner_temp_c(
    gauge_psi: float | FloatArray, altitude_m: float | FloatArray, *, gauge_error_psi: float | FloatArray = 0.0
) -> FloatArray:
    """Temperature [°C] of pure steam in a canner whose gauge shows `gauge_psi`.

    T = T_sat(p_air(altitude) + gauge − error); the error is what the gauge shows minus the truth.

    Valid: a vented canner: air left inside lowers the temperature at the same reading. The printed settings (11, 12, 13
    and 14 lb) give 239.3 to 239.8 °F at the top of their altitude band, not 240: the setting is what was tested, so
    neither a lack nor a surplus may be read into the difference. Source: as for `boiling_point_c`.
    """
    true_psi = np.asarray(gauge_psi, dtype=np.float64) - gauge_error_psi
    return saturation_temp_c(atmosphere.pressure_pa(altitude_m) + true_psi * units.KPA_PER_PSI * 1000)


def gauge_psi(temp_c: float | FloatArray, altitude_m: float | FloatArray) -> FloatArray:
    """Gauge pressure [psi] at which saturated steam has `temp_c`. The other way round of `canner_temp_c`."""
    over_pa = saturation_pressure_pa(temp_c) - atmosphere.pressure_pa(altitude_m)
    return np.asarray(over_pa / (units.KPA_PER_PSI * 1000), dtype=np.float64)
