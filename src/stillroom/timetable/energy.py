"""How much work can't be done outside some hours, wherever its tasks are laid: energetic reasoning.

Of a task that may start anywhere in some ranges of minutes, the part that lies within [begin, end) is smallest at an
end of a range, since it first grows and then shrinks as the start moves on. Summed over all tasks and compared with
what is there, it proves an overload for every pair of minutes that is tried.
Source, named from memory: Baptiste, Le Pape, Nuijten, Constraint-Based Scheduling (2001), chapter 3.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stillroom.timetable.problem import Span

Minutes = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Load:
    """What a task, or tasks without a break between them, takes: each `(start, minutes, amount)` that may be least.

    `keys` are the tasks. A place where it may lie with nothing taken makes the least nothing.
    """

    keys: tuple[str, ...]
    places: frozenset[tuple[int, int, int]]


@dataclass(frozen=True, slots=True)
class Excess:
    """Within [begin, end) at least `needed_min` are wanted of `there_min`; `keys` want some of it."""

    begin: int
    end: int
    needed_min: int
    there_min: int
    keys: tuple[str, ...]


def largest_excess(loads: Sequence[Load], spans: Sequence[Span]) -> Excess | None:
    """The hours with most too much, of `spans` in which it is there; None where there are none.

    Of hours with as much too much those in which most is wanted, from as late to as early as they may be.
    """
    if not loads:
        return None
    start, minutes, amount = (np.array(column) for column in zip(*_places(loads), strict=True))
    first_of = np.cumsum([0, *(len(load.places) for load in loads)])[:-1]
    begins = np.unique(np.concatenate([start, [span.start for span in spans]]))
    ends = np.unique(np.concatenate([start + minutes, [span.end for span in spans]]))
    until = _there_until(spans, ends)
    best: tuple[tuple[int, int], int, int] | None = None  # minutes too many and wanted; begin and end
    for begin, before in zip(begins, _there_until(spans, begins), strict=True):
        later = ends[ends > begin]
        needed = _least(begin, later, (start, minutes, amount), first_of).sum(axis=1)
        excess = needed - (until[ends > begin] - before)
        for worst in np.lexsort((-later, needed, excess))[-1:]:  # none where nothing ends later
            here = int(excess[worst]), int(needed[worst])
            if here[0] > 0 and (best is None or here >= best[0]):
                best = here, int(begin), int(later[worst])
    if best is None:
        return None
    (too_many, total), begin, end = best
    wanted = _least(begin, np.array([end]), (start, minutes, amount), first_of)[0]
    keys = tuple(key for load, taken in zip(loads, wanted, strict=True) if taken > 0 for key in load.keys)
    return Excess(begin, end, total, total - too_many, keys)


def _places(loads: Sequence[Load]) -> list[tuple[int, int, int]]:
    return [place for load in loads for place in sorted(load.places)]


def _least(begin: int, ends: Minutes, places: tuple[Minutes, Minutes, Minutes], first_of: Minutes) -> Minutes:
    """For each end and load what must be taken between `begin` and it: shape (ends, loads)."""
    start, minutes, amount = places
    inside = np.minimum(start + minutes, ends[:, None]) - np.maximum(start, begin)
    return np.minimum.reduceat(np.maximum(inside, 0) * amount, first_of, axis=1)


def _there_until(spans: Sequence[Span], points: Minutes) -> Minutes:
    """Minutes of all spans before each point."""
    total = np.zeros(len(points), dtype=np.int64)
    for span in spans:
        total += np.clip(points - span.start, 0, span.end - span.start)
    return total
