"""A small kitchen with one cook, a recipe for jars and one for a pot, for the tests of planning."""

from dataclasses import replace
from datetime import date, time
from pathlib import Path

from stillroom.household.folder import Folder
from stillroom.model.household import Arrival, Eater, Household, LarderLot, Meal, Place
from stillroom.model.kitchen import Canner, Freezer, JarKind, Kitchen, Person, Presence
from stillroom.model.process import CannerKind, JarSize, ProcessCard, ProcessRequest
from stillroom.model.recipe import After, Ingredient, Need, Product, Recipe, Step, Use
from stillroom.model.work import Attention
from stillroom.planning.tasks import Batch
from stillroom.planning.variants import variants
from stillroom.process.find import find

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


def batch(recipe: Recipe, units: float, **changes: object) -> Batch:
    meals = [DINNER] if recipe.use is Use.EAT_NOW else []
    (variant,), _ = variants([recipe], kitchen(jars=kitchen().jars[:1]), meals, START)
    return replace(Batch("b", (variant.key, 0), 0, units, variant), **changes)  # type: ignore[arg-type]


def arrival(food: str, keep_days: int, day: int = 0) -> Arrival:
    return Arrival(food, food, 3000, START.replace(day=9 + day), Place.FRIDGE, keep_days, "", 4.0)


def lot(place: Place, best_by: int, container: str = "tub") -> LarderLot:
    best = START.replace(day=9 + best_by) if best_by >= 0 else date(2027, 4, 9 + best_by)
    return LarderLot("l", "x", "chicken stock", place, 1000, date(2027, 4, 1), best, container, 1)


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


def folder(home: Household, place: Kitchen, *arrivals: Arrival, days: int = 1) -> Folder:
    return Folder(Path("here"), START, days, place, home, arrivals, (), (), ())
