"""How fast yeast works at a temperature, against a temperature at which the time is known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.errors import OutsideTable
from stillroom.physics.history import FloatArray

RULE_C = (10.0, 35.0)  # 50 to 95 °F, rule R227
MODEL_C = (-5.0, 45.0)


@dataclass(frozen=True, slots=True)
class Cardinals:
    """Lowest, best and highest temperature of growth [°C]."""

    min_c: float
    best_c: float
    max_c: float

    def __post_init__(self) -> None:
        # with a best temperature below the middle the model has a pole inside its range
        if not (self.min_c < self.best_c < self.max_c and 2 * self.best_c > self.min_c + self.max_c):
            raise ValueError("The best temperature lies in the upper half between the lowest and the highest.")


# Baker's yeast, Saccharomyces cerevisiae: best 32.3 and highest 45.4 °C; the lowest of its genus 1.3 to 4.3 °C.
# Salvadó et al., Appl. Environ. Microbiol. 77:2292 (2011), abstract. Growth in broth, not gas in dough.
BAKERS_YEAST = Cardinals(2.8, 32.3, 45.4)
BAKERS_YEAST_COLD = Cardinals(1.3, 32.3, 45.4)
BAKERS_YEAST_TENDER = Cardinals(4.3, 32.3, 45.4)


def doubling_rate(temp_c: float | FloatArray, known_c: float, doubling_k: float) -> FloatArray:
    """Rate against that at `known_c` [-]: 2^((T − T_known)/doubling), doubling 17 °F = 9.44 K.

    Valid: both 10 to 35 °C, else OutsideTable. Source: rules R226 and R227, a baker's rule of thumb.
    """
    temp = np.asarray(temp_c, dtype=np.float64)
    low_c, high_c = RULE_C
    if not ((temp >= low_c - 1e-9).all() and (temp <= high_c + 1e-9).all() and low_c <= known_c <= high_c):
        raise OutsideTable("The rule for rising times holds from 10 to 35 °C (50 to 95 °F) only.")
    if not doubling_k > 0:
        raise ValueError("The doubling step is above zero.")
    return np.asarray(2 ** ((temp - known_c) / doubling_k), dtype=np.float64)


def cardinal_rate(temp_c: float | FloatArray, yeast: Cardinals = BAKERS_YEAST) -> FloatArray:
    """Rate of growth against the best [-], 0 outside lowest and highest.

    γ = (T − Tmax)(T − Tmin)²/((To − Tmin)[(To − Tmin)(T − To) − (To − Tmax)(To + Tmin − 2 T)])

    Valid: −5 to 45 °C, else OutsideTable. Source: Rosso, Lobry & Flandrois, J. Theor. Biol. 162:447 (1993), from
    memory, with the temperatures of Salvadó et al. 2011.
    """
    temp = np.asarray(temp_c, dtype=np.float64)
    if not ((temp >= MODEL_C[0]).all() and (temp <= MODEL_C[1]).all()):
        raise OutsideTable("Yeast is modelled from −5 to 45 °C.")
    low, best, high = yeast.min_c, yeast.best_c, yeast.max_c
    inside = np.clip(temp, low, high)
    below = (best - low) * ((best - low) * (inside - best) - (best - high) * (best + low - 2 * inside))
    return np.asarray((inside - high) * (inside - low) ** 2 / below, dtype=np.float64)


def rates(temp_c: FloatArray, known_c: float, doubling_k: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Slow, middle and quick rate against that at `known_c` [-]: where rule and cardinal model disagree, a band.

    From 10 to 35 °C the lower and the higher of both and their geometric mean. Colder than 10 °C the rule ends and
    the cardinal model goes on from its value there, with a tender and a cold-loving yeast as limits; warmer than
    35 °C it goes on the same way.

    Valid: −5 to 45 °C, known_c 10 to 35 °C, else OutsideTable. Source: `doubling_rate`, `cardinal_rate`.
    """
    edge = np.clip(temp_c, *RULE_C)
    rule = doubling_rate(edge, known_c, doubling_k)
    model = cardinal_rate(edge) / cardinal_rate(known_c)
    slow, quick = np.minimum(rule, model), np.maximum(rule, model)
    beyond = {
        yeast: cardinal_rate(temp_c, yeast) / cardinal_rate(edge, yeast)
        for yeast in (BAKERS_YEAST_TENDER, BAKERS_YEAST, BAKERS_YEAST_COLD)
    }
    middle = np.sqrt(slow * quick)
    return slow * beyond[BAKERS_YEAST_TENDER], middle * beyond[BAKERS_YEAST], quick * beyond[BAKERS_YEAST_COLD]
