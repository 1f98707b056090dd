"""A step of the plan with its hours: what is held between its end and the next step."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from stillroom.model.recipe import Step


@dataclass(frozen=True, slots=True)
class Held:
    """A step that begins and ends, and the moment at which the first step after it begins."""

    step: Step
    begin: datetime
    end: datetime
    then: datetime
