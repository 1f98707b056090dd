"""What a batch of a plan made is offered to the larder as soon as its last task is said to be done."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from stillroom.model.plan import Made, PlannedRun, PlannedTask
from stillroom.model.process import ProcessCard
from stillroom.model.recipe import Product, Recipe
from stillroom.model.work import Attention
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.tasks import Piece
from stillroom.web.day.current import Current
from stillroom.web.larder.empty_jars import container_of
from stillroom.web.larder.models import PutUp

AT_THE_TABLE = ("plate", "loaf")  # a meal eats of it first: the page of the table asks what is left
_COUNTED = ("freezer pack", "dry jar")  # what is taken out by the piece; everything else is weighed
_PACK_G = 1000.0  # common practice, no source: how much one freezes in a pack or fills into a jar of dried food
_BREAD = "white bread"


def offer(current: Current, task: PlannedTask, *, done_at: datetime) -> PutUp | None:
    """What the batch made whose last task this is; `done_at` by the clock of the plan. Said twice it is one offer."""
    piece = _last_of_batch(current, task)
    run = next((run for run in current.plan.runs if run.key == task.run), None)
    if piece is None or run is None:
        return None
    recipe = next((one for one in known_recipes(current.kept.folder) if one.key == run.recipe), None)
    lines = lines_of(recipe, run, piece.batch) if recipe is not None else []
    if not lines:
        return None
    share = _share(run, piece.batch)
    zone = ZoneInfo(current.row.household.time_zone)
    facts: dict[str, Any] = {
        "run": f"{current.row.pk}:{run.key}",
        "name": run.name,
        "taken": [{"food": part.food, "mass_g": part.mass_g * share, "origin": part.origin} for part in run.taken],
        "made": lines,
        "done_at": done_at.replace(tzinfo=zone),
        "ready_on": done_at.date() + (max(made.ready_on for made in run.made) - run.day),
    }
    if run.card is not None:
        facts |= _process(run, run.card) | {"jars": lines[0]["count"]}
        facts["most_jars"] = max(run.jars_per_load, lines[0]["count"])
    found, _ = PutUp.objects.get_or_create(
        household=current.row.household, key=f"{current.row.pk}:{piece.batch}", defaults=facts
    )
    return found


def take_offer_back(current: Current, task: PlannedTask) -> None:
    """The task is not done after all: what nobody put up yet is offered no more."""
    piece = _last_of_batch(current, task)
    if piece is not None:
        offers = PutUp.objects.filter(household=current.row.household, key=f"{current.row.pk}:{piece.batch}")
        offers.filter(used_at=None, ended_at=None).delete()


def _last_of_batch(current: Current, task: PlannedTask) -> Piece | None:
    """Where the task comes from, if no other task of its batch that needs somebody ends later."""
    pieces = current.standing.worked_out.pieces
    piece = pieces.get(task.key)
    if piece is None or piece.run is None or task.attention is Attention.FREE:
        return None
    others = (other for other in current.kept.worked_out.plan.tasks if other.attention is not Attention.FREE)
    ends = {o.key: (o.end, o.start) for o in others if o.key in pieces and pieces[o.key].batch == piece.batch}
    return piece if ends and max(ends, key=lambda key: ends[key]) == task.key else None


def _share(run: PlannedRun, batch: str) -> float:
    """The share of a run that one of its batches is; in whole jars where there are jars."""
    batches = sum(sheet.count for sheet in run.sheets)
    return _jars(run, batch) / run.jars if run.jars else 1 / max(1, batches)


def _jars(run: PlannedRun, batch: str) -> int:
    """The first batches have one jar more where it does not come out even."""
    number = int(batch.rpartition("#")[2]) - 1 if "#" in batch else 0
    each, more = divmod(run.jars, max(1, run.loads))
    return each + (1 if number < more else 0)


def lines_of(recipe: Recipe, run: PlannedRun, batch: str) -> list[dict[str, Any]]:
    """What one batch of a run makes to be put by; dishes and bread stay with the table."""
    share = _share(run, batch)
    lines = []
    for product, made in zip(recipe.products, run.made, strict=True):
        if made.container not in AT_THE_TABLE and made.best_by is not None:
            mass_g = made.mass_g * share
            lines.append(
                {
                    "product": made.name,
                    "food": _food(product, run),
                    "place": made.place.value,
                    "container": _container(made, run),
                    "count": _jars(run, batch) if run.jars else _count(made, mass_g),
                    "mass_g": round(mass_g, 1),
                    "keeps_days": (made.best_by - made.ready_on).days,
                }
            )
    return lines


def _food(product: Product, run: PlannedRun) -> str:
    """The food that it is in the lists; where the recipe names none, what it was made of, as it came."""
    return product.food or next((part.food.rsplit(", ", 1)[0] for part in run.taken), _BREAD)


def _container(made: Made, run: PlannedRun) -> str:
    return container_of(run.jar) if run.jars else made.container if made.container in _COUNTED else ""


def _count(made: Made, mass_g: float) -> int:
    return max(1, round(mass_g / _PACK_G)) if made.container in _COUNTED else 1


def _process(run: PlannedRun, card: ProcessCard) -> dict[str, Any]:
    psi = "" if card.pressure_psi is None else f"{card.pressure_psi:g}"
    how = f"at {psi} psi" if psi else "at a full boil"
    return {
        "jar": run.jar,
        "pack": card.pack,
        "psi": psi,
        "process": f"{card.minutes} min {how}, {run.canner}"[:200],
        "source": f"{card.row.guide_table}; {card.row.source}"[:300],
    }
