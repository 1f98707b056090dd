"""How long one canner load takes, for planning; nothing here changes a process."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.model.process import JarSize, ProcessCard
from stillroom.tables.constants import constant


@dataclass(frozen=True, slots=True)
class Cycle:
    """The phases of one load [min]: only cooling and the wait after it need nobody near."""

    heat_up_min: int
    vent_min: int
    come_up_min: int
    process_min: int
    cool_min: int
    wait_min: int

    @property
    def total_min(self) -> int:
        """From heat on to jars out [min]."""
        return self.attended_min + self.cool_min + self.wait_min

    @property
    def attended_min(self) -> int:
        """Someone must stay near: heating, venting, coming up, process (R010) [min]."""
        return self.heat_up_min + self.vent_min + self.come_up_min + self.process_min


def cycle(card: ProcessCard) -> Cycle:
    """Planning minutes for one load of `card`, each the longer figure where the sources give a range.

    Source: rules R002, R014, R018, R052, R054, R060, R076. Steam is planned like boiling water.
    """
    if not card.canner.is_pressure:
        return Cycle(_min("boiling_water_heat_up_min"), 0, 0, card.minutes, 0, _min("boiling_water_wait_min"))
    is_small = card.jar_counted_as in (JarSize.HALF_PINT, JarSize.PINT)
    return Cycle(
        heat_up_min=_min("heat_up_min"),
        vent_min=_min("vent_min"),
        come_up_min=_min("come_up_min"),
        process_min=card.minutes,
        cool_min=_min("cool_down_pints_min" if is_small else "cool_down_quarts_min"),
        wait_min=_min("wait_min"),
    )


def _min(key: str) -> int:
    return round(constant(key).value)
