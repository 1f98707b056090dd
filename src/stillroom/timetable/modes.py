"""One mode for each task, chosen beforehand so that what is used up lasts."""

from __future__ import annotations

import random
from collections.abc import Sequence

from stillroom.timetable.board import Room
from stillroom.timetable.draft import Draft

DRAWS = 40  # for each task with several modes, before the first choice is given up
TRIES = 8  # other modes drawn before a change is given up


class Modes:
    """The modes chosen; the draft takes no others. Without stores every task is free to take any of its rooms."""

    def __init__(self, draft: Draft, chance: random.Random) -> None:
        self._draft, self._chance = draft, chance
        self._capacity = draft.board.left.copy()
        self._by_mode = [_by_mode(rooms) for rooms in draft.work.rooms]
        self._chosen = [0] * len(self._by_mode)
        self._changed: list[tuple[int, int]] = []
        self._open = [task for task, found in enumerate(self._by_mode) if len(found) > 1]
        self.do_last = self._choose()

    def change(self, tasks: Sequence[int]) -> None:
        """Gives one of the tasks another mode, and others too where the stores ask for it; `undo` takes it back."""
        self._changed = []
        able = [task for task in tasks if len(self._by_mode[task]) > 1]
        if not able:
            return
        self._swap(self._chance.choice(able))
        for _ in range(TRIES):
            if self._do_last():
                return
            self._swap(self._chance.choice(self._open))
        self.undo()

    def take_over(self) -> None:
        """From now on the modes are those of what the draft has laid."""
        for task, room in enumerate(self._draft.room):
            if room is not None:
                ours = next(number for number, rooms in enumerate(self._by_mode[task]) if room in rooms)
                self._set(task, ours)
        self.do_last = True

    def release(self) -> None:
        """From now on any mode may be taken for which the stores last."""
        self._draft.rooms = list(self._draft.work.rooms)

    def undo(self) -> None:
        """Takes the last change back."""
        for task, chosen in reversed(self._changed):
            self._set(task, chosen)
        self._changed = []

    def _swap(self, task: int) -> None:
        self._changed.append((task, self._chosen[task]))
        others = [number for number in range(len(self._by_mode[task])) if number != self._chosen[task]]
        self._set(task, self._chance.choice(others))

    def _set(self, task: int, chosen: int) -> None:
        self._chosen[task] = chosen
        self._draft.rooms[task] = self._by_mode[task][chosen]

    def _do_last(self) -> bool:
        return self._excess(self._used()) == 0

    def _used(self) -> list[int]:
        used = [0] * len(self._capacity)
        for found, chosen in zip(self._by_mode, self._chosen, strict=True):
            for store, amount in found[chosen][0].stores:
                used[store] += amount
        return used

    def _choose(self) -> bool:
        """The shortest modes; then, of tasks drawn one by one, the mode with the least excess, until all lasts."""
        for task, found in enumerate(self._by_mode):
            self._set(task, min(range(len(found)), key=lambda number: found[number][0].minutes))
        used = self._used()
        for _ in range(DRAWS * len(self._open)):
            if self._excess(used) == 0:
                return True
            task = self._chance.choice(self._open)
            for store, amount in self._by_mode[task][self._chosen[task]][0].stores:
                used[store] -= amount
            least: list[tuple[float, float, int]] = []
            for number, rooms in enumerate(self._by_mode[task]):
                least.append((self._excess(used, rooms[0]), self._chance.random(), number))
            self._set(task, min(least)[2])
            for store, amount in self._by_mode[task][self._chosen[task]][0].stores:
                used[store] += amount
        return self._excess(used) == 0

    def _excess(self, used: Sequence[int], more: Room | None = None) -> float:
        """What is short, as shares of all there is."""
        total = list(used)
        for store, amount in more.stores if more is not None else ():
            total[store] += amount
        return sum(
            max(0, amount - capacity) / max(1, capacity) for amount, capacity in zip(total, self._capacity, strict=True)
        )


def _by_mode(rooms: Sequence[Room]) -> list[Sequence[Room]]:
    """The rooms of each mode; all in one where it makes no difference for the stores."""
    if len({room.stores for room in rooms}) == 1:
        return [rooms]
    found: dict[int, list[Room]] = {}
    for room in rooms:
        found.setdefault(room.mode, []).append(room)
    return [tuple(rooms) for rooms in found.values()]
