"""Parts of the planning, by hand-made recipes and kitchens small enough to reckon in the head."""

from dataclasses import replace
from datetime import date, time
from pathlib import Path

import pytest

from stillroom.allocation.problem import (
    Activity,
    GivesBack,
    Input,
    Lot,
    Problem,
    Run,
)
from stillroom.allocation.solve import solve
from stillroom.errors import SourceError
from stillroom.household.folder import Folder
from stillroom.model.household import Arrival, Eater, Household, LarderLot, Meal, Place, Target
from stillroom.model.kitchen import Canner, Freezer, JarKind, Kitchen, Person, Presence
from stillroom.model.plan import Wanted
from stillroom.model.process import CannerKind, JarSize, ProcessCard, ProcessRequest
from stillroom.model.recipe import After, Ingredient, Need, Product, Recipe, Step, Use
from stillroom.model.work import Attention
from stillroom.planning import pipeline
from stillroom.planning.batches import batches_of_run
from stillroom.planning.demand import usages
from stillroom.planning.items import arrival_lots, input_worth, larder_lots, state_of, worths
from stillroom.planning.jar_acid import acid_per_jar, lemon_juice_g
from stillroom.planning.just import just
from stillroom.planning.ready import have_ready
from stillroom.planning.runs import planned_run
from stillroom.planning.slips import may_slip
from stillroom.planning.split import split
from stillroom.planning.supply import Pace, attended_blocks, capacities, plannable_freezer_l, pools
from stillroom.planning.tasks import Batch, timetable_problem
from stillroom.planning.variants import Variant, variants
from stillroom.planning.wishes import targets
from stillroom.process.find import find
from stillroom.recipes.reader import all_recipes

START = date(2027, 4, 9)

PORK = Recipe(
    key="pork_jars",
    name="Pork in jars",
    use=Use.JAR,
    summary="",
    unit="1 quart",
    ingredients=(Ingredient(("pork shoulder",), 900.0, "900 g", main=True), Ingredient(("salt",), 5.0, "5 g")),
    smallest=2,
    largest=7,
    batch_reason="one load",
    steps=(
        Step("cut", "Cut.", 6, 9, Attention.HANDS),
        Step(
            "fill", "Fill.", 15, 0, Attention.HANDS, (Need("burner", 1),), (After("cut", 0, 60, "fridge", 4.0, "cold"),)
        ),
        Step("can", "Can.", 0, 0, Attention.NEAR, (), (After("fill", 0, 10, "room", 20.0, "hot"),), 0, True),
        Step("unload", "Unload.", 5, 0, Attention.HANDS, (Need("canner", 1),), (After("can", 0, 20),)),
    ),
    products=(Product("Pork", "jar", Place.SHELF, 880.0, 365, "a year", "pork shoulder"),),
    process=ProcessRequest(
        "pork",
        "strips, cubes or chunks, boned",
        "raw",
        (CannerKind.DIAL,),
        (JarSize.PINT, JarSize.QUART),
        900.0,
        "weighed",
    ),
)
SOUP = Recipe(
    key="soup",
    name="Soup",
    use=Use.EAT_NOW,
    summary="",
    unit="1 portion",
    ingredients=(Ingredient(("potato", "carrot"), 300.0, "300 g", main=True),),
    smallest=2,
    largest=10,
    batch_reason="the pot",
    steps=(
        Step("peel", "Peel.", 4, 2, Attention.HANDS, day=0),
        Step("boil", "Boil.", 30, 0, Attention.NEAR, (Need("burner", 1),), (After("peel", 0, 60, "room", 20.0, "x"),)),
    ),
    products=(Product("Soup", "plate", Place.COUNTER, 400.0, 0, "", None, 1.0, 1.0, "main"),),
)


def kitchen(**changes: object) -> Kitchen:
    cook = Person("cook", (Presence(START, time(8), time(12)), Presence(START, time(15), time(20))))
    child = Person("child", (Presence(START, time(0), time(23)),), is_child=True)
    plain = Kitchen(
        altitude_m=690,
        people=(cook, child),
        canners=(Canner("big", CannerKind.DIAL, 318, 275, 0.5, date(2027, 2, 1)),),
        burners=4,
        oven_trays=2,
        freezer=Freezer(200, 150),
        fridge_free_l=50,
        dryer_trays=6,
        has_mixer=False,
        jars=(
            JarKind("quart", JarSize.QUART.volume_ml, 99, 175, 14, 12),
            JarKind("1200 ml", 1200, 112, 196, 12, 12),
        ),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def household(*meals: Meal, **changes: object) -> Household:
    return replace(Household("us", True, (Eater("a", 1.0),), meals, (), ()), **changes)  # type: ignore[arg-type]


DINNER = Meal("dinner 1", "dinner", START, time(18, 30), 3.0, ("main",))


def test_a_large_jar_is_refused_and_the_gauge_error_is_on_the_card() -> None:
    allowed, refused = variants([PORK], kitchen(), [], START)
    assert [(v.key, v.jar_work.card.minutes, v.jar_work.card.pressure_psi) for v in allowed if v.jar_work] == [
        ("pork_jars/quart/big", 90, 12.5)
    ]
    assert [(r.jar, r.refusal.rule) for r in refused] == [("1200 ml", "jar too large")]


def test_a_pot_too_small_to_be_a_canner_is_refused_not_an_accident() -> None:
    small = Canner("cooker", CannerKind.DIAL, 180, 150, 0.0, date(2027, 2, 1))
    allowed, refused = variants([PORK], kitchen(canners=(small,)), [], START)
    assert allowed == ()
    assert {r.refusal.rule for r in refused} == {"canner too small", "jar too large"}


def test_a_dish_is_offered_once_for_each_meal_that_wants_it() -> None:
    lunch = replace(DINNER, key="lunch 1", name="lunch", at=time(12))
    allowed, _ = variants([SOUP], kitchen(), [DINNER, lunch], START)
    assert {v.meal for v in allowed} == {"dinner", "lunch"}
    assert variants([SOUP], kitchen(), [replace(DINNER, roles=("bread",))], START)[0][0].meal == ""


def test_usage_counts_hands_by_the_unit_and_the_canner_by_the_load() -> None:
    (variant,), _ = variants([PORK], kitchen(), [], START)
    found = {usage.capacity: (usage.per_level, usage.per_load) for usage in usages(variant)}
    assert found["hands"] == (9, 6 + 15 + 5)
    assert variant.jar_work is not None
    cycle = variant.jar_work.cycle
    assert found["big"] == (0, cycle.total_min + 5)  # and unloading
    assert cycle.total_min >= 90 + 10 + 5 + 45  # vent, come-up, natural cooling of quarts (R002, R005, R014)
    assert found["burner"] == (0, cycle.attended_min + 15)


def test_presence_of_a_child_counts_for_nothing() -> None:
    assert attended_blocks(kitchen(), START, 0) == ((480, 720), (900, 1200))
    hands = next(c for c in capacities(kitchen(), START, 2, Pace(0.8, 60)) if c.name == "hands")
    assert hands.per_day == (pytest.approx(0.8 * 540), 0)


def test_the_freezer_is_planned_to_85_percent_and_lids_count_apart() -> None:
    """R126: a freezer is planned 75 to 85 % full."""
    assert plannable_freezer_l(kitchen()) == pytest.approx(170)
    amounts = {pool.name: pool.amount for pool in pools(kitchen())}
    assert amounts["freezer"] == pytest.approx(20)
    assert (amounts["jars quart"], amounts["lids quart"]) == (14, 12)
    assert {p.name: p.amount for p in pools(kitchen(freezer=Freezer(200, 190)))}["freezer"] == 0


def batch(recipe: Recipe, units: float, **changes: object) -> Batch:
    meals = [DINNER] if recipe.use is Use.EAT_NOW else []
    (variant,), _ = variants([recipe], kitchen(jars=kitchen().jars[:1]), meals, START)
    return replace(Batch("b", (variant.key, 0), 0, units, variant), **changes)  # type: ignore[arg-type]


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


def test_states_follow_from_the_place() -> None:
    assert state_of(Place.SHELF, "quart jar") == "jarred"
    assert state_of(Place.SHELF, "dry jar") == "dried"
    assert state_of(Place.SHELF, "sack") == "fresh"  # a sack of potatoes is not ready to eat
    assert state_of(Place.FREEZER, "freezer pack") == "frozen"
    assert state_of(Place.FRIDGE, "tub") == "fresh"


def arrival(food: str, keep_days: int, day: int = 0) -> Arrival:
    return Arrival(food, food, 3000, START.replace(day=9 + day), Place.FRIDGE, keep_days, "", 4.0)


def test_food_that_outlives_the_plan_costs_what_it_could_still_become() -> None:
    soon, later, gone = arrival_lots([arrival("potato", 2), arrival("carrot", 40), arrival("leek", 1, 9)], START, 7) + (
        None,
    )
    assert gone is None  # it comes after the plan
    assert soon is not None
    assert later is not None
    assert (soon.is_store, soon.worth_per_g, soon.last_day) == (False, 0.004, 2)
    assert later.is_store
    assert 0 < later.worth_per_g < soon.worth_per_g


def test_worth_is_handed_down_and_missing_food_has_none() -> None:
    lots = arrival_lots([arrival("potato", 2)], START, 7)
    worth = worths(lots, [arrival("potato", 2)], [SOUP])
    assert input_worth(SOUP, worth) == 0.004
    assert input_worth(PORK, worth) is None


def lot(place: Place, best_by: int, container: str = "tub") -> LarderLot:
    best = START.replace(day=9 + best_by) if best_by >= 0 else date(2027, 4, 9 + best_by)
    return LarderLot("l", "x", "chicken stock", place, 1000, date(2027, 4, 1), best, container, 1)


@pytest.mark.parametrize(
    ("best_by", "last_day", "is_store"),
    [(0, 0, False), (2, 2, False), (7, 7, True)],
)
def test_what_stands_in_the_fridge_is_used_by_its_date(best_by: int, last_day: int, is_store: bool) -> None:
    (found,) = larder_lots([lot(Place.FRIDGE, best_by)], (), START, 7)
    assert (found.last_day, found.is_store) == (last_day, is_store)


def test_a_jar_from_the_shelf_comes_back_the_day_after_and_a_lid_only_if_it_is_reusable() -> None:
    jars = kitchen().jars
    soup = replace(lot(Place.SHELF, 20, "quart jar"), count=2)
    (found,) = larder_lots([soup], jars, START, 7)
    assert found.gives_back == (GivesBack("jars quart", 1.0, 500.0, after_days=1, is_whole=True),)
    (found,) = larder_lots([soup], [replace(jars[0], has_reusable_lids=True)], START, 7)
    assert [back.pool for back in found.gives_back] == ["jars quart", "lids quart"]
    (found,) = larder_lots([replace(soup, container="bottle")], jars, START, 7)
    assert found.gives_back == ()


def test_what_comes_back_is_told_when_it_is_needed() -> None:
    (variant,), _ = variants([PORK], kitchen(), [], START)
    run = planned_run(Run(variant.key, 0, 14.0, 2, ()), variant, {}, START, ())
    wanted = have_ready(kitchen(), [(variant, run)], {}, {"jars quart": 3.0, "lids quart": 3.0})
    told = {entry.what: (entry.needed, entry.in_house) for entry in wanted}
    assert told["quart jars"] == (14, 14)
    assert told["new lids for quart jars (3 come back when emptied)"] == (14, 15)


def test_what_is_past_its_date_is_not_planned_with() -> None:
    assert larder_lots([lot(Place.FRIDGE, -1), lot(Place.SHELF, -4, "quart jar")], (), START, 7) == ()


def test_parts_keep_from_the_day_the_bird_came_in_not_from_the_cutting() -> None:
    """FSIS: raw poultry 1 to 2 days in the fridge; cutting it up does not begin a new clock."""
    birds = replace(arrival("chicken, whole", 2, 1), mass_g=8800)
    task = split(folder(household(), kitchen(), birds, days=7), all_recipes(), 7)
    cuts = [a for a in task.problem.activities if a.key.startswith("chicken_cut_up")]
    assert cuts
    came = 1
    for cut in cuts:
        for output in cut.outputs:
            assert max(cut.days) + output.keeps_days <= came + 2, (cut.key, output.item)


def test_nothing_is_soaked_or_mixed_before_it_has_come() -> None:
    beans = replace(arrival("kidney bean, dry", 300, 2), mass_g=5000)
    task = split(folder(household(), kitchen(), beans, days=7), all_recipes(), 7)
    found = [a for a in task.problem.activities if "beans_dried" in a.key]
    assert found
    for activity in found:
        variant = task.variants[activity.key]
        assert variant.lead_days == 1
        assert min(usage.day_offset for usage in activity.usages) == 0  # the soak is on the day the beans are taken
    run = Run(found[0].key, 2, found[0].smallest, 1, ())
    (made,) = batches_of_run(run, task.variants[found[0].key], folder(household(), kitchen(), beans, days=7))
    assert made.day == 3  # and the canning on the next


def test_freezing_counts_on_the_day_of_packing() -> None:
    stock = next(recipe for recipe in all_recipes() if recipe.key == "pork_stock_frozen")
    days = {usage.day_offset for usage in usages(Variant("stock", stock)) if usage.capacity == "freezing"}
    assert days == ({0, 1} if may_slip(stock.steps, stock.steps[-1]) else {0})


def test_whole_birds_stay_whole() -> None:
    birds = replace(arrival("chicken, whole", 2), mass_g=8800, piece_g=2200)
    task = split(folder(household(DINNER), kitchen(), birds, days=3), all_recipes(), 3)
    frozen = next(a for a in task.problem.activities if a.key == "chicken_whole_frozen")
    grams = frozen.inputs[0].grams_per_level
    assert frozen.level_step * grams == pytest.approx(2200)
    assert (frozen.smallest * grams) % 2200 == pytest.approx(0, abs=1e-6)


def test_two_meals_close_together_are_one_sitting() -> None:
    supper = replace(DINNER, key="supper 1", name="supper", at=time(18, 15))
    problem, pieces = timetable_problem([batch(SOUP, 3, meal_min=1110)], kitchen(), [DINNER, supper], START, 1)
    sits = [task for task in problem.tasks if task.label == "sit down to eat"]
    assert {(task.earliest, task.latest_end) for task in sits} == {(1095, 1140)}
    assert not any(task.key in pieces for task in sits)


def test_targets_count_what_is_in_store() -> None:
    wanting = household(targets=(Target("potato", 10_000), Target("carrot", 1_000)))
    (found,) = targets(wanting, {"potato": 4_000, "carrot": 2_000}, {"potato, fresh": 0.004})
    assert (found.name, sum(amount for amount, _ in found.steps)) == ("potato", 6_000)
    values = [value for _, value in found.steps]
    assert values == sorted(values, reverse=True)


def test_chosen_runs_stay_as_large_as_they_were_chosen_on_each_day() -> None:
    """Five kilograms of carrots: two on the first day and one on the last are chosen, the rest is given away."""
    carrots = (Input(("carrot, fresh",), 1000),)
    jars = Activity("jars", "Jars", "jar", (0, 1, 2), 1, 9, carrots, value_per_level=5.0)
    dry = Activity("dry", "Dry", "dry", (0, 1, 2), 1, 9, carrots, value_per_level=9.0)
    give = Activity("give away/carrot, fresh", "Give", "give away", (0, 1, 2), 0.25, 200, carrots)
    problem = Problem(3, (Lot("c", "carrot, fresh", 5000, 0, 2, 0.004),), (jars, dry, give), (), (), ())
    chosen = [Run("jars", 0, 2.0, 1, ()), Run("jars", 2, 1.0, 1, ())]
    found = solve(just(problem, chosen), seconds=2)
    assert {(run.activity, run.day): pytest.approx(run.level) for run in found.runs if run.activity != give.key} == {
        ("jars", 0): 2.0,
        ("jars", 2): 1.0,
    }
    given = sum(taken.grams for run in found.runs if run.activity == give.key for taken in run.taken)
    assert given == pytest.approx(2000)


def tomato_card(jar: str) -> ProcessCard:
    answer = find(
        "tomato",
        form="crushed, no added liquid",
        jar=jar,
        canner=CannerKind.BOILING_WATER,
        altitude_m=690,
    )
    assert isinstance(answer, ProcessCard)
    return answer


def test_an_odd_jar_of_tomatoes_takes_the_acid_of_the_size_it_counts_as() -> None:
    """Univ. of Missouri Extension GH1456: 1 tbsp bottled lemon juice a pint, 2 tbsp a quart."""
    assert acid_per_jar(tomato_card("quart"))[0] == "2 tbsp bottled lemon juice"
    assert acid_per_jar(tomato_card("300 ml"))[0] == "1 tbsp bottled lemon juice"
    seven_tbsp_g = 7 * 14.787 * 1.03  # about: juice is a little heavier than water
    assert lemon_juice_g(tomato_card("300 ml"), 7) == pytest.approx(seven_tbsp_g, rel=0.05)


def test_food_that_is_acid_enough_gets_none() -> None:
    (variant,), _ = variants([PORK], kitchen(), [], START)
    assert variant.jar_work is not None
    assert (acid_per_jar(variant.jar_work.card), lemon_juice_g(variant.jar_work.card, 7)) == ((), 0.0)


def test_what_is_not_counted_has_to_be_got() -> None:
    assert Wanted("salt", 500, None, "g").to_get == 500
    assert Wanted("salt", 500, 200, "g").to_get == 300
    assert Wanted("salt", 500, 800, "g").to_get == 0


def folder(home: Household, place: Kitchen, *arrivals: Arrival, days: int = 1) -> Folder:
    return Folder(Path("here"), START, days, place, home, arrivals, (), (), ())


def test_a_plan_that_fails_its_check_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pipeline, "check_timetable", lambda *_: ("Two things at once.",))
    with pytest.raises(SourceError, match="Two things at once"):
        pipeline.plan(folder(household(DINNER), kitchen(), arrival("potato", 2)), days=1, seconds=3, progress=str)


def test_with_nobody_in_the_kitchen_food_is_given_away_and_meals_are_told_missing() -> None:
    empty = kitchen(people=(Person("cook", ()),))
    made = pipeline.plan(folder(household(DINNER), empty, arrival("potato", 0)), days=1, seconds=3, progress=str)
    assert made.tasks == ()
    (meal,) = made.meals
    assert not meal.is_on_time
    assert meal.missing == ("main (3.0 portions)",)
    assert [(part.food, part.mass_g) for part in made.left] == [("potato, fresh", pytest.approx(3000))]
