"""The pages of what comes in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stillroom.household.measure_text import keep_days
from stillroom.tables.vocabulary import foods
from stillroom.web.arrivals import actions
from stillroom.web.arrivals.forms import CLOCKS, ArrivalForm, DivideForm, LineForm, TakeForm, tapped_line, taps
from stillroom.web.arrivals.line import ASSUMED
from stillroom.web.arrivals.models import Arrival
from stillroom.web.arrivals.waiting import expected, one_waiting, waiting
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import say
from stillroom.web.frame.seen import AnyForm, change_once
from stillroom.web.frame.undo import history
from stillroom.web.kitchen.actions import end_step


@require_http_methods(["GET", "HEAD", "POST"])
def index(request: HttpRequest) -> HttpResponse:
    """What is here and what is expected; one line adds to it."""
    sent = request.POST.copy()
    if line := tapped_line(sent):
        sent["line"] = line
    form = LineForm(sent or None, household=request.household)
    if request.method == "POST" and form.is_valid():
        with once(request) as is_first:
            if is_first:
                say(request, actions.add(request.household, form.understood, at=timezone.now()))
                if request.household.set_up_step == "arrival":
                    end_step(request.household, "arrival")
                    messages.success(request, "The set-up is done. Write what else comes in, then make a plan.")
        return redirect("arrivals:index")
    status = 422 if request.method == "POST" else 200
    return render(request, "arrivals/index.html", _lists(request) | {"form": form}, status=status)


@require_safe
def understood(request: HttpRequest) -> HttpResponse:
    """What a line would mean, while it is typed, or the clock it asks for; nothing while it can't be read yet."""
    form = LineForm({"line": request.GET.get("line", "")}, household=request.household)
    line = form.understood if form.is_valid() else None
    return render(request, "arrivals/_understood.html", {"line": line, "form": form, "clocks": CLOCKS})


def one(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """One arrival: its clock and why, what became of it, what can be done with it."""
    return _one(request, _found(request, arrival_id))


@require_http_methods(["GET", "HEAD", "POST"])
def edit(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """Corrects an arrival, unless it was changed since the form was shown: then that is told, and nothing is kept."""

    def act(form: ArrivalForm) -> None:
        say(request, actions.correct(form.apply(), at=timezone.now()))

    if request.method == "POST":
        form, status = change_once(request, _build(request, arrival_id, ArrivalForm), act)
        if not status:
            return redirect("arrivals:one", arrival_id)
    else:
        form, status = ArrivalForm(arrival=_found(request, arrival_id)), 200
    context = {"form": form, "arrival": _found(request, arrival_id), "foods": foods()}
    return render(request, "arrivals/edit.html", context, status=status)


@require_POST
def clock(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """Sets its clock by one tap; one that is not safe is told."""
    days = keep_days(request.POST.get("clock", ""))
    with once(request) as is_first:
        if is_first:
            say(request, actions.set_clock(_locked(request, arrival_id), days, at=timezone.now()))
    return redirect("arrivals:index")


@require_POST
def divide(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """Makes a part of it an arrival of its own."""

    def act(form: DivideForm) -> None:
        typed = form.cleaned_data
        changes = {"place": typed["place"], "given_days": typed["clock"], "note": typed["note"]}
        say(request, actions.divide(form.arrival, typed["amount"], at=timezone.now(), **changes)[1])

    form, status = change_once(request, _build(request, arrival_id, DivideForm), act)
    if not status:
        return redirect("arrivals:index")
    return _one(request, _found(request, arrival_id), divide_form=form, status=status)


@require_POST
def take(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """Says what became of a part of it."""

    def act(form: TakeForm) -> None:
        typed = form.cleaned_data
        say(request, actions.take(form.arrival, typed["amount"].mass_g, typed["why"], at=timezone.now()))

    form, status = change_once(request, _build(request, arrival_id, TakeForm), act)
    if not status:
        return redirect("arrivals:one", arrival_id)
    return _one(request, _found(request, arrival_id), take_form=form, status=status)


@require_POST
def came(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """An expected arrival is in the house."""
    with once(request) as is_first:
        if is_first:
            arrival = _locked(request, arrival_id)
            say(request, actions.say_it_came(arrival, on=request.household.today, at=timezone.now()))
    return redirect("arrivals:one", arrival_id)


@require_POST
def remove(request: HttpRequest, arrival_id: int) -> HttpResponse:
    """Strikes out a slip; pressed twice it is gone once."""
    with once(request) as is_first:
        if is_first:
            say(request, actions.remove(_locked(request, arrival_id), at=timezone.now()))
    return redirect("arrivals:index")


def _found(request: HttpRequest, arrival_id: int) -> Arrival:
    found: Arrival = get_object_or_404(request.household.arrivals, pk=arrival_id)
    return found


def _locked(request: HttpRequest, arrival_id: int) -> Arrival:
    """The arrival as it is now, until the transaction ends."""
    found: Arrival = get_object_or_404(request.household.arrivals.select_for_update(), pk=arrival_id)
    return found


def _build(request: HttpRequest, arrival_id: int, form: type[AnyForm]) -> Callable[[], AnyForm]:
    return lambda: form(request.POST, arrival=_locked(request, arrival_id))


def _lists(request: HttpRequest) -> dict[str, Any]:
    household = request.household
    return {
        "assumed": household.arrivals.filter(note__endswith=ASSUMED),
        "waiting": waiting(household),
        "expected": expected(household),
        "clocks": CLOCKS,
        "taps": taps(household),
        "step": "arrival" if household.set_up_step == "arrival" else "",
    }


def _one(
    request: HttpRequest,
    arrival: Arrival,
    *,
    divide_form: DivideForm | None = None,
    take_form: TakeForm | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "one": one_waiting(arrival),
        "arrival": arrival,
        "history": history(arrival),
        "divide_form": divide_form or DivideForm(arrival=arrival),
        "take_form": take_form or TakeForm(arrival=arrival),
    }
    return render(request, "arrivals/one.html", context, status=status)
