"""The choice of the look, and taking a change back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from stillroom.errors import InputError
from stillroom.web.frame import undo as changes
from stillroom.web.frame.context import LOOKS
from stillroom.web.frame.models import Change
from stillroom.web.frame.pages import back

_YEAR_S = 365 * 24 * 3600


@require_POST
def choose_look(request: HttpRequest) -> HttpResponse:
    """Light, dark, or as the device has it."""
    look = request.POST.get("look", "")
    if look not in LOOKS:
        raise InputError(f"There is no look “{look}”: choose {', '.join(LOOKS)}.")
    response = back(request, "day:today")
    response.set_cookie("look", look, max_age=_YEAR_S, samesite="Lax", httponly=True)
    return response


@require_POST
def take_back(request: HttpRequest, change_id: int) -> HttpResponse:
    """Takes one change back, and says so."""
    change = get_object_or_404(Change, pk=change_id)
    changes.undo(change, at=timezone.now())
    messages.success(request, f"Taken back: {change.said}")
    return back(request, "day:today")


@require_safe
@never_cache
def reachable(request: HttpRequest) -> HttpResponse:
    """Nothing at all: a tablet asks whether it can reach the kitchen before it sends what it kept."""
    return HttpResponse(status=204)
