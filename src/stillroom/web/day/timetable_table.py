"""The timetable as a table for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stillroom.web.day.current import Current

COLUMNS = (
    *("day", "begins", "ends", "who", "attention", "for", "task", "on"),
    *("safety clock", "said"),
)


def rows(current: Current) -> Iterator[Sequence[object]]:
    """Each task as it stands, in order."""
    names = {run.key: run.name for run in current.plan.runs}
    for task in current.plan.tasks:
        is_done, is_begun = current.standing.is_done(task), current.standing.is_begun(task)
        yield (
            *(task.start.date(), f"{task.start:%H:%M}", f"{task.end:%Y-%m-%d %H:%M}", task.person),
            *(task.attention.value, names.get(task.run, ""), task.text, ", ".join(task.equipment)),
            *(task.must_follow, "done" if is_done else "begun" if is_begun else None),
        )
