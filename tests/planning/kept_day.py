"""A kept plan of one invented day: jars of beans, and soup for dinner. Written by hand, so that no search is needed."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path

from stillroom.household.folder import read_folder
from stillroom.model.household import Place
from stillroom.model.plan import Effort, FreezerAfter, Made, Plan, PlannedMeal, PlannedRun, Sureness
from stillroom.model.recipe import Use
from stillroom.model.work import Attention
from stillroom.planning.clock import planned_tasks
from stillroom.planning.crew import MEAL_GROUP, SITTING
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.pipeline import WorkedOut
from stillroom.planning.tasks import Piece
from stillroom.timetable.check import check
from stillroom.timetable.problem import (
    Demand,
    Lag,
    Mode,
    Outcome,
    Placed,
    Problem,
    Resource,
    Span,
    Task,
    Timetable,
    Worker,
)

DEMO = Path(__file__).parents[2] / "examples" / "demo"
START = date(2027, 4, 9)
BEANS, SOUP = ("beans", 0), ("soup", 0)
HANDS, NEAR, FREE = Attention.HANDS, Attention.NEAR, Attention.FREE
CANNER, BURNER = Demand("canner", 1), Demand("burner", 1)
SIX = 18 * 60
DINNER = SIX + 30
HOT = Lag("fill", "heat", 0, 10, "filled jars go into the hot canner at once", is_safety=True)


def kept_day() -> KeptPlan:
    """From 16:00: trim, boil, fill, heat and cool the beans; cut and cook the soup for half past six."""
    problem, timetable, pieces = _clock()
    assert check(problem, timetable) == ()
    at = datetime.combine(START, time(18, 30))
    meal = PlannedMeal("dinner", at, 4, ("Soup",), (), at, ("soup@0",))
    runs = (_run("beans", "Beans in jars", Use.JAR, jars=7), _run("soup", "Soup", Use.EAT_NOW, jars=0))
    sure = Sureness(1, 1.0, 1.0, True, (), 0.0, (), ())
    tasks = planned_tasks(problem, pieces, timetable, START)
    freezer = FreezerAfter(0, 0, 0, 0, 0)
    effort = Effort(0, 0, 0, 0, "", 0)
    plan = Plan("home", True, START, 1, runs, tasks, (meal,), (), (), (), (), freezer, (), (), (), sure, effort)
    return KeptPlan(folder=read_folder(DEMO, days=1), worked_out=WorkedOut(plan, (), problem, pieces, timetable))


def _clock() -> tuple[Problem, Timetable, dict[str, Piece]]:
    tasks = (
        _task("trim", HANDS, 30),
        _task("boil", NEAR, 15, BURNER),
        _task("fill", HANDS, 15),
        _task("heat", NEAR, 60, CANNER, BURNER),
        _task("cool", FREE, 40, CANNER),
        _task("cut", HANDS, 20, run=SOUP),
        Task("cook", "cook", "soup@0", (Mode(40, (BURNER,)),), NEAR, 960, DINNER, DINNER),
        *(Task(name, SITTING, MEAL_GROUP, (Mode(30, (), (name,)),), HANDS, DINNER, DINNER + 30) for name in ("A", "B")),
        _task("sweep", HANDS, 10, run=None),
    )
    lags = (
        Lag("trim", "boil", 0, 600, "picked beans wait in the fridge", is_safety=True),
        Lag("boil", "fill", 0, 15, "what is packed hot goes into the canner hot", is_safety=True),
        HOT,
        Lag("heat", "cool", 0, 0, "cooling is part of the process", is_safety=True),
        Lag("cut", "cook", 0, 60),
    )
    workers = (Worker("A", (Span(960, 1200),)), Worker("B", (Span(960, 1200),)))
    placed = (
        Placed("trim", 960, 990, 0, "A"),
        Placed("boil", 990, 1005, 0),
        Placed("fill", 1005, 1020, 0, "A"),
        Placed("heat", 1020, 1080, 0),
        Placed("cool", 1080, 1120, 0),
        Placed("cut", 1050, 1070, 0, "A"),
        Placed("cook", 1070, 1110, 0),
        Placed("A", 1110, 1140, 0, "A"),
        Placed("B", 1110, 1140, 0, "B"),
        Placed("sweep", 1140, 1150, 0, "B"),
    )
    holds = {"boil": "fridge", "fill": "hot", "heat": "hot", "cool": "canner"}
    pieces = {
        task.key: Piece(
            None if task.key == "sweep" else (SOUP if task.group == "soup@0" else BEANS),
            task.group,
            f"{task.key.capitalize()}.",
            hold=holds.get(task.key, ""),
            exact_min=35 if task.key == "heat" else 0,
        )
        for task in tasks
        if task.group != MEAL_GROUP
    }
    resources = (Resource("canner", 1), Resource("burner", 3))
    return Problem(tasks, lags, workers, resources), Timetable(Outcome.FEASIBLE, placed), pieces


def _task(key: str, attention: Attention, minutes: int, *demands: Demand, run: tuple[str, int] | None = BEANS) -> Task:
    group = f"{run[0]}@{run[1]}" if run else "home"
    return Task(key, key, group, (Mode(minutes, demands),), attention, 960, 1300)


def _run(key: str, name: str, use: Use, *, jars: int) -> PlannedRun:
    made = (Made(name, "jar", Place.SHELF, 1000, jars, START, None),)
    return PlannedRun(f"{key}@0", key, name, use, START, 1, "1", (), made, (), (), (), jars=jars)
