"""A plan in a few numbers, so that two plans can be laid side by side."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, time

from stillroom.household.folder import Folder
from stillroom.model.plan import Left, Plan
from stillroom.model.recipe import Use
from stillroom.model.work import Attention
from stillroom.planning.items import arrival_lots, worths
from stillroom.planning.pipeline import known_recipes


@dataclass(frozen=True, slots=True)
class Figures:
    """What a plan makes of the food and what it asks of people and kitchen.

    Masses are of the food as it goes in [kg]. `worth_in` is the worth of what comes in, `worth_kept` of that what is
    neither given away nor lost, in the currency of the arrivals. Evenings are minutes after midnight: the last end of
    work by hand, on the latest day and on average over the days with work.
    """

    meals_wanted: int
    meals_on_time: int
    jarred_kg: float
    frozen_kg: float
    dried_kg: float
    other_kept_kg: float  # cured, fermented, stock, kept fresh
    eaten_kg: float
    given_away_kg: float
    lost_kg: float
    waiting_kg: float  # still good after the last day
    worth_in: float
    worth_kept: float
    jars: int
    loads: int
    freezer_l: float
    freezer_plannable_l: float
    latest_evening_min: int
    mean_evening_min: int
    hands_min: int


def figures(folder: Folder, plan: Plan) -> Figures:
    """The plan of a folder in numbers."""
    by_use = _grams_by_use(plan)
    given = [part for part in plan.left if part.is_given_away]
    lost = [part for part in plan.left if part.is_lost]
    waiting = [part for part in plan.left if not part.is_lost and not part.is_given_away]
    worth_in, price = _worth(folder)
    gone = sum(part.mass_g * price.get(part.food, 0.0) for part in (*given, *lost))
    evenings = _evenings(plan)
    return Figures(
        meals_wanted=len(plan.meals),
        meals_on_time=sum(meal.is_on_time for meal in plan.meals),
        jarred_kg=by_use[Use.JAR] / 1000,
        frozen_kg=by_use[Use.FREEZE] / 1000,
        dried_kg=by_use[Use.DRY] / 1000,
        other_kept_kg=sum(by_use[use] for use in (Use.CURE, Use.FERMENT, Use.STOCK, Use.KEEP_FRESH)) / 1000,
        eaten_kg=sum(by_use[use] for use in (Use.EAT_NOW, Use.BAKE)) / 1000,
        given_away_kg=_kg(given),
        lost_kg=_kg(lost),
        waiting_kg=_kg(waiting),
        worth_in=worth_in,
        worth_kept=max(0.0, worth_in - gone),
        jars=sum(run.jars for run in plan.runs),
        loads=sum(run.loads for run in plan.runs),
        freezer_l=plan.freezer.after_l,
        freezer_plannable_l=plan.freezer.plannable_l,
        latest_evening_min=max(evenings, default=0),
        mean_evening_min=round(sum(evenings) / len(evenings)) if evenings else 0,
        hands_min=round(
            sum((t.end - t.start).total_seconds() / 60 for t in plan.tasks if t.attention is Attention.HANDS)
        ),
    )


def _grams_by_use(plan: Plan) -> dict[Use, float]:
    total: dict[Use, float] = defaultdict(float)
    for run in plan.runs:
        total[run.use] += sum(taken.mass_g for taken in run.taken)
    return total


def _worth(folder: Folder) -> tuple[float, dict[str, float]]:
    """Worth of all that comes in within the plan, and of a gram of every item."""
    lots = arrival_lots(folder.arrivals, folder.start, folder.days)
    price = worths(lots, folder.arrivals, known_recipes(folder))
    return sum(lot.amount_g * price[lot.item] for lot in lots), price


def _evenings(plan: Plan) -> list[int]:
    """The last minute of work by hand of each day with work."""
    last: dict[datetime, int] = {}
    for task in plan.tasks:
        if task.attention is Attention.HANDS:
            midnight = datetime.combine(task.start.date(), time())
            minute = round((task.end - midnight).total_seconds() / 60)
            last[midnight] = max(last.get(midnight, 0), minute)
    return list(last.values())


def _kg(parts: Iterable[Left]) -> float:
    return sum(part.mass_g for part in parts) / 1000
