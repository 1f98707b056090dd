"""Steps that may fall on the day after the recipe's day, because something long comes before them."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.model.recipe import Step
from stillroom.model.work import Attention

LONG_MIN = 240  # a wait or an unwatched step of this length may carry what follows over to the next day


def may_slip(steps: Sequence[Step], step: Step) -> bool:
    """Whether a long wait or a long unwatched step comes before it, so that it may fall on the next day."""
    by_key = {other.key: other for other in steps}
    for after in step.after:
        before = by_key[after.step]
        if before.day != step.day:
            continue
        long_step = before.attention is Attention.FREE and before.fixed_min >= LONG_MIN
        if long_step or after.min_lag_min >= LONG_MIN or may_slip(steps, before):
            return True
    return False
