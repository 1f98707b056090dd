"""Why a plan leaves something undone, what it would take, and that no way out cuts a corner."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path

import pytest
from small_kitchen import DINNER, PORK, SOUP, START, arrival, household, kitchen

from stillroom.allocation.check import check_runs
from stillroom.allocation.problem import Allocation, Outcome, Run, made_by
from stillroom.household.folder import Folder, read_folder
from stillroom.model.kitchen import Appointment, Canner, Freezer, Kitchen, Person, Presence
from stillroom.model.process import CannerKind
from stillroom.model.recipe import Use
from stillroom.planning.crew import MEAL_GROUP
from stillroom.planning.filling import Filling
from stillroom.planning.fitting import Fitting
from stillroom.planning.pipeline import known_recipes, plan
from stillroom.planning.rearranging import Arrangement, Rearranging
from stillroom.planning.split import Split, split
from stillroom.planning.why_not import WhyNots
from stillroom.planning.wished import Wishes, hours_aside
from stillroom.timetable.check import check
from stillroom.timetable.core import Core
from stillroom.timetable.problem import Outcome as Fit
from stillroom.timetable.problem import Problem
from stillroom.timetable.proof import Prover
from stillroom.timetable.rules import blocks_of, rules_of
from stillroom.timetable.way_out import Change, untouched
from stillroom.work_clock import WorkClock

DEMO = Path(__file__).parents[2] / "examples" / "demo"
FOREVER = float("inf")


@pytest.fixture(scope="module")
def demo() -> tuple[Split, Folder]:
    folder = read_folder(DEMO)
    return split(folder, known_recipes(folder), 7), folder


def cook(*hours: tuple[time, time]) -> Person:
    return Person("cook", tuple(Presence(START, start, end) for start, end in hours))


def small(people: Person, **changes: object) -> Folder:
    """A day with six kilograms of pork that must be used on it."""
    pork = replace(arrival("pork shoulder", 0), mass_g=6300.0)
    quarts = kitchen().jars[:1]
    place = kitchen(people=(people,), jars=quarts)
    base = Folder(Path("here"), START, 1, place, household(), (pork,), (), (PORK,), ())
    return replace(base, **changes)  # type: ignore[arg-type]


def task_of(folder: Folder) -> Split:
    return split(folder, folder.recipes, folder.days)


def pork_in_jars(folder: Folder) -> tuple[WhyNots, Run]:
    task = task_of(folder)
    (wish, *_) = Wishes(task, ()).of_lot("pork shoulder")
    return WhyNots(task, folder, Allocation(Outcome.FEASIBLE, (), (), (), ())), wish


class TestWhyNot:
    def test_a_load_that_is_longer_than_the_evening(self) -> None:
        """Cut 6 + 9 × 7, fill 15, heat and process at least 90 + 25, cool, lift out 5: far over three hours."""
        whys, wish = pork_in_jars(small(cook((time(17), time(20)))))
        answer = whys.of(wish, why_seconds=10, ways_seconds=10)
        assert answer.outcome is Fit.INFEASIBLE
        assert answer.overload is not None
        assert answer.overload.there_min == 180
        assert "Pork in jars on Friday takes" in answer.sentence
        assert "between 17:00 and 20:00 on Friday there are 3 h" in answer.sentence

    def test_staying_longer_is_a_way_out_and_holds(self) -> None:
        whys, wish = pork_in_jars(small(cook((time(14), time(18, 15)))))
        answer = whys.of(wish, why_seconds=10, ways_seconds=10)
        assert answer.outcome is Fit.INFEASIBLE
        assert answer.ways_out
        for way in answer.ways_out:
            assert way.kinds == ("hours",)  # the wish itself is never left out
            assert check(way.problem, way.timetable) == ()
        words = " ".join(way.steps[0] for way in answer.ways_out)
        assert "cook stays until" in words or "cook begins at" in words
        assert any("min more of cook" in way.price_words[0] for way in answer.ways_out)

    def test_what_fits_is_not_explained_away(self) -> None:
        whys, wish = pork_in_jars(small(cook((time(8), time(20)))))
        assert whys.of(wish).outcome is Fit.FEASIBLE

    def test_the_plan_says_why_the_food_is_given_away(self) -> None:
        """Tomatoes for one day, no dryer, a full freezer: only jars are left, and 100 minutes are too few for them."""
        tomatoes = replace(arrival("tomato", 0), mass_g=12_000.0)
        pot = Canner("pot", CannerKind.BOILING_WATER, 330, 255)
        folder = small(cook((time(17), time(18, 40))), arrivals=(tomatoes,), recipes=())
        place = replace(folder.kitchen, canners=(pot,), dryer_trays=0, freezer=Freezer(200, 200))
        made = plan(replace(folder, kitchen=place), days=1, seconds=2, progress=str)
        assert [part.is_given_away for part in made.left] == [True]
        (entry,) = made.not_done
        assert entry.what == "12.0 kg tomato given away"
        assert entry.origin == made.left[0].origin
        assert "in jars on Friday" in entry.wish
        assert entry.sentence
        assert "does not fit, see below" in made.left[0].reason

    def test_a_meal_that_can_not_be_made_says_why(self) -> None:
        potatoes = replace(arrival("potato", 2), mass_g=3000.0)
        late = cook((time(18, 20), time(20)))
        folder = small(late, household=household(DINNER), arrivals=(potatoes,), recipes=(SOUP,))
        task = task_of(folder)
        nothing = Allocation(Outcome.FEASIBLE, (), (), (("dinner 1", "main at dinner", 3.0),), ())
        told = WhyNots(task, folder, nothing).tell((), 30)
        assert [entry.what for entry in told] == ["no main for dinner on Friday"]
        assert told[0].wish == "Soup on Friday"
        assert any("Dinner is at 18:30 on Friday" in rule for rule in told[0].rules)
        assert any("dinner on Friday at" in way for way in told[0].ways_out)


class TestWishes:
    def test_a_wish_takes_no_more_jars_than_have_lids(self) -> None:
        """12 lids and 6.3 kg of pork at 900 g a quart: seven jars by the food."""
        (seven, *_) = Wishes(task_of(small(cook((time(8), time(20))))), ()).of_lot("pork shoulder")
        assert seven.level == pytest.approx(7)
        few = small(cook((time(8), time(20))))
        jars = tuple(replace(jar, lids=4) for jar in few.kitchen.jars)
        few = replace(few, kitchen=replace(few.kitchen, jars=jars))
        (four, *_) = Wishes(task_of(few), ()).of_lot("pork shoulder")
        assert four.level == pytest.approx(4)

    def test_every_wish_keeps_the_rules_of_the_food(self, demo: tuple[Split, Folder]) -> None:
        task, folder = demo
        rules = hours_aside(task.problem)
        for food in folder.arrivals:
            for wish in Wishes(task, ()).of_lot(food.key):
                assert check_runs(rules, (wish,)) == ()
                assert sum(taken.grams for taken in wish.taken if taken.lot == food.key) > 0

    def test_a_dish_for_the_meal_that_wants_one(self, demo: tuple[Split, Folder]) -> None:
        task, _ = demo
        dishes = Wishes(task, ()).of_meal("side at dinner", 3)
        assert dishes
        activities = {activity.key: activity for activity in task.problem.activities}
        for dish in dishes:
            assert {s.role for s in activities[dish.activity].servings} == {"side at dinner"}


def runs_of_saturday(task: Split) -> tuple[Run, ...]:
    """Half a pig is cut up, its shoulder goes into jars, and beef and tomatoes are there too."""
    (cut, *_) = [run for run in Wishes(task, ()).of_lot("pork carcass 2027-04-10") if run.day == 1]
    runs: tuple[Run, ...] = (cut,)
    for lot in (f"run:{cut.activity}:1:pork shoulder, fresh", "beef stewing meat 2027-04-10", "tomato 2027-04-09"):
        (wish, *_) = [
            run
            for run in Wishes(task, runs).of_lot(lot, 999)
            if run.day == 1 and task.variants[run.activity].recipe.use is Use.JAR
        ]
        runs = (*runs, wish)
    return runs


@pytest.fixture(scope="module")
def saturday(demo: tuple[Split, Folder]) -> tuple[Rearranging, Arrangement, Problem]:
    task, folder = demo
    rearranging = Rearranging(task, folder)
    state = rearranging.start(runs_of_saturday(task))
    return rearranging, state, rearranging.problem_of(state)


def all_changes(rearranging: Rearranging, state: Arrangement, problem: Problem) -> Sequence[Change[Arrangement]]:
    blocks = blocks_of(problem, (MEAL_GROUP,))
    return rearranging.changes(state, problem, Core(blocks, rules_of(problem, blocks), True))


def waits_of(problem: Problem) -> dict[str, Counter[tuple[int, int | None, bool]]]:
    """Least and most minutes of every wait within a run, by the run without its day and batch."""
    group_of = {task.key: task.group for task in problem.tasks}
    found: dict[str, Counter[tuple[int, int | None, bool]]] = {}
    for lag in problem.lags:
        if group_of[lag.before] == group_of[lag.after]:
            waits = found.setdefault(group_of[lag.before], Counter())
            waits[lag.min_lag, lag.max_lag, lag.is_safety] += 1
    return found


class TestChanges:
    def test_every_kind_is_offered(self, saturday: tuple[Rearranging, Arrangement, Problem]) -> None:
        kinds = {change.kind for change in all_changes(*saturday)}
        assert kinds >= {"leave out", "hours", "meal", "another day"}

    def test_no_change_touches_a_wait_or_a_process(self, saturday: tuple[Rearranging, Arrangement, Problem]) -> None:
        rearranging, state, problem = saturday
        asked = waits_of(problem)
        by_activity = {group.split("@")[0]: waits for group, waits in asked.items()}
        processes = {task.modes for task in problem.tasks if "canner:heat" in task.key}
        for change in all_changes(*saturday):
            after = rearranging.problem_of(change.apply(state))
            assert untouched(problem, after, (MEAL_GROUP,)), change.words
            for group, waits in waits_of(after).items():
                assert waits == by_activity[group.split("@")[0]], (change.words, group)
            assert {task.modes for task in after.tasks if "canner:heat" in task.key} <= processes

    def test_every_change_keeps_the_rules_of_the_food(
        self, demo: tuple[Split, Folder], saturday: tuple[Rearranging, Arrangement, Problem]
    ) -> None:
        _, state, _ = saturday
        rules = hours_aside(demo[0].problem)
        for change in all_changes(*saturday):
            assert check_runs(rules, change.apply(state).runs) == (), change.words

    def test_what_is_made_of_it_goes_with_it(self, saturday: tuple[Rearranging, Arrangement, Problem]) -> None:
        gone = [c for c in all_changes(*saturday) if c.kind == "leave out" and "Half a pig" in c.words]
        assert gone
        for change in gone:
            if change.words.startswith("leave out Half a pig"):
                assert "and with it Pork in jars" in change.words
                assert "36.0 kg pork carcass to give away" in change.price_words

    def test_nothing_is_put_off_past_its_clock(
        self, demo: tuple[Split, Folder], saturday: tuple[Rearranging, Arrangement, Problem]
    ) -> None:
        """Tomatoes of Friday have three days; the carcass of Saturday has one."""
        last = {arrival.key: arrival.day + timedelta(days=arrival.keep_days) for arrival in demo[1].arrivals}
        for change in all_changes(*saturday):
            for run in change.apply(saturday[1]).runs:
                for taken in run.taken:
                    if taken.lot in last:
                        assert demo[1].start + timedelta(days=run.day) <= last[taken.lot], change.words

    def test_nobody_is_asked_at_night_or_from_an_appointment(self) -> None:
        dentist = Appointment(START, time(20), time(21), "dentist")
        person = replace(cook((time(6), time(20))), appointments=(dentist,))
        folder = small(person)
        rearranging = Rearranging(task_of(folder), folder)
        (wish, *_) = Wishes(task_of(folder), ()).of_lot("pork shoulder")
        state = rearranging.start((wish,))
        changes = all_changes(rearranging, state, rearranging.problem_of(state))
        hours = [change.words for change in changes if change.kind == "hours"]
        assert hours == [
            "cook begins at 05:30 instead of 06:00 on Friday",
            "cook begins at 05:00 instead of 06:00 on Friday",
        ]

    def test_children_are_not_asked(self, saturday: tuple[Rearranging, Arrangement, Problem]) -> None:
        assert not any("eldest" in change.words for change in all_changes(*saturday))

    def test_one_load_fewer_leaves_the_others_as_they_are(self) -> None:
        folder = small(cook((time(6), time(22))))
        pork = replace(folder.arrivals[0], mass_g=9 * 900.0)
        folder = replace(folder, arrivals=(pork,), recipes=(replace(PORK, largest=4),))
        rearranging, task = Rearranging(task_of(folder), folder), task_of(folder)
        (wish, *_) = Wishes(task, ()).of_lot("pork shoulder")
        assert (wish.level, wish.loads) == (pytest.approx(9), 3)
        state = rearranging.start((wish,))
        problem = rearranging.problem_of(state)
        (fewer,) = [c for c in all_changes(rearranging, state, problem) if c.kind == "fewer"]
        after = fewer.apply(state)
        assert (after.runs[0].level, after.runs[0].loads) == (pytest.approx(6), 2)
        assert fewer.words == "one load fewer of Pork in jars on Friday"
        assert fewer.price_words == "2.7 kg pork shoulder to give away"
        assert untouched(problem, rearranging.problem_of(after), (MEAL_GROUP,))


class TestFilling:
    def test_meals_get_a_dish_and_the_days_can_be_kept(self) -> None:
        folder = read_folder(DEMO, days=4)
        task = split(folder, known_recipes(folder), 4)
        clock = WorkClock()
        runs = Filling(task, Fitting(task, folder, 1, clock, FOREVER), clock).fill(())
        held(task, folder, runs)
        roles = {s.role for run in runs for s in activity(task, run).servings}
        assert {"main at dinner", "side at dinner", "main at lunch"} <= roles
        assert {task.variants[run.activity].recipe.use for run in runs} - {Use.EAT_NOW, Use.BAKE}  # and food is put by

    def test_of_too_much_what_the_days_can_keep(self, demo: tuple[Split, Folder]) -> None:
        task, folder = demo
        runs = runs_of_saturday(task)
        tight = replace(folder, kitchen=shorter(folder.kitchen, START + timedelta(days=1)))
        allocation = Allocation(Outcome.FEASIBLE, runs, (), (), ())
        rearranging = Rearranging(task, tight)
        assert Prover().verdict(rearranging.problem_of(rearranging.start(runs))).outcome is Fit.INFEASIBLE
        kept = Fitting(task, tight, 1, WorkClock(), FOREVER).keep(allocation)
        assert 0 < len(kept) < len(runs)
        held(task, tight, kept)
        made = {(run.activity, run.day) for run in kept}
        for run in kept:
            assert all(made_by(t.lot)[:2] in made for t in run.taken if t.lot.startswith("run:"))


def shorter(place: Kitchen, day: date) -> Kitchen:
    """Everybody out of the kitchen on a day's afternoon and evening."""
    people = tuple(
        replace(person, presence=tuple(s for s in person.presence if s.day != day or s.end <= time(13, 30)))
        for person in place.people
    )
    return replace(place, people=people)


def activity(task: Split, run: Run):  # type: ignore[no-untyped-def]
    return next(a for a in task.problem.activities if a.key == run.activity)


def held(task: Split, folder: Folder, runs: tuple[Run, ...]) -> None:
    rearranging = Rearranging(task, folder)
    problem = rearranging.problem_of(rearranging.start(runs))
    verdict = Prover().verdict(problem)
    assert verdict.outcome is Fit.FEASIBLE
    assert check(problem, verdict.timetable) == ()
    assert check_runs(hours_aside(task.problem), runs) == ()
