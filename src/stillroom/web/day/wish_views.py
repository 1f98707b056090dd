"""Changing the split by hand: of a run on its page, of a food on a page of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.http.response import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from stillroom.errors import InputError
from stillroom.model import wish as model
from stillroom.model.plan import PlannedRun
from stillroom.model.wish import WishAnswer, WishKind
from stillroom.planning.by_hand import wish_words
from stillroom.web.day import wish_actions
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.models import Wish
from stillroom.web.day.split_page import Lump, Split, refusals_of
from stillroom.web.day.wish_forms import FoodWishForm, choices
from stillroom.web.frame.models import Change
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import say
from stillroom.web.kitchen.models import Household


@dataclass(frozen=True, slots=True)
class ShownWish:
    """A wish with what became of it in the plan; `answer` is empty while no plan knows of it."""

    row: Wish
    answer: WishAnswer | None


def shown_wishes(household: Household, current: Current | None) -> tuple[ShownWish, ...]:
    """What is wished, each with its answer."""
    answers = {answer.wish: answer for answer in current.plan.wishes} if current else {}
    return tuple(ShownWish(row, answers.get(row.to_model())) for row in wish_actions.open_wishes(household))


@require_POST
def of_run(request: HttpRequest, key: str) -> HttpResponse:
    """Keep it, not on that day, on another day, not at all."""
    current = _current(request)
    run = next((run for run in current.plan.runs if run.key == key), None)
    if run is None:
        raise Http404
    wishes = _wishes_of_run(run, request.POST.get("what", ""), request.POST.get("day", ""), current)
    with once(request) as is_first:
        if is_first:
            _wish(request, wishes, {run.recipe: run.name}, current.last_day)
    return redirect("day:split")


@require_http_methods(["GET", "HEAD", "POST"])
def food(request: HttpRequest, name: str) -> HttpResponse:
    """Where a food goes, what stands in the way of more, and a wish for it."""
    current = _current(request)
    page = Split(current.kept, {arrival.key: arrival.name for arrival in request.household.arrivals.all()})
    lumps = [lump for lump in _all(page.arrivals()) if lump.food == name]
    if not lumps:
        raise Http404
    refused = refusals_of(current.kept, name)
    offered = choices(current.row.kept, name, lumps[0].name, is_jar_refused=bool(refused))
    form = FoodWishForm(request.POST or None, food=name, uses=offered.uses)
    if request.method == "POST" and form.is_valid():
        with once(request) as is_first:
            if is_first:
                _wish(request, [form.wish], {}, current.last_day)
        return redirect("day:split")
    context = {
        "form": form,
        "offered": offered,
        "parts": dict.fromkeys(inner.food for lump in lumps for inner in _all([lump]) if inner.food != name),
        "lumps": lumps,
        "name": lumps[0].name,
        "refused": refused,
    }
    return render(request, "day/food.html", context, status=422 if form.errors else 200)


@require_POST
def drop(request: HttpRequest, wish_id: int) -> HttpResponse:
    """Wishes it no more; pressed twice it is gone once."""
    with once(request) as is_first:
        if is_first:
            row = get_object_or_404(request.household.wishes, pk=wish_id)
            say(request, wish_actions.drop(row, at=timezone.now()))
    return redirect("day:split")


def _wishes_of_run(run: PlannedRun, what: str, day: str, current: Current) -> list[model.Wish]:
    grams = sum(taken.mass_g for taken in run.taken)
    if what == "keep":
        return [model.Wish(WishKind.ON, recipe=run.recipe, day=run.day, mass_g=grams)]
    if what == "not on":
        return [model.Wish(WishKind.NOT_ON, recipe=run.recipe, day=run.day)]
    if what == "never":
        return [model.Wish(WishKind.NO_RECIPE, recipe=run.recipe)]
    if what == "move":
        to = current.day_asked(day)
        return [
            model.Wish(WishKind.NOT_ON, recipe=run.recipe, day=run.day),
            model.Wish(WishKind.ON, recipe=run.recipe, day=to, mass_g=grams),
        ]
    raise InputError(f"A run can be kept, moved, not done on its day or not at all; “{what}” is none of these.")


def _wish(request: HttpRequest, wishes: Sequence[model.Wish], names: dict[str, str], until: date) -> None:
    told = [(wish, wish_words(wish, names)) for wish in wishes]
    change: Change | None = wish_actions.wish(request.household, told, until=until, at=timezone.now())
    if change is None:
        messages.success(request, "That is wished already.")
    say(request, change)


def _current(request: HttpRequest) -> Current:
    current = current_plan(request.household)
    if current is None:
        raise InputError("There is no plan any more; make one on the page of the split.")
    return current


def _all(lumps: Sequence[Lump]) -> list[Lump]:
    """Lumps and what is cut from them."""
    return [found for lump in lumps for found in (lump, *_all([i for p in lump.parts if p.is_cut for i in p.then]))]
