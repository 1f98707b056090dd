"""Days with the same hours: what one of them can't hold, a later one can't hold either."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import timedelta

from stillroom.household.folder import Folder
from stillroom.planning.split import Split

RunId = tuple[str, int]  # activity and day


class AlikeDays:
    """Compares the hours of people and meals, day by day.

    A later day is no easier: what nobody watches may run on to the same end of the plan, which is nearer.
    """

    def __init__(self, task: Split, folder: Folder) -> None:
        self._task = task
        self._hours = [_hours(folder, day) for day in range(task.problem.days)]

    def hours(self, activity: str, day: int) -> Hashable:
        """Of all days on which a run has work, and of the next, to which some of it may slip; None behind the plan."""
        variant = self._task.variants[activity]
        last = day + variant.lead_days + max(step.day for step in variant.recipe.steps) + 1
        return tuple(self._hours[at] if at < len(self._hours) else None for at in range(day, last + 1))


def _hours(folder: Folder, day: int) -> Hashable:
    date = folder.start + timedelta(days=day)
    people = tuple(
        tuple(sorted((span.start, span.end) for span in person.presence if span.day == date))
        for person in folder.kitchen.people
    )
    return people, tuple(sorted((meal.at, meal.name) for meal in folder.household.meals if meal.day == date))
