"""What the plan does not use, and which capacities stood in the way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from datetime import date, timedelta

from stillroom.allocation.problem import Allocation, made_by
from stillroom.allocation.reasons import Reasons, name_of
from stillroom.household.folder import Folder
from stillroom.model.household import Place
from stillroom.model.plan import Bottleneck, Left
from stillroom.planning.items import items_of
from stillroom.planning.split import Split
from stillroom.planning.wishes import give_away_key

TIGHT_SHARE = 0.85
GRAMS_WORTH_TELLING = 50.0


def left_over(task: Split, allocation: Allocation, why: Reasons, folder: Folder) -> tuple[Left, ...]:
    """What is given away, what spoils, and what is still good after the last day."""
    found = []
    disliked = folder.household.dislikes
    arrived = {arrival.key for arrival in folder.arrivals}
    taken: dict[str, float] = defaultdict(float)
    for run in allocation.runs:
        for part in run.taken:
            taken[part.lot] += part.grams
            if run.activity not in task.variants:
                day = f"{folder.start + timedelta(days=run.day):%A}"
                reason = f"{why.of_lot(part.lot, run.activity)}{_besides(task, part.item, disliked)}"
                words = f"give away on {day}: {reason}"
                found.append(Left(part.item, part.grams, part.lot, False, words, is_given_away=True))
    spoiled = dict(allocation.spoiled)
    items = {lot.key: lot.item for lot in task.problem.lots}
    lasting = {lot.key: lot for lot in folder.larder if lot.place in (Place.SHELF, Place.FREEZER)}
    for key, grams in spoiled.items():
        if grams > GRAMS_WORTH_TELLING and key in lasting:
            words = (
                f"best by {lasting[key].best_by}, within this plan: eat it first, or look at it before using it later"
            )
            found.append(Left(items[key], grams, key, False, words))
        elif grams > GRAMS_WORTH_TELLING:
            name = items[key] if key in items else made_by(key)[2]
            reason = why.of_lot(key, give_away_key(name))
            found.append(Left(name, grams, key, True, f"{reason}{_besides(task, name, disliked)}"))
    for lot in task.problem.lots:
        rest = lot.amount_g - taken[lot.key] - spoiled.get(lot.key, 0.0)
        if lot.key in arrived and lot.last_day >= task.problem.days and rest > GRAMS_WORTH_TELLING:
            more = lot.last_day - task.problem.days + 1
            found.append(Left(lot.item, rest, lot.key, False, f"keeps for {more} more days after this plan"))
    return tuple(found)


def _besides(task: Split, name: str, disliked: Collection[str]) -> str:
    """That the household does not eat it, or that this kitchen has no jar and canner tested for it."""
    if name_of(name) in disliked:
        return "; the household does not eat it"
    mains = {
        item
        for variant in task.variants.values()
        if variant.jar_work
        for ingredient in variant.recipe.ingredients
        if ingredient.main
        for item in items_of(ingredient)
    }
    if name in mains or name not in task.jarred_items:
        return ""
    return "; this kitchen has no jar and canner with a tested process for it"


def bottlenecks(task: Split, allocation: Allocation, start: date) -> tuple[Bottleneck, ...]:
    """Capacities and pools that are nearly used up, fullest first."""
    words = {c.name: (c.words, c.unit) for c in task.problem.capacities}
    words |= {p.name: (p.words, p.unit) for p in task.problem.pools}
    tight = [
        Bottleneck(
            words[use.name][0],
            None if use.day is None else start + timedelta(days=use.day),
            use.used,
            use.offered,
            words[use.name][1],
        )
        for use in allocation.used
        if use.offered > 0 and use.used >= TIGHT_SHARE * use.offered and not use.name.startswith("dishes as")
    ]
    return tuple(sorted(tight, key=lambda b: -b.used / b.offered))
