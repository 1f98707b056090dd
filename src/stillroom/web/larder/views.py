"""The pages of what is in store."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stillroom.errors import InputError
from stillroom.model.household import Place
from stillroom.web.frame.models import Change
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import back, page_or_fragment, say
from stillroom.web.frame.seen import change_once
from stillroom.web.frame.undo import history
from stillroom.web.larder import actions, in_store
from stillroom.web.larder.forms import LotForm, TakeOutForm
from stillroom.web.larder.keeping_words import kept, what_to_do
from stillroom.web.larder.models import Lot

_LONGEST = 80


@require_safe
def index(request: HttpRequest) -> HttpResponse:
    """All places at a glance; with a place or words to look for, one list page by page."""
    household, today = request.household, request.household.today
    asked, place = request.GET.get("q", "").strip()[:_LONGEST], _place(request.GET.get("place", ""))
    lots = in_store.lots_left(household, asked)
    shelves = in_store.shelves(lots, today)
    context: dict[str, Any] = {
        "q": asked,
        "place": place,
        "shelves": shelves,
        "count": sum(one.count for one in shelves),
    }
    if asked or place:
        count = sum(one.count for one in shelves if place in ("", one.place.value))
        in_place = lots.filter(place=place) if place else lots
        context |= {"page": in_store.page(in_place, count, _number(request), today), "found": count}
    else:
        context["first"] = in_store.use_first(household)
        context["glances"] = [(one, in_store.glance(lots, one, today)) for one in shelves]
    return page_or_fragment(request, "larder/index.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    """Puts into the list what was in store already."""
    lot = Lot(household=request.household, place=_place(request.GET.get("place", "")))
    form = LotForm(request.POST or None, lot=lot)
    if form.is_valid() and _act(request, form, lambda at: actions.add(lot, at=at)):
        return redirect("larder:index")
    return render(request, "larder/edit.html", {"form": form}, status=422 if form.errors else 200)


@require_safe
def one(request: HttpRequest, lot_id: int) -> HttpResponse:
    """One lot: its dates, what to do with it, what was done with it."""
    return _one(request, _found(request, lot_id))


@require_http_methods(["GET", "HEAD", "POST"])
def edit(request: HttpRequest, lot_id: int) -> HttpResponse:
    """Corrects a lot, unless it was changed since the form was shown: then that is told, and nothing is kept."""

    def build() -> LotForm:
        lots = request.household.lots.select_for_update()
        lot = get_object_or_404(lots, pk=lot_id)
        lot.household = request.household
        return LotForm(request.POST, lot=lot)

    form, status = LotForm(lot=_found(request, lot_id)), 200
    if request.method == "POST":
        form, status = change_once(
            request, build, lambda form: say(request, actions.correct(form.lot, at=timezone.now()))
        )
        if not status:
            return redirect("larder:one", lot_id)
    return render(request, "larder/edit.html", {"form": form, "lot": _found(request, lot_id)}, status=status)


@require_POST
def take_out(request: HttpRequest, lot_id: int) -> HttpResponse:
    """Takes a part out, or all of it."""
    lot = _found(request, lot_id)
    form = TakeOutForm(request.POST, lot=lot)
    if form.is_valid():
        (count, mass_g), why = form.cleaned_data["part"], form.cleaned_data["why"]
        day = request.household.today
        if _act(request, form, lambda at: actions.take_out(lot, count, mass_g, why, day=day, at=at)):
            return back(request, "larder:index")
    return _one(request, _found(request, lot_id), form=form, status=422)


@require_POST
def remove(request: HttpRequest, lot_id: int) -> HttpResponse:
    """Strikes out a slip; pressed twice it is gone once."""
    with once(request) as is_first:
        if is_first:
            say(request, actions.remove(_found(request, lot_id), at=timezone.now()))
    return redirect("larder:index")


def _found(request: HttpRequest, lot_id: int) -> Lot:
    found: Lot = get_object_or_404(request.household.lots.select_related("household"), pk=lot_id)
    return found


def _place(text: str) -> str:
    if text and text not in [place.value for place in Place]:
        raise Http404
    return text


def _number(request: HttpRequest) -> int:
    text = request.GET.get("page", "1")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 9 else 1


def _act(request: HttpRequest, form: forms.Form, action: Callable[[datetime], Change]) -> bool:
    """Whether the action was done, now or by the same form before; what it refuses stands in the form."""
    try:
        with once(request) as is_first:
            if is_first:
                say(request, action(timezone.now()))
    except InputError as error:
        form.add_error(None, str(error))
        return False
    return True


def _one(request: HttpRequest, lot: Lot, *, form: TakeOutForm | None = None, status: int = 200) -> HttpResponse:
    seen = kept(lot, request.household.today)
    context = {
        "one": seen,
        "lot": lot,
        "todo": what_to_do(lot) if seen.pressing == "stop" and lot.count else None,
        "taken": lot.taken.exists(),
        "history": history(lot),
        "form": form or TakeOutForm(lot=lot),
    }
    return render(request, "larder/one.html", context, status=status)
