"""Batches as tasks of a timetable: who minds what, what follows without a gap, when a dish ends."""

from dataclasses import replace
from datetime import time

from small_kitchen import DINNER, PORK, SOUP, START, batch, kitchen

from stillroom.model.work import Attention
from stillroom.planning.tasks import timetable_problem


def test_a_canner_load_is_heated_under_watch_and_cools_without_a_gap() -> None:
    problem, _ = timetable_problem([batch(PORK, 7)], kitchen(), [], START, 1)
    tasks = {task.key: task for task in problem.tasks}
    heat, cool = tasks["b:can:heat"], tasks["b:can:cool"]
    assert (heat.attention, cool.attention) == (Attention.NEAR, Attention.FREE)
    assert {d.resource for d in heat.modes[0].demands} == {"big", "burner"}
    assert {d.resource for d in cool.modes[0].demands} == {"big"}
    assert tasks["b:cut"].modes[0].minutes == 6 + 9 * 7
    assert heat.label.startswith("big: 7 jars; steam, vent 10 min, close, bring to 12.5 psi, then 90 min;")
    assert [mode.minutes - cool.modes[0].minutes for mode in cool.modes] == [0, 15, 30]
    assert "big" in {d.resource for d in tasks["b:unload"].modes[0].demands}  # taken until the jars are out
    lags = {(lag.before, lag.after): (lag.min_lag, lag.max_lag, lag.is_safety) for lag in problem.lags}
    assert lags["b:can:heat", "b:can:cool"] == (0, 0, True)
    assert lags["b:fill", "b:can:heat"] == (0, 10, True)
    assert lags["b:can:cool", "b:unload"] == (0, 0, False)


def test_a_layer_that_was_begun_is_filled_with_jars_of_water() -> None:
    """R036: gaps are filled with jars of water. Seven quarts stand in a layer of this canner."""
    problem, _ = timetable_problem([batch(PORK, 5)], kitchen(), [], START, 1)
    heat = next(task for task in problem.tasks if task.key == "b:can:heat")
    assert heat.label.startswith("big: 5 jars and 2 of water;")


def test_a_dish_ends_at_its_meal_and_everybody_sits_down() -> None:
    problem, pieces = timetable_problem([batch(SOUP, 3, meal_min=1110)], kitchen(), [DINNER], START, 1)
    boil = next(task for task in problem.tasks if task.key == "b:boil")
    assert (boil.earliest, boil.latest_end, boil.due) == (1110 - 15 - 30, 1110, 1110)
    sits = [task for task in problem.tasks if task.label == "sit down to eat"]
    assert {task.modes[0].workers for task in sits} == {("cook",), ("child",)}
    assert {(task.earliest, task.latest_end) for task in sits} == {(1110, 1140)}
    assert not any(task.key in pieces for task in sits)


def test_the_user_of_what_is_made_waits_for_the_maker() -> None:
    maker = batch(PORK, 7, feeds=("c",))
    user = replace(batch(SOUP, 3, meal_min=1110), key="c")
    problem, _ = timetable_problem([maker, user], kitchen(), [], START, 1)
    assert ("b:unload", "c:peel") in {(lag.before, lag.after) for lag in problem.lags}


def test_two_meals_close_together_are_one_sitting() -> None:
    supper = replace(DINNER, key="supper 1", name="supper", at=time(18, 15))
    problem, pieces = timetable_problem([batch(SOUP, 3, meal_min=1110)], kitchen(), [DINNER, supper], START, 1)
    sits = [task for task in problem.tasks if task.label == "sit down to eat"]
    assert {(task.earliest, task.latest_end) for task in sits} == {(1095, 1140)}
    assert not any(task.key in pieces for task in sits)
