"""What the food of a plan's decisions would have become otherwise, on days small enough to know it by hand."""

from dataclasses import replace
from datetime import time

from small_kitchen import PORK
from test_ways_out_of_a_plan import cook, small, task_of

from stillroom.allocation.check import check_runs
from stillroom.allocation.next_best import InTheWay
from stillroom.allocation.next_best import NextBest as Found
from stillroom.allocation.problem import Taken, lot_made
from stillroom.allocation.shortages import Shortage
from stillroom.allocation.solve import solve
from stillroom.household.folder import Folder
from stillroom.model.plan import NextBest
from stillroom.model.recipe import Recipe
from stillroom.model.wish import GIVE_AWAY
from stillroom.planning.next_bests import NextBests
from stillroom.planning.pipeline import plan
from stillroom.recipes.reader import all_recipes

LONG, TORN = cook((time(6), time(22))), cook((time(6), time(8, 30)), (time(17), time(20)))


def pork_packs() -> Recipe:
    """The same pork, cut and frozen: no canner, little work."""
    frozen = next(recipe for recipe in all_recipes() if recipe.key == "pork_packs_frozen")
    return replace(
        frozen, ingredients=tuple(replace(i, foods=("pork shoulder",)) for i in frozen.ingredients if i.main)
    )


def decided(folder: Folder) -> dict[str, NextBest]:
    task = task_of(folder)
    answer = solve(task.problem, seconds=5)
    assert check_runs(task.problem, answer.runs) == ()
    answers = NextBests(task, folder, answer)
    return {run.activity: answers.of(run) for run in answer.runs}


def test_what_has_no_other_use_is_given_away() -> None:
    found = {key: best for key, best in decided(small(LONG)).items() if key.startswith(PORK.key)}
    (best,) = found.values()
    assert best.what == "give away pork shoulder"
    assert best.worse_by is not None
    assert best.worse_by > 0
    assert best.words.startswith(f"give away pork shoulder, worth {best.worse_by:.2f} less")


def test_another_use_is_worth_less_than_this_one_and_more_than_none() -> None:
    alone = next(best for key, best in decided(small(LONG)).items() if key.startswith(PORK.key))
    both = decided(small(LONG, recipes=(PORK, pork_packs())))
    (best,) = [best for key, best in both.items() if not key.startswith("give away")]
    assert alone.worse_by is not None
    assert best.worse_by is not None
    assert -0.005 < best.worse_by < alone.worse_by


def test_what_the_clock_has_no_room_for_is_told_of_what_is_given_away() -> None:
    """The minutes of the day would do, but a load takes more on end than anybody is there."""
    folder = small(TORN)
    task = task_of(folder)
    giving = tuple(activity for activity in task.problem.activities if activity.use == GIVE_AWAY)
    answer = solve(replace(task.problem, activities=giving), seconds=5)
    (run,) = answer.runs
    best = NextBests(task, folder, answer).of(run)
    assert "Pork in jars" in best.words
    assert "more, but the clock has no room for " in best.words


def test_what_is_given_away_tells_the_litres_that_would_keep_it() -> None:
    """The packs of half a pound to a litre are worth more than a gift, and the freezer has no litre free."""
    folder = small(LONG, recipes=(pork_packs(),))
    kitchen = folder.kitchen
    full = replace(kitchen.freezer, used_l=kitchen.freezer.capacity_l)
    found = decided(replace(folder, kitchen=replace(kitchen, freezer=full)))
    (best,) = [best for key, best in found.items() if key.startswith("give away")]
    assert best.what == ""
    assert "more, with " in best.words
    assert "L more of the freezer" in best.words


def test_giving_away_lacks_nothing() -> None:
    """Many onions near their date: given away they would be worth less than left, and no clock is asked of that."""
    folder = small(TORN)
    task = task_of(folder)
    giving = tuple(activity for activity in task.problem.activities if activity.use == GIVE_AWAY)
    answer = solve(replace(task.problem, activities=giving), seconds=5)
    (run,) = answer.runs
    found = Found((), (), (), 0.1, 0.0, (InTheWay(run, (), 0.1),))
    assert list(NextBests(task, folder, answer)._needs(found)) == []


def test_what_the_plan_made_and_keeps_beyond_it_stays() -> None:
    """Pork in jars keeps for a year; the raw pork is of its last day, and so is what is in jars that keep no day."""
    folder = small(LONG)
    task = task_of(folder)
    answer = solve(task.problem, seconds=5)
    (run,) = [run for run in answer.runs if run.activity in task.variants]
    (made,) = next(one for one in task.problem.activities if one.key == run.activity).outputs
    eaten = replace(run, taken=(Taken(lot_made(run.activity, run.day, made.item), made.item, 100.0),))
    short_lived = replace(
        task.problem,
        activities=tuple(
            replace(one, outputs=tuple(replace(output, ready_after=0, keeps_days=0) for output in one.outputs))
            for one in task.problem.activities
        ),
    )
    nothing = Found((eaten,), (), (), 1.0, 0.0, ())
    assert NextBests(task, folder, answer)._what(eaten, nothing) == "the food stays"
    assert NextBests(task, folder, answer)._what(run, nothing) == "the food would spoil"
    task = replace(task, problem=short_lived)
    assert NextBests(task, folder, answer)._what(eaten, nothing) == "the food would spoil"


def test_a_meal_that_goes_without_has_no_price() -> None:
    folder = small(LONG)
    task = task_of(folder)
    answer = solve(task.problem, seconds=5)
    run, answers = answer.runs[0], NextBests(task, folder, answer)
    missing = answers._lacking_words(InTheWay(run, (), 4251.01, missed=4.0))
    assert missing.endswith(" would give too little for its work")
    lacking = (Shortage("freezer", None, 3.0, 0.0),)
    assert " would be better, with 3 L more" in answers._lacking_words(InTheWay(run, lacking, 4251.01, missed=4.0))
    assert " would be worth 1.50 less, with " in answers._lacking_words(InTheWay(run, lacking, 1.5))


def test_a_canner_with_the_name_of_the_freezer_lacks_minutes_and_no_litres() -> None:
    place = small(LONG).kitchen
    folder = small(LONG, kitchen=replace(place, canners=(replace(place.canners[0], name="freezer"),)))
    task = task_of(folder)
    answers = NextBests(task, folder, solve(task.problem, seconds=5))
    assert answers._short_words(Shortage("freezer", 0, 30.0, 0.0)) == "30 min more of the freezer on Friday"
    assert answers._short_words(Shortage("freezer", None, 30.0, 0.0)) == "30 L more of the freezer"


def test_a_plan_carries_one_into_every_decision() -> None:
    made = plan(small(LONG), days=1, seconds=5, progress=lambda words: None)
    assert made.runs
    assert all(run.next_best is not None and run.next_best.words for run in made.runs)
    assert all(part.next_best is not None and part.next_best.words for part in made.left if part.is_given_away)
