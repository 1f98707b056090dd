"""One question to the heat model: the same that the process tables are asked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal
from stillroom.process.find import find


@dataclass(frozen=True, slots=True)
class HeatQuestion:
    """Food, jar, canner and place as the cook names them."""

    food: str
    form: str | None
    pack: str | None
    jar: str
    canner: CannerKind
    altitude_m: float
    gauge_error_psi: float = 0.0
    gauge_tested_on: date | None = None
    today: date | None = None
    inside_diameter_mm: float | None = None  # of the jar, measured; the tables never ask for it

    def look_up(self) -> ProcessCard | ProcessRefusal:
        """What the process tables say; raises what `process.find` raises."""
        return find(
            self.food,
            form=self.form,
            pack=self.pack,
            jar=self.jar,
            canner=self.canner,
            altitude_m=self.altitude_m,
            gauge_error_psi=self.gauge_error_psi,
            gauge_tested_on=self.gauge_tested_on,
            today=self.today,
        )
