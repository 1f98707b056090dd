"""What an allocation is asked for and what it answers.

Days are whole numbers from 0. An **item** is any food that can be used up (an arrival, a part, a product kept for
later), in grams. An **activity** is one way of using items on one day, at a level between `smallest` and `largest`
(or not at all). It takes capacities, fills pools, serves meals and makes products.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class GivesBack:
    """What using an item gives back to a pool: `amount` for every `grams`, from `after_days` days later on.

    Freezer litres come back gram by gram. `is_whole`: nothing comes back for a part, a jar only when it is empty; lots
    and products of one item that give back alike are emptied one after the other.
    """

    pool: str
    amount: float
    grams: float
    after_days: int = 0
    is_whole: bool = False


@dataclass(frozen=True, slots=True)
class Lot:
    """An amount of an item, usable on days `first_day` … `last_day`, both included.

    `worth_per_g` is lost when it spoils. `is_store` lots (freezer, shelf) do not spoil within the horizon and cost
    `worth_per_g` when used.
    """

    key: str
    item: str
    amount_g: float
    first_day: int
    last_day: int
    worth_per_g: float
    is_store: bool = False
    gives_back: tuple[GivesBack, ...] = ()


@dataclass(frozen=True, slots=True)
class Input:
    """Grams per level of any of `items`; a mixture of them is allowed."""

    items: tuple[str, ...]
    grams_per_level: float


@dataclass(frozen=True, slots=True)
class Output:
    """Grams per level of an item that is usable `ready_after` days later, for `keeps_days` more."""

    item: str
    grams_per_level: float
    ready_after: int
    keeps_days: int
    worth_per_g: float
    gives_back: tuple[GivesBack, ...] = ()


@dataclass(frozen=True, slots=True)
class Usage:
    """Use of a day's capacity (minutes of hands, of oven, of a canner; grams frozen a day), on day + `day_offset`.

    amount = fixed·[done] + per_level·level + per_load·loads
    """

    capacity: str
    day_offset: int = 0
    fixed: float = 0.0
    per_level: float = 0.0
    per_load: float = 0.0


@dataclass(frozen=True, slots=True)
class PoolUse:
    """Lasting use of something finite (freezer litres, quart jars, lids, kilograms of sugar), per level."""

    pool: str
    per_level: float


@dataclass(frozen=True, slots=True)
class Serving:
    """Portions per level in a role of a meal, on day + `day_offset`."""

    role: str
    portions_per_level: float
    day_offset: int = 0


@dataclass(frozen=True, slots=True)
class TargetStep:
    """Value per unit of level put up towards a target; the first `up_to` units are worth `value`, and so on."""

    target: str
    amount_per_level: float


@dataclass(frozen=True, slots=True)
class Activity:
    """One way of using items. Level 1 is one unit of a recipe.

    Every usage must fall inside the horizon, otherwise the run is not allowed. A capacity or pool that the problem
    does not list offers nothing; a target it does not list is worth nothing. Each output is another item.
    Activities whose outputs, usable the same day, could feed each other in a ring give them from the next day on.

    `level_step` > 0: the level is a whole multiple of it (whole jars, whole birds). `level_per_load` > 0: the run
    needs ceil(level / level_per_load) loads. It, or its family where it has one, may be done on `at_most` of any
    `within_days` days in a row, the same for all of a family.
    """

    key: str
    label: str
    use: str
    days: tuple[int, ...]
    smallest: float
    largest: float
    inputs: tuple[Input, ...] = ()
    outputs: tuple[Output, ...] = ()
    usages: tuple[Usage, ...] = ()
    pools: tuple[PoolUse, ...] = ()
    servings: tuple[Serving, ...] = ()
    targets: tuple[TargetStep, ...] = ()
    value_per_level: float = 0.0
    cost_per_run: float = 0.0
    level_step: float = 0.0
    level_per_load: float = 0.0
    at_most: int = 99
    within_days: int = 99
    family: str = ""  # variants of one recipe share a family: at most one of them per day


@dataclass(frozen=True, slots=True)
class Capacity:
    """What each day offers of a capacity, with the words to explain it when it is full."""

    name: str
    per_day: tuple[float, ...]
    words: str  # "hands of the cook"
    unit: str  # "min"


@dataclass(frozen=True, slots=True)
class Pool:
    """Something finite over the whole horizon."""

    name: str
    amount: float
    words: str
    unit: str


@dataclass(frozen=True, slots=True)
class MealNeed:
    """Portions wanted in each role of a meal. Not serving costs `penalty` per portion and is reported."""

    key: str
    day: int
    role: str
    portions: float
    penalty: float = 1000.0


@dataclass(frozen=True, slots=True)
class Target:
    """Wanted stock: value per unit falls in steps: (units, value per unit), best first.

    `words`, where there are some, are the reason of what serves it (a wish), instead of its sums.
    """

    name: str
    steps: tuple[tuple[float, float], ...]
    words: str = ""


@dataclass(frozen=True, slots=True)
class Cut:
    """These (activity, day) choices are not made together again at these levels or above: the days did not hold them.

    That is what a search in limited time came to, not a proof.
    """

    choices: tuple[tuple[str, int, float], ...]  # activity, day, level


@dataclass(frozen=True, slots=True)
class Problem:
    """An allocation to be found."""

    days: int
    lots: tuple[Lot, ...]
    activities: tuple[Activity, ...]
    capacities: tuple[Capacity, ...]
    pools: tuple[Pool, ...]
    meals: tuple[MealNeed, ...]
    targets: tuple[Target, ...] = ()
    cuts: tuple[Cut, ...] = ()


class Outcome(StrEnum):
    """How the search ended."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    OUT_OF_TIME = "out of time"


@dataclass(frozen=True, slots=True)
class Taken:
    """Grams taken from a lot by a run. The lot is a `Lot.key`, or a `lot_made` for an output."""

    lot: str
    item: str
    grams: float


@dataclass(frozen=True, slots=True)
class Run:
    """One activity done on one day."""

    activity: str
    day: int
    level: float
    loads: int
    taken: tuple[Taken, ...]


@dataclass(frozen=True, slots=True)
class Tightness:
    """A capacity on a day, or a pool, that is (nearly) used up: it explains why no more was done."""

    name: str
    day: int | None
    used: float
    offered: float


@dataclass(frozen=True, slots=True)
class Allocation:
    """The answer: runs, what is left to spoil (lot, grams), unmet portions (meal key, role, portions)."""

    outcome: Outcome
    runs: tuple[Run, ...]
    spoiled: tuple[tuple[str, float], ...]
    unmet: tuple[tuple[str, str, float], ...]
    used: tuple[Tightness, ...]  # every capacity/day and pool, with use and offer
    objective: float = 0.0
    bound: float = 0.0
    seconds: float = 0.0
    stake: float = 0.0  # by how much doing this is better than doing nothing, missed meals not counted

    @property
    def gap(self) -> float:
        """Share of the stake by which a better answer might still be better (0.01 is 1 %).

        Shares of `objective` would flatter: one meal that can't be served outweighs all the food of a week.
        """
        return max(0.0, self.bound - self.objective) / max(self.stake, 1e-6)


def lot_made(activity: str, day: int, item: str) -> str:
    """The lot of an item that a run makes."""
    return f"run:{activity}:{day}:{item}"


def made_by(lot: str) -> tuple[str, int, str]:
    """Activity, day and item of a `lot_made`."""
    activity, day, item = lot.removeprefix("run:").rsplit(":", 2)
    return activity, int(day), item


def validate(problem: Problem) -> None:
    """Raises ValueError where a problem contradicts itself, so that no solver answers a question nobody asked."""
    for activity in problem.activities:
        if activity.smallest < 0 or activity.largest < activity.smallest:
            raise ValueError(f"{activity.key}: levels {activity.smallest:g} to {activity.largest:g} are no range.")
        made = [output.item for output in activity.outputs]
        if len(set(made)) < len(made):
            raise ValueError(f"{activity.key}: makes the same item twice; add the grams up into one output.")
    returns = [back for lot in problem.lots for back in lot.gives_back]
    returns += [back for activity in problem.activities for output in activity.outputs for back in output.gives_back]
    for back in returns:
        if back.grams <= 0 or back.amount < 0 or back.after_days < 0:
            raise ValueError(f"{back.pool}: what comes back must be for some grams, on the day or later.")
    limits: dict[str, tuple[int, int]] = {}
    for activity in problem.activities:
        limit = activity.at_most, activity.within_days
        if activity.family and limits.setdefault(activity.family, limit) != limit:
            raise ValueError(f"{activity.family}: its variants must all be allowed equally often.")
    for target in problem.targets:
        values = [value for _, value in target.steps]
        if values != sorted(values, reverse=True):
            raise ValueError(f"{target.name}: the steps of a target must be worth less and less.")
    _unique("lot", [lot.key for lot in problem.lots])
    _unique("activity", [activity.key for activity in problem.activities])
    _unique("capacity", [capacity.name for capacity in problem.capacities])
    _unique("pool", [pool.name for pool in problem.pools])
    _unique("target", [target.name for target in problem.targets])
    _unique("meal", [f"{meal.key} ({meal.role})" for meal in problem.meals])


def _unique(what: str, names: list[str]) -> None:
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise ValueError(f"More than one {what} is called {twice[0]}.")
