"""How long a search by drafts may go on: by the clock, or by what it lays, so that it ends alike on every machine."""

from __future__ import annotations

import time

from stillroom.timetable.draft import Draft

PUTS_PER_SECOND = 40_000  # tasks laid in a second (measured: 40 000 to 140 000)


class Allowance:
    """So many seconds from now on; counted in tasks laid where the answer must not depend on the clock."""

    def __init__(self, draft: Draft, seconds: float, *, is_counted: bool) -> None:
        self._draft, self._is_counted = draft, is_counted
        self._whole = max(1e-9, seconds * PUTS_PER_SECOND if is_counted else seconds)
        self._begin = self._now

    @property
    def share_used(self) -> float:
        """From 0 at the beginning to 1 when it is used up, and on."""
        return (self._now - self._begin) / self._whole

    @property
    def seconds_used(self) -> float:
        """Seconds, or tasks laid told as seconds."""
        return (self._now - self._begin) / (PUTS_PER_SECOND if self._is_counted else 1)

    @property
    def is_over(self) -> bool:
        """Whether it is used up."""
        return self.share_used >= 1

    @property
    def _now(self) -> float:
        return self._draft.puts if self._is_counted else time.perf_counter()
