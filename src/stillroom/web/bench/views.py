"""The front of the bench."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from stillroom.web.bench.sums.catalogue import SUMS


@require_safe
def index(request: HttpRequest) -> HttpResponse:
    """What can be worked out here."""
    return render(request, "bench/index.html", {"sums": SUMS})
