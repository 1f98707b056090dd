"""A timetable being made: units are laid on the board, each task as early or as late as there is room."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stillroom.timetable.board import Room
from stillroom.timetable.problem import Placed
from stillroom.timetable.work import Work

PUSHES = 12  # for each task of a unit, before it is given up
FAR = 10**9

Laid = list[tuple[int, Room, int]]  # task, room, start


class Draft:
    """Which tasks are laid, where, and what is left of the board."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.board = work.board()
        self.rooms: list[Sequence[Room]] = list(work.rooms)  # those that may be taken
        self.room: list[Room | None] = [None] * len(work.rooms)
        self.start = list(work.first)  # for what is not laid, where it was or could first be
        self.end = [0] * len(work.rooms)  # 0 for what is not laid
        self.puts = 0  # so far: a measure of effort that is the same on every machine

    def put(self, task: int, room: Room, start: int) -> None:
        """Lays one task where there is room."""
        self.puts += 1
        self.board.take(room, start)
        self.room[task], self.start[task], self.end[task] = room, start, start + room.minutes

    def lift(self, tasks: Sequence[int]) -> Laid:
        """Takes tasks off the board; what is not laid is left out."""
        lifted = []
        for task in tasks:
            room = self.room[task]
            if room is not None:
                self.board.give_back(room, self.start[task])
                self.room[task], self.end[task] = None, 0
                lifted.append((task, room, self.start[task]))
        return lifted

    def clear(self) -> None:
        """Takes everything off."""
        self.board.clear()
        self.room = [None] * len(self.room)
        self.end = [0] * len(self.end)

    def put_back(self, laid: Laid) -> None:
        """Lays tasks where they were."""
        for task, room, start in laid:
            self.put(task, room, start)

    def laid(self) -> Laid:
        """All that is laid."""
        return [(task, room, self.start[task]) for task, room in enumerate(self.room) if room is not None]

    def show(self, laid: Laid) -> None:
        """Makes this the draft, whatever it was before."""
        self.clear()
        self.put_back(laid)

    def adopt(self, placed: Mapping[str, Placed]) -> None:
        """Makes a timetable found elsewhere the draft."""
        found: Laid = []
        for task, rooms in enumerate(self.work.rooms):
            item = placed[self.work.problem.tasks[task].key]
            room = next(room for room in rooms if (room.mode, room.worker) == (item.mode, item.worker))
            found.append((task, room, item.start - self.work.origin))
        self.show(found)

    def placed(self) -> dict[str, Placed]:
        """All that is laid, as a timetable says it."""
        origin, tasks = self.work.origin, self.work.problem.tasks
        return {
            tasks[task].key: Placed(
                tasks[task].key, self.start[task] + origin, self.end[task] + origin, room.mode, room.worker
            )
            for task, room in enumerate(self.room)
            if room is not None
        }

    def lay_next(self, task: int) -> bool:
        """Lays a plain task as early as can be, when nothing that waits for it is laid."""
        found = self._early(task, 0)
        if found is not None:
            self.put(task, *found)
        return found is not None

    def lay_before(self, task: int, until: int) -> bool:
        """Lays a plain task as late as can be, when nothing that it waits for is laid."""
        found = self._late(task, until)
        if found is not None:
            self.put(task, *found)
        return found is not None

    def lay_early(self, tasks: Sequence[int], since: int = 0) -> bool:
        """Lays the tasks of a unit one after the other, each as early as can be, none before `since`.

        A task that comes too late for one laid before it pushes that one on, and all laid since are laid again.
        False, with nothing laid, where it can't be done or takes too many pushes.
        """
        if len(tasks) == 1:
            return self._lay_one(tasks[0], self._early(tasks[0], since), is_early=True)
        since_of = dict.fromkeys(tasks, since)
        number, pushes = 0, PUSHES * len(tasks)
        while number < len(tasks):
            task = tasks[number]
            found = self._early(task, since_of[task])
            if found is None:
                break
            room, start = found
            pushed = self._too_early(task, room, start)
            if pushed is not None and number and pushed[0] == tasks[number - 1]:
                longer = self._lengthen(pushed[0], task, since_of[task])
                if longer is not None:
                    (room, start), pushed = longer, None
            if pushed is None:
                self.put(task, room, start)
                number += 1
                continue
            other, since = pushed
            pushes -= 1
            if other not in since_of or pushes < 0:
                break
            since_of[other] = since
            back = tasks.index(other)
            self.lift(tasks[back:number])
            number = back
        if number < len(tasks):
            self.lift(tasks[:number])
        return number == len(tasks)

    def lay_late(self, tasks: Sequence[int], until: Sequence[int]) -> bool:
        """Lays the tasks of a unit from the last to the first, each as late as can be; `until` is the last end of each.

        The mirror of `lay_early`.
        """
        if len(tasks) == 1:
            return self._lay_one(tasks[0], self._late(tasks[0], until[0]), is_early=False)
        until_of = dict(zip(tasks, until, strict=True))
        number, pushes = len(tasks) - 1, PUSHES * len(tasks)
        while number >= 0:
            task = tasks[number]
            found = self._late(task, until_of[task])
            if found is None:
                break
            room, start = found
            pushed = self._too_late(task, room, start)
            if pushed is not None and pushed[0] in tasks[number + 1 : number + 2]:
                longer = self._begin_sooner(pushed[0], task, until_of[task])
                if longer is not None:
                    (room, start), pushed = longer, None
            if pushed is None:
                self.put(task, room, start)
                number -= 1
                continue
            other, limit = pushed
            pushes -= 1
            if other not in until_of or pushes < 0:
                break
            until_of[other] = limit
            back = tasks.index(other)
            self.lift(tasks[number + 1 : back + 1])
            number = back
        if number >= 0:
            self.lift(tasks[number + 1 :])
        return number < 0

    def _lay_one(self, task: int, found: tuple[Room, int] | None, *, is_early: bool) -> bool:
        if found is None:
            return False
        room, start = found
        if (self._too_early if is_early else self._too_late)(task, room, start) is not None:
            return False
        self.put(task, room, start)
        return True

    def _early(self, task: int, since: int) -> tuple[Room, int] | None:
        """The room in which it ends first; longest waits since what is laid are left to `_too_early`."""
        room_of, end, start = self.room, self.end, self.start
        low, low_end = since, 0
        for other, least, _ in self.work.before[task]:
            if room_of[other] is not None and end[other] + least > low:
                low = end[other] + least
        for other, _, most in self.work.after[task]:
            if most is not None and room_of[other] is not None:
                low_end = max(low_end, start[other] - most)
        best, best_end = None, FAR
        for room in self.rooms[task]:
            found = self.board.first(room, max(low, low_end - room.minutes), best_end - room.minutes - 1)
            if found is not None:
                best, best_end = (room, found), found + room.minutes
        return best

    def _late(self, task: int, until: int) -> tuple[Room, int] | None:
        """The room in which it starts last."""
        room_of, end, start = self.room, self.end, self.start
        high, high_end = FAR, until
        for other, least, _ in self.work.after[task]:
            if room_of[other] is not None and start[other] - least < high_end:
                high_end = start[other] - least
        for other, _, most in self.work.before[task]:
            if most is not None and room_of[other] is not None:
                high = min(high, end[other] + most)
        best, best_start = None, -1
        for room in self.rooms[task]:
            found = self.board.last(room, best_start + 1, min(high, high_end - room.minutes))
            if found is not None:
                best, best_start = (room, found), found
        return best

    def _lengthen(self, laid: int, task: int, since: int) -> tuple[Room, int] | None:
        """Gives the task laid just before a longer mode with which the next can start in time, if there is one."""
        begin, now = self.start[laid], self.room[laid]
        for room in self.rooms[laid]:
            if now is not None and room.minutes > now.minutes and self._exchange(laid, room, begin):
                found = self._early(task, since)
                if found is not None and self._too_early(task, *found) is None:
                    return found
                self._exchange(laid, now, begin)
        return None

    def _begin_sooner(self, laid: int, task: int, until: int) -> tuple[Room, int] | None:
        """Gives the task laid just before, which follows, a longer mode with which this one can end in time."""
        end, now = self.end[laid], self.room[laid]
        for room in self.rooms[laid]:
            if now is not None and room.minutes > now.minutes and self._exchange(laid, room, end - room.minutes):
                found = self._late(task, until)
                if found is not None and self._too_late(task, *found) is None:
                    return found
                self._exchange(laid, now, end - now.minutes)
        return None

    def _exchange(self, task: int, room: Room, start: int) -> bool:
        """Lays a task in another room; False, and it stays, where that one is not free."""
        laid = self.lift([task])
        is_free = self.board.first(room, start, start) is not None and self._keeps_waits(task, room, start)
        self.put_back([(task, room, start)] if is_free else laid)
        return is_free

    def _keeps_waits(self, task: int, room: Room, start: int) -> bool:
        low = all(
            _is_within(start - self.end[other], least, most)
            for other, least, most in self.work.before[task]
            if self.room[other] is not None
        )
        return low and all(
            _is_within(self.start[other] - start - room.minutes, least, most)
            for other, least, most in self.work.after[task]
            if self.room[other] is not None
        )

    def _too_early(self, task: int, room: Room, start: int) -> tuple[int, int] | None:
        """A task laid before that now would be too early, and the start that it needs."""
        for other, _, most in self.work.before[task]:
            laid = self.room[other]
            if most is not None and laid is not None and start > self.end[other] + most:
                return other, start - most - laid.minutes
        end = start + room.minutes
        for other, least, _ in self.work.after[task]:
            if self.room[other] is not None and self.start[other] < end + least:
                return other, end + least
        return None

    def _too_late(self, task: int, room: Room, start: int) -> tuple[int, int] | None:
        """A task laid before that now would be too late, and the end that it needs."""
        for other, least, _ in self.work.before[task]:
            if self.room[other] is not None and self.end[other] > start - least:
                return other, start - least
        end = start + room.minutes
        for other, _, most in self.work.after[task]:
            laid = self.room[other]
            if most is not None and laid is not None and self.start[other] > end + most:
                return other, end + most + laid.minutes
        return None


def _is_within(wait: int, least: int, most: int | None) -> bool:
    return wait >= least and (most is None or wait <= most)
