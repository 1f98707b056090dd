"""What a dial gauge must show, given how far it reads off and when that was last tested.

A gauge error is what the gauge shows minus the true pressure. A dial that reads high must be held higher by as much
(rules R029, R030). A dial that reads low could in theory be held lower; we never go below the printed figure, because
a recorded error is only as good as its last test and too much pressure costs quality, never safety.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

from stillroom.errors import InputError
from stillroom.model.process import CannerKind
from stillroom.tables.constants import constant


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge's recorded error [psi], the day it was tested and the day we ask."""

    error_psi: float = 0.0
    tested_on: date | None = None
    today: date | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.error_psi, int | float) or not math.isfinite(self.error_psi):
            raise InputError(f"A gauge error of {self.error_psi} can't be used; give psi, for example 0.5 or -1.")
        if self.tested_on is not None and self.today is not None and self.tested_on > self.today:
            raise InputError(f"The gauge can't have been tested on {self.tested_on}: that day is still to come.")


def check_gauge_fits(canner: CannerKind, gauge: Gauge) -> None:
    """Only a dial can read wrong; an error given for anything else is a slip (rule R031)."""
    if canner is not CannerKind.DIAL and gauge.error_psi != 0:
        raise InputError(
            f"A gauge error was given for a {canner} canner, but only a dial gauge can read wrong. "
            "Leave the error out, or say that the canner has a dial gauge."
        )


def is_too_far_off(gauge: Gauge) -> bool:
    """Whether the dial reads so wrong that it must be replaced first (rule R029)."""
    return abs(gauge.error_psi) > constant("gauge_refuse_above_psi").value


def shown_psi(printed_psi: int, gauge: Gauge) -> float:
    """Pressure [psi] this dial must show: printed + error where it reads high, printed where it reads low."""
    return printed_psi + max(0.0, gauge.error_psi)


def gauge_warnings(canner: CannerKind, gauge: Gauge) -> tuple[str, ...]:
    """What the cook should know about the gauge; nothing for weights and for canners without pressure."""
    if canner is not CannerKind.DIAL:
        return ()
    warnings = []
    if abs(gauge.error_psi) >= constant("gauge_flag_psi").value:
        warnings.append(
            f"This dial reads {abs(gauge.error_psi):g} psi {'high' if gauge.error_psi > 0 else 'low'}: "
            "replace it; one of the sources already does so at 1 psi."
        )
    if gauge.error_psi < 0:
        warnings.append("The dial reads low; the printed pressure is kept all the same and nothing is taken off.")
    return (*warnings, *_test_warnings(gauge))


def _test_warnings(gauge: Gauge) -> tuple[str, ...]:
    if gauge.tested_on is None:
        return ("No gauge test is recorded: have the dial tested before the season, every year.",)
    if gauge.today is None:
        return (f"The dial was tested on {gauge.tested_on}; a test holds for one year.",)
    age_days = (gauge.today - gauge.tested_on).days
    if age_days > constant("gauge_test_every_days").value:
        return (f"The dial was last tested on {gauge.tested_on}, more than a year ago: have it tested first.",)
    return ()
