"""What a plan made and the larder does not hold yet; the words that put it there."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.http import HttpRequest
from ninja import Router

from stillroom.web.api.acting import acting
from stillroom.web.api.problems import usable
from stillroom.web.api.shapes import AmountsIn, LidsIn, OutOfCannerIn, PutUpOut
from stillroom.web.larder import put_up_views as views
from stillroom.web.larder.models import PutUp
from stillroom.web.larder.put_up_forms import AmountsForm, LidsForm, OutOfCannerForm
from stillroom.web.larder.to_put_up import one_to_put_up, to_put_up

router = Router()


@router.get("/put-up", response=list[PutUpOut])
def put_up(request: HttpRequest) -> list[PutUpOut]:
    """What waits for a word: `asks` is the address that comes next, or “wait” while it cools or stands."""
    return [PutUpOut.of(one) for one in to_put_up(request.household)]


@router.post("/put-up/{put_up_id}/out", response=PutUpOut)
def out(request: HttpRequest, put_up_id: int, sent: OutOfCannerIn) -> PutUpOut:
    """The jars came out of the canner; where time or pressure was not kept, `fate` says what became of them."""
    answers = {"jars": sent.jars, "time_kept": _answer(sent.time_kept), "hold_kept": _answer(sent.hold_kept)}
    return _said(request, put_up_id, OutOfCannerForm, sent.dict() | answers, views.said_of_canner)


@router.post("/put-up/{put_up_id}/lids", response=PutUpOut)
def lids(request: HttpRequest, put_up_id: int, sent: LidsIn) -> PutUpOut:
    """The lids were looked at, 12 hours after the canner at the soonest; `fate` is that of jars that are not sealed."""
    return _said(request, put_up_id, LidsForm, sent.dict(), views.said_of_lids)


@router.post("/put-up/{put_up_id}/keep", response=PutUpOut)
def keep(request: HttpRequest, put_up_id: int, sent: AmountsIn) -> PutUpOut:
    """What is in no processed jar; one amount for each product, in the order in which they were told."""
    answers = {f"amount_{number}": amount for number, amount in enumerate(sent.amounts)}
    return _said(request, put_up_id, AmountsForm, answers, views.said_of_amounts)


def _answer(is_kept: bool) -> str:
    return "yes" if is_kept else "no"


def _said(
    request: HttpRequest,
    put_up_id: int,
    kind: Callable[..., forms.Form],
    answers: dict[str, Any],
    act: Callable[[PutUp, Any, HttpRequest], object],
) -> PutUpOut:
    with acting(request) as is_first:
        row = views.locked(request, put_up_id)
        if is_first:
            act(row, usable(kind(answers, put_up=row)), request)
        row = views.locked(request, put_up_id)
    return PutUpOut.of(one_to_put_up(row, request.household.now()))
