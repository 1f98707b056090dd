"""What is taken, minute by minute, in whole numbers whose bits are minutes: room is found by a few shifts and sums.

Each thing (a person's hands, what can be minded, burners …) is one Python integer with a field of `width` bits for each
minute. Adding what is taken to what would be too much sets the highest bit of a field where there is no room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Room:
    """One way of doing a task, as the board sees it.

    `allowed` has a bit for each minute at which it may start. `checks` are things with what would be too much in each
    minute, `marks` are things with what is taken in each minute of the task. `stores` are amounts that are used up.
    """

    mode: int
    worker: str | None
    minutes: int
    first: int
    last: int
    allowed: int
    checks: tuple[tuple[int, int], ...]
    marks: tuple[tuple[int, int], ...]
    stores: tuple[tuple[int, int], ...]
    shifts: tuple[int, ...]  # spread a blocked minute over all starts that would reach it


class Board:
    """What is taken now."""

    def __init__(self, things: int, stores: Sequence[int], width: int, top_bits: int) -> None:
        self.width = width
        self._stores = tuple(stores)
        self.left = list(stores)
        self._taken = [0] * things
        self._top_bits = top_bits

    def clear(self) -> None:
        """Gives all back."""
        self._taken = [0] * len(self._taken)
        self.left = list(self._stores)

    def take(self, room: Room, start: int) -> None:
        """Takes all that a task needs from its start on."""
        for thing, pattern in room.marks:
            self._taken[thing] += pattern << (start * self.width)
        for store, amount in room.stores:
            self.left[store] -= amount

    def give_back(self, room: Room, start: int) -> None:
        """Undoes `take`."""
        for thing, pattern in room.marks:
            self._taken[thing] -= pattern << (start * self.width)
        for store, amount in room.stores:
            self.left[store] += amount

    def first(self, room: Room, low: int, high: int) -> int | None:
        """The first start from `low` to `high` with room for the whole task."""
        if low < room.first:  # noqa: PLR1730 - max() takes three times as long, and this is where time goes
            low = room.first
        free = self._free(room, low, high)
        return low + ((free & -free).bit_length() - 1) // self.width if free else None

    def last(self, room: Room, low: int, high: int) -> int | None:
        """The last such start."""
        if low < room.first:  # noqa: PLR1730 - max() takes three times as long, and this is where time goes
            low = room.first
        free = self._free(room, low, high)
        return low + (free.bit_length() - 1) // self.width if free else None

    def _free(self, room: Room, low: int, high: int) -> int:
        if high > room.last:  # noqa: PLR1730
            high = room.last
        if high < low or (room.stores and any(self.left[store] < amount for store, amount in room.stores)):
            return 0
        width = self.width
        shift = low * width
        free = (room.allowed >> shift) & ((1 << (high - low + 1) * width) - 1)
        if not free or not room.checks:
            return free
        span = (1 << (high - low + room.minutes) * width) - 1
        blocked = 0
        for thing, slack in room.checks:
            blocked |= ((self._taken[thing] >> shift) & span) + (slack & span)
        blocked &= self._top_bits
        if blocked:
            for further in room.shifts:
                blocked |= blocked >> further
            free ^= free & blocked
        return free
