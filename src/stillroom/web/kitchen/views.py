"""The pages of the kitchen."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from stillroom.web.kitchen.models import Household


def index(request: HttpRequest) -> HttpResponse:
    """The kitchen as it is written down."""
    return render(request, "kitchen/index.html", {"households": Household.objects.order_by("-opened_at")})


def begin(request: HttpRequest) -> HttpResponse:
    """Where to begin: the invented week, a folder, or a kitchen of one's own."""
    return render(request, "kitchen/begin.html", {"households": Household.objects.order_by("-opened_at")})
