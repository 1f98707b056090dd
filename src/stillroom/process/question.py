"""One question to the process tables, read and checked."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stillroom.model.process import CannerKind
from stillroom.process.gauge import Gauge
from stillroom.process.jar_text import JarAsked


@dataclass(frozen=True, slots=True)
class Question:
    """What the cook wants to put up: `form` and `pack` are as asked until they are chosen from the tables."""

    food: str  # vocabulary key
    process_food: str
    form: str | None
    pack: str | None
    jar: JarAsked
    canner: CannerKind
    altitude_m: float
    altitude_ft: float
    gauge: Gauge

    def with_choice(self, form: str, pack: str) -> Question:
        """The same question for one printed form and pack."""
        return replace(self, form=form, pack=pack)
