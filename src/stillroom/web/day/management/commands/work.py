"""`python -m stillroom.web work`: the planner, started by `stillroom serve` and ended with it."""

from __future__ import annotations

import os
import sys
import threading
from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from stillroom.web.day.models import PlanJob
from stillroom.web.day.planner import let_go, work_for_ever


class Command(BaseCommand):
    """Works off plans until its standard input is closed, which the end of the server does."""

    help = __doc__

    def handle(self, *args: Any, **options: Any) -> None:
        """Never returns."""
        in_hand: list[PlanJob | None] = [None]

        def seen(job: PlanJob | None) -> None:
            in_hand[0] = job

        threading.Thread(target=_wait_for_the_end, args=(in_hand,), daemon=True).start()
        work_for_ever(seen)


def _wait_for_the_end(in_hand: list[PlanJob | None]) -> None:
    """The next server begins the job in hand anew, at once. A solver can't be interrupted, so the process just ends."""
    sys.stdin.buffer.read()
    if in_hand[0] is not None:
        let_go(in_hand[0], at=timezone.now())
    os._exit(0)
