"""Ball's formula method for a steady retort: the heat model is checked by its cases, and a log's line told by it.

It assumes a cooling lag of 1.41, fc = fh and a sudden change to cold water. That does not hold for a jar that cools
slowly in a closed canner: there `history_response` integrates the true history. Ball works in °F; inside we keep °C.
"""

from __future__ import annotations

import numpy as np
from scipy.integrate import quad
from scipy.special import exp1

from stillroom.physics.lethality import F0, Reference

TABLE_SPAN_C = (
    100.0  # m + g = 180 °F: retort 250 °F, cooling water 70 °F (Ball, 1923; the printed table does not state it)
)
COUNTED_BELOW_RETORT_C = 80 / 1.8  # colder than that counts for nothing
COOLING_LAG = 1.41
LOWEST_SHORTFALL_C, HIGHEST_SHORTFALL_C = 0.002, 40.0


def fh_over_u(shortfall_c: float, *, z_c: float = 10.0, span_c: float = TABLE_SPAN_C) -> float:
    """fh/U [-] for g, the shortfall of the cold spot under the retort when heating ends [°C].

    U/fh is the lethality at retort temperature, in units of fh: heating line, then Ball's cooling curve, a hyperbola
    down to 0.343 of the span and a straight line on the logarithmic scale after it.

    Valid: g 0.002 to 40 °C, else ValueError. Source: C.O. Ball (1923), integrated here. Differs: the printed table lies
    within 4 % up to fh/U = 20 and within 8 % above.
    """
    if not LOWEST_SHORTFALL_C <= shortfall_c <= HIGHEST_SHORTFALL_C:
        raise ValueError(f"g must lie between {LOWEST_SHORTFALL_C:g} and {HIGHEST_SHORTFALL_C:g} °C.")
    steep = np.log(10) / z_c
    heating = (exp1(steep * shortfall_c) - exp1(steep * COUNTED_BELOW_RETORT_C)) / np.log(10)
    drop = span_c - shortfall_c  # m: from the cold spot to the cooling water

    def rate(time_fh: float) -> float:
        return float(10 ** (-(shortfall_c + _cooled(time_fh) * drop) / z_c))

    cooling = quad(rate, 0, 0.3316)[0] + quad(rate, 0.3316, 2.0)[0]
    return float(1 / (heating + cooling))


def _cooled(time_fh: float) -> float:
    """Share of the span from cold spot to cooling water lost after `time_fh` (in units of fh)."""
    hyperbola = 0.3 * (np.sqrt(1 + (time_fh / 0.175) ** 2) - 1)
    return float(hyperbola if hyperbola < 0.343 else 1 - COOLING_LAG * 10**-time_fh)


def lethal_rate_factor(retort_c: float, reference: Reference = F0) -> float:
    """Fi [-]: minutes at the retort temperature worth one minute at the reference. Fi = 10^((T_ref − RT)/z)."""
    return float(10 ** ((reference.temp_c - retort_c) / reference.z_c))


def lethality_min(fh_min: float, jh: float, retort_c: float, start_c: float, heating_time_min: float) -> float:
    """F0 [min] of Ball's time B from steam on (come-up credited by whoever set the zero), cooling in water included.

    F0 = fh/((fh/U) Fi),  g = jh (RT − IT) 10^(−B/fh)

    Valid: g inside `fh_over_u`, else ValueError. Never asked the other way round: no process time comes from it.
    """
    shortfall_c = jh * (retort_c - start_c) * 10 ** (-heating_time_min / fh_min)
    return float(fh_min / (fh_over_u(shortfall_c) * lethal_rate_factor(retort_c)))
