"""The page of something that a plan put up, and its taps."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from stillroom.tables.rules import rule
from stillroom.web.frame.models import Change
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import back, say, tapped_ago
from stillroom.web.frame.seen import AnyForm, change_once
from stillroom.web.frame.undo import history
from stillroom.web.larder import put_up_actions as actions
from stillroom.web.larder.models import PutUp
from stillroom.web.larder.put_up_fates import Fate, not_kept_until
from stillroom.web.larder.put_up_forms import AmountsForm, LidsForm, OutOfCannerForm

NOT_KEPT, NOT_SEALED = ("R008", "R009", "R024"), ("R022", "R023", "R025", "R026", "R027")
_MADE_LIKE: dict[str, type[forms.Form]] = {"out": OutOfCannerForm, "lids": LidsForm, "keep": AmountsForm}


@require_safe
def one(request: HttpRequest, put_up_id: int) -> HttpResponse:
    """What it is, where it stands, what is asked next, what was done."""
    return _one(request, put_up_id)


@require_POST
def out(request: HttpRequest, put_up_id: int) -> HttpResponse:
    """The jars came out of the canner: kept, done again, or not for the shelf."""

    def act(put_up: PutUp, form: OutOfCannerForm) -> Change | None:
        return said_of_canner(put_up, form, request)

    return _act(request, put_up_id, OutOfCannerForm, act)


@require_POST
def lids(request: HttpRequest, put_up_id: int) -> HttpResponse:
    """The lids of the cold jars were looked at."""

    def act(put_up: PutUp, form: LidsForm) -> Change | None:
        return said_of_lids(put_up, form, request)

    return _act(request, put_up_id, LidsForm, act)


@require_POST
def keep(request: HttpRequest, put_up_id: int) -> HttpResponse:
    """What is in no processed jar: into the larder as counted and weighed."""

    def act(put_up: PutUp, form: AmountsForm) -> Change | None:
        return said_of_amounts(put_up, form, request)

    return _act(request, put_up_id, AmountsForm, act)


@require_POST
def remove(request: HttpRequest, put_up_id: int) -> HttpResponse:
    """Strikes out a slip; pressed twice it is gone once."""
    with once(request) as is_first:
        if is_first:
            say(request, actions.strike_out(locked(request, put_up_id), at=timezone.now()))
    return redirect("larder:index")


def said_of_canner(put_up: PutUp, form: OutOfCannerForm, request: HttpRequest) -> Change | None:
    """Acts on a form that is right."""
    now, jars, fate, told = _now(request), form.cleaned_data["jars"], form.told_fate, form.told_in_time
    if fate is None or fate is Fate.AGAIN:
        is_again = fate is not None
        return actions.out_of_canner(put_up, jars, now=now, at=timezone.now(), is_again=is_again, told=told)
    return actions.process_not_kept(put_up, jars, fate, now=now, at=timezone.now(), told=told)


def said_of_lids(put_up: PutUp, form: LidsForm, request: HttpRequest) -> Change | None:
    """Acts on a form that is right."""
    now, sealed = _now(request), form.cleaned_data["sealed"]
    told = form.told_in_time
    return actions.look_at_lids(put_up, sealed, form.told_fate, now=now, at=timezone.now(), told=told)


def said_of_amounts(put_up: PutUp, form: AmountsForm, request: HttpRequest) -> Change | None:
    """Acts on a form that is right."""
    return actions.keep_made(put_up, form.amounts, now=_now(request), at=timezone.now())


def _now(request: HttpRequest) -> datetime:
    """When it was tapped, which may be before the network came back."""
    now: datetime = request.household.now() - tapped_ago(request)
    return now


def locked(request: HttpRequest, put_up_id: int) -> PutUp:
    """As it is now, until the transaction ends."""
    rows = request.household.put_ups.select_for_update()
    found: PutUp = get_object_or_404(rows, pk=put_up_id)
    found.household = request.household
    return found


def _act(
    request: HttpRequest, put_up_id: int, kind: type[AnyForm], action: Callable[[PutUp, Any], Change | None]
) -> HttpResponse:
    held: list[PutUp] = []

    def build() -> AnyForm:
        held[:] = [locked(request, put_up_id)]
        return kind(request.POST, put_up=held[0])

    def act(form: AnyForm) -> None:
        change = action(held[0], form)
        say(request, change)
        if change is None:
            messages.success(request, f"{held[0].name}: that was said before, nothing changed.")

    form, status = change_once(request, build, act)
    return _one(request, put_up_id, form, status) if status else back(request, "larder:index")


def _one(request: HttpRequest, put_up_id: int, form: forms.Form | None = None, status: int = 200) -> HttpResponse:
    put_up = get_object_or_404(request.household.put_ups, pk=put_up_id)
    put_up.household = request.household
    asks = what_is_asked(put_up)
    kind = _MADE_LIKE.get(asks)
    context = {
        "put_up": put_up,
        "asks": asks,
        "now": request.household.now(),
        "not_kept_until": not_kept_until(put_up),
        "form": form if isinstance(form, kind or ()) else kind(put_up=put_up) if kind else None,
        "rules": [rule(key) for key in (NOT_KEPT if asks == "out" else NOT_SEALED if asks == "lids" else ())],
        "lots": request.household.lots.filter(key__in=put_up.lots),
        "history": history(put_up),
    }
    return render(request, "larder/put_up.html", context, status=status)


def what_is_asked(put_up: PutUp) -> str:
    """The form that comes next: of the canner, of the lids, of amounts; "" when nothing is left to say."""
    if put_up.ended_at is not None:
        return ""
    if put_up.jar:
        return "out" if put_up.used_at is None else "lids"
    return "keep"
