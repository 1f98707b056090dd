"""A cook's own question: why not this recipe on that day?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import time, timedelta
from difflib import get_close_matches

from stillroom.allocation.problem import Allocation, Outcome, Run
from stillroom.allocation.reasons import name_of
from stillroom.errors import InputError
from stillroom.household.folder import Folder
from stillroom.household.hours_text import read_weekdays
from stillroom.model.plan import NotDone
from stillroom.model.recipe import Recipe, Use
from stillroom.planning.rearranging import Rearranging
from stillroom.planning.split import Split
from stillroom.planning.variants import served_role
from stillroom.planning.why_not import STILL_FITS, WhyNots, told
from stillroom.planning.wished import LEAST_GAIN, Wishes, worth
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.words import listed

TELL_USERS = 6
WHY_S, WAYS_S = 1.0, 2.0  # one question, asked on purpose, may take a moment


@dataclass(frozen=True, slots=True)
class Asked:
    """A recipe and the day of the plan that is asked about."""

    recipe: Recipe
    day: int


def read_asked(text: str, recipes: Sequence[Recipe], folder: Folder) -> Asked:
    """The recipe and day meant by "tomato sauce in jars on saturday"; InputError says what can be asked."""
    name, _, day = " ".join(text.split()).rpartition(" on ")
    if not name:
        raise InputError(f"“{text}” can't be read: ask for a recipe on a day, like “tomato sauce in jars on saturday”.")
    weekdays = read_weekdays(day)
    days = [n for n in range(folder.days) if (folder.start + timedelta(days=n)).weekday() in weekdays]
    if len(weekdays) != 1 or not days:
        raise InputError(f"“{day}” is not one day of the plan, which runs over {folder.days} days.")
    by_name = {recipe.name.casefold(): recipe for recipe in recipes}
    said = name.casefold()
    alike = [recipe for known, recipe in by_name.items() if said in known]
    if said not in by_name and len(alike) != 1:
        near = [recipe.name for recipe in alike] or [by_name[k].name for k in get_close_matches(said, by_name, n=5)]
        hint = f" Near it are: {', '.join(near[:8])}." if near else ""
        raise InputError(f"There is no one recipe “{name}”.{hint}")
    return Asked(by_name.get(said) or alike[0], days[0])


def why_not_asked(asked: Asked, task: Split, folder: Folder, runs: Sequence[Run]) -> NotDone:
    """Why a recipe is not done on a day beside the runs of a plan, or that it is."""
    rearranging = Rearranging(task, folder)
    wish = f"{asked.recipe.name} on {rearranging.day_words(asked.day)}"
    keys = [key for key, variant in task.variants.items() if variant.recipe is asked.recipe]

    def answer(sentence: str) -> NotDone:
        return NotDone("", "", wish, sentence, (), ())

    if any(run.activity in keys and _day(task, run) == asked.day for run in runs):
        return answer("It is in the plan.")
    activities = [activity for activity in task.problem.activities if activity.key in keys]
    if not activities:
        return answer(_impossible(asked, task))
    wishes = Wishes(task, runs)
    left = [run for run in wishes.of_activities(keys) if _day(task, run) == asked.day]
    if not left:
        return answer(_no_food(asked, keys, task, rearranging, runs))
    if asked.day == 0 and not any(s.day == folder.start for person in folder.kitchen.people for s in person.presence):
        return answer(_nobody_there(folder, rearranging))
    wished = min(left, key=lambda run: run.level)
    found = WhyNots(task, folder, Allocation(Outcome.FEASIBLE, tuple(runs), (), (), ())).of(
        wished, why_seconds=WHY_S, ways_seconds=WAYS_S
    )
    if found.outcome is Fit.FEASIBLE:
        gain = worth(task.problem, (*wishes.runs, wished)) - worth(task.problem, wishes.runs)
        return answer(STILL_FITS if gain > LEAST_GAIN else "It would fit, but it gains less than its work.")
    return told("", "", wish, found)


def _day(task: Split, run: Run) -> int:
    return run.day + task.variants[run.activity].lead_days


def _impossible(asked: Asked, task: Split) -> str:
    refused = next((entry for entry in task.refused if entry.recipe == asked.recipe.name), None)
    if refused is not None:
        return f"In this kitchen it may not be done: {refused.refusal.reason}"
    role = served_role(asked.recipe)
    if role and not any(meal.role.startswith(f"{role} at ") for meal in task.problem.meals):
        return f"No meal of these days wants a {role}."
    mains = [" or ".join(i.foods[:3]) for i in asked.recipe.ingredients if i.main and not i.optional]
    return f"It needs {listed(mains)}, which is not there in these days, or equipment that this kitchen does not have."


def _nobody_there(folder: Folder, rearranging: Rearranging) -> str:
    if folder.begins == time.min:
        return f"Nobody is in the kitchen on {rearranging.day_words(0)}."
    return f"Nobody is in the kitchen any more on {rearranging.day_words(0)}: the plan begins at {folder.begins:%H:%M}."


def _no_food(asked: Asked, keys: Sequence[str], task: Split, rearranging: Rearranging, runs: Sequence[Run]) -> str:
    """What the plan does with the food instead, or that there is none of it on that day."""
    cut_up = [r for r in runs if r.activity in task.variants and task.variants[r.activity].recipe.use is Use.BREAK_DOWN]
    possible = Wishes(task, cut_up).of_activities(keys)
    day = rearranging.day_words(asked.day)
    if any(_day(task, run) == asked.day for run in possible):
        return _taken_by([run for run in possible if _day(task, run) == asked.day], task, rearranging, runs)
    roles = {s.role for a in task.problem.activities if a.key in keys for s in a.servings}
    if roles and not any(meal.role in roles and meal.day == asked.day for meal in task.problem.meals):
        return f"No meal on {day} wants a {listed(sorted({role.split(' at ')[0] for role in roles}))}."
    others = dict.fromkeys(rearranging.day_words(_day(task, run)) for run in sorted(possible, key=lambda r: r.day))
    when = f" There is on {listed(list(others))}." if others else ""
    return f"On {day} there is too little of its food, or no jars, lids or freezer for it.{when}"


def _taken_by(wished: Sequence[Run], task: Split, rearranging: Rearranging, runs: Sequence[Run]) -> str:
    lots = {taken.lot for run in wished for taken in run.taken}
    users = [run for run in runs if run.activity in task.variants and lots & {taken.lot for taken in run.taken}]
    foods = dict.fromkeys(name_of(taken.item) for run in users for taken in run.taken if taken.lot in lots)
    if not users:
        return "The plan leaves it no jars, lids or freezer."
    names = [rearranging.run_words(run) for run in users[:TELL_USERS]]
    more = " and more" if len(users) > TELL_USERS else ""
    return f"The plan uses its {listed(list(foods))} for {listed(names)}{more}."
