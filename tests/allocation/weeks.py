"""Random weeks of a preserving household, all figures invented: a carcass, fruit, vegetables, birds, overnight doughs.

A week of the full size has about 12 lots, 60 activities, 7 days, 20 capacities and 21 needs of meals; the freezer is
nearly full and the canners are short of minutes.
"""

from __future__ import annotations

import random

from stillroom.allocation.problem import (
    Activity,
    Capacity,
    GivesBack,
    Input,
    Lot,
    MealNeed,
    Output,
    Pool,
    PoolUse,
    Problem,
    Serving,
    Target,
    TargetStep,
    Usage,
)

DAYS = 7
PARTS = {"shoulder": 0.2, "belly": 0.15, "leg": 0.25, "bones": 0.12, "fat": 0.08, "trimmings": 0.12}
MEATS = ("shoulder", "belly", "leg", "trimmings", "bird")
GARDEN = ("tomato", "bean", "plum", "cucumber", "cabbage", "carrot")
JARS = {"quart": 0.95, "pint": 0.47}
CANNERS = {"dial": 7, "weighted": 9}
WORTH_PER_G = {"carcass": 0.005, "bird": 0.007, "flour": 0.001, "apple": 0.002} | dict.fromkeys(
    (*PARTS, *GARDEN), 0.003
)


def week(seed: int) -> Problem:
    """The random week of a seed."""
    chance = random.Random(seed)
    activities = [_break_down(chance), *_kept(chance), *_dinners(chance), *_breads(chance)]
    return Problem(
        DAYS,
        _lots(chance),
        tuple(activities),
        _capacities(chance),
        _pools(chance),
        tuple(
            MealNeed(f"dinner {day}", day, role, chance.choice((4, 5, 6)))
            for day in range(DAYS)
            for role in ("main", "side", "bread")
        ),
        tuple(
            Target(food, ((chance.uniform(2000, 5000), 0.002), (chance.uniform(2000, 5000), 0.001)))
            for food in (*GARDEN[:4], "shoulder", "bones")
        ),
    )


def _lots(chance: random.Random) -> tuple[Lot, ...]:
    found = []
    for food, kg, keeps in (
        ("carcass", 40, 2),
        ("bird", 8, 2),
        ("tomato", 20, 3),
        ("bean", 12, 2),
        ("plum", 12, 1),
        ("cucumber", 8, 3),
        ("cabbage", 10, 9),
        ("carrot", 10, 9),
    ):
        first = chance.choice((0, 0, 1, 2, 3))
        grams = 1000 * kg * chance.uniform(0.6, 1.4)
        found.append(Lot(food, food, grams, first, first + keeps + chance.randint(0, 1), WORTH_PER_G[food]))
    freezer = (GivesBack("freezer", 1.4, 1000),)
    for food, kg in (("bird", 3), ("bean", 2)):
        found.append(Lot(f"frozen {food}", food, 1000 * kg, 0, DAYS, 0.004, is_store=True, gives_back=freezer))
    found.append(Lot("flour", "flour", 25_000, 0, DAYS, 0.001, is_store=True))
    found.append(Lot("jars of apple", "apple", 6_000, 0, DAYS, 0.002, is_store=True))
    return tuple(found)


def _break_down(chance: random.Random) -> Activity:
    return Activity(
        "break down",
        "Break down the half pig",
        "break down",
        tuple(range(DAYS)),
        5,
        60,
        inputs=(Input(("carcass",), 1000),),
        outputs=tuple(Output(part, 1000 * share, 0, 2, 0.005) for part, share in PARTS.items()),
        usages=(Usage("hands", fixed=30, per_level=chance.uniform(2, 4)), Usage("table", fixed=20, per_level=4)),
        cost_per_run=2,
    )


def _kept(chance: random.Random) -> list[Activity]:
    found = []
    for food in (*MEATS, "bones", *GARDEN):
        worth = WORTH_PER_G.get(food, 0.003)
        for jar, litres in JARS.items():
            for canner, per_load in CANNERS.items():
                found.append(_jarred(chance, food, jar, litres, canner, per_load))
        found.append(
            Activity(
                f"freeze {food}",
                f"Freeze {food}",
                "freeze",
                tuple(range(DAYS)),
                0.5,
                15,
                inputs=(Input((food,), 1000),),
                usages=(Usage("hands", fixed=15, per_level=5), Usage("freezing", per_level=1000)),
                pools=(PoolUse("freezer", 1.4),),
                targets=(TargetStep(food, 1000),),
                value_per_level=0.4 * worth * 1000,
                cost_per_run=0.5,
            )
        )
    return found[: len(found) - 12] if chance.random() < 0.5 else found[:-6]


def _jarred(chance: random.Random, food: str, jar: str, litres: float, canner: str, per_load: int) -> Activity:
    grams = 900 * litres
    load = per_load if jar == "quart" else 2 * per_load
    worth = WORTH_PER_G.get(food, 0.003)
    return Activity(
        f"jar {food}/{jar}/{canner}",
        f"Jar {food}",
        "jar",
        tuple(range(DAYS)),
        2,
        3 * load,
        inputs=(Input((food,), grams),),
        usages=(
            Usage("hands", per_level=4 * litres, per_load=25),
            Usage(canner, per_load=chance.choice((110, 150))),
            Usage("burner", per_load=120),
        ),
        pools=(PoolUse(f"jars {jar}", 1), PoolUse(f"lids {jar}", 1)),
        targets=(TargetStep(food, grams),),
        value_per_level=0.45 * worth * grams - 0.05,
        cost_per_run=0.8,
        level_step=1,
        level_per_load=load,
        family=f"jar {food}",
    )


def _dinners(chance: random.Random) -> list[Activity]:
    found = []
    oven, burner = (Usage("oven", fixed=90),), (Usage("burner", fixed=25),)
    found.extend(_dish(chance, f"roast {food}", "main", (Input((food,), 220),), oven) for food in MEATS)
    stew = (Input(("shoulder", "trimmings", "bird"), 150), Input(("carrot", "cabbage"), 120))
    found.append(_dish(chance, "stew", "main", stew, (Usage("burner", fixed=120),)))
    found.extend(
        _dish(chance, f"{food} side", "side", (Input((food,), 150),), burner)
        for food in ("bean", "cabbage", "carrot", "tomato")
    )
    found.append(_dish(chance, "crumble", "side", (Input(("plum", "apple"), 160),), (Usage("oven", fixed=45),)))
    return found


def _dish(
    chance: random.Random, name: str, role: str, inputs: tuple[Input, ...], usages: tuple[Usage, ...]
) -> Activity:
    """A level is a portion."""
    return Activity(
        name,
        name.capitalize(),
        "eat now",
        tuple(range(DAYS)),
        2,
        8,
        inputs=inputs,
        usages=(Usage("hands", fixed=chance.uniform(15, 30), per_level=1), *usages),
        servings=(Serving(role, 1.0),),
        value_per_level=0.2,
        cost_per_run=0.5,
        at_most=2 if role == "main" else 3,
    )


def _breads(chance: random.Random) -> list[Activity]:
    """Doughs made on the evening before they are baked."""
    return [
        Activity(
            f"loaf {number}",
            f"Loaf {number}",
            "bake",
            tuple(range(1, DAYS)),
            1,
            3,
            inputs=(Input(("flour",), 500),),
            usages=(
                Usage("hands", -1, fixed=chance.uniform(10, 25)),
                Usage("hands", fixed=10, per_level=3),
                Usage("oven", fixed=60),
            ),
            servings=(Serving("bread", 6.0), Serving("bread", 4.0, 1)),
            cost_per_run=0.6,
            level_step=1,
        )
        for number in range(2)
    ]


def _capacities(chance: random.Random) -> tuple[Capacity, ...]:
    free = tuple(chance.choice((180, 240, 300, 480)) for _ in range(DAYS))
    canning = tuple(0.6 * minutes for minutes in free)
    found = [
        Capacity("hands", free, "hands", "min"),
        Capacity("table", (240.0,) * DAYS, "the table", "min"),
        Capacity("burner", tuple(3.0 * minutes for minutes in free), "the burners", "min"),
        Capacity("oven", tuple(0.8 * minutes for minutes in free), "the oven", "min"),
        Capacity("freezing", (6000.0,) * DAYS, "what the freezer freezes in a day", "g"),
        *(Capacity(canner, canning, f"the {canner} canner", "min") for canner in CANNERS),
    ]
    found.extend(Capacity(f"spare {number}", (60.0,) * DAYS, f"spare {number}", "min") for number in range(13))
    return tuple(found)


def _pools(chance: random.Random) -> tuple[Pool, ...]:
    return (
        Pool("freezer", chance.uniform(5, 20), "the freezer", "L"),
        Pool("jars quart", chance.randint(20, 40), "the quart jars", ""),
        Pool("jars pint", chance.randint(20, 60), "the pint jars", ""),
        Pool("lids quart", chance.randint(20, 40), "the lids for quart jars", ""),
        Pool("lids pint", chance.randint(20, 60), "the lids for pint jars", ""),
    )
