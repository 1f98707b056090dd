"""Today: what is pressing, what is expected."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from stillroom.web.arrivals.waiting import expected, waiting


def today(request: HttpRequest) -> HttpResponse:
    """The clocks that run out first, and what is still to come."""
    household = request.household
    here = waiting(household)
    context = {
        "pressing": [one for one in here if one.pressing != "calm"],
        "calm": [one for one in here if one.pressing == "calm"],
        "expected": expected(household),
        "today": household.today,
    }
    return render(request, "day/today.html", context)
