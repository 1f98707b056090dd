"""A first whole timetable in a few milliseconds."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.timetable.allowance import Allowance
from stillroom.timetable.draft import Draft, Laid
from stillroom.timetable.tally import Tally
from stillroom.timetable.work import Work

TRIES = 15  # made-up days need up to 6; what takes more is left to the solver


def first_draft(draft: Draft, tally: Tally, allowance: Allowance) -> Laid | None:
    """The least late of some whole timetables; None where none was found.

    Units that must start early are laid first; one that can't be laid, or is late, is first in the next try.
    """
    work = draft.work
    keys = [float(last_start(work, unit)) for unit in range(len(work.units))]
    best: Laid | None = None
    least = 0
    for _ in range(TRIES):
        stuck = lay_early(draft, work.in_order(keys))
        if stuck is None:
            late = tally.late(draft)
            if best is None or late < least:
                best, least = draft.laid(), late
            if late <= tally.least_late:
                break
            stuck = tally.latest(draft)
        if allowance.is_over:
            break
        _hurry(work, keys, stuck)
    return best


def lay_early(draft: Draft, units: Sequence[int]) -> int | None:
    """Lays all units anew in this order, each as early as can be; the first that can't be laid, if any."""
    draft.clear()
    plain = draft.work.plain
    for unit in units:
        task = plain[unit]
        is_laid = draft.lay_early(draft.work.units[unit]) if task is None else draft.lay_next(task)
        if not is_laid:
            return unit
    return None


def _hurry(work: Work, keys: list[float], unit: int) -> None:
    """Puts a unit first, and with it all that it waits for."""
    first = min(keys) - 1
    found, todo = {unit}, [unit]
    while todo:
        found_now = work.leads[1][todo.pop()] - found
        found |= found_now
        todo.extend(found_now)
    for other in found:
        keys[other] = first


def last_start(work: Work, unit: int) -> int:
    """The last minute at which a unit can begin."""
    return min(max(room.last for room in work.rooms[task]) for task in work.units[unit])
