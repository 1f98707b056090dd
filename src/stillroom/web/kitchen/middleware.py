"""`request.household`: the one that is open; without one every page leads to the set-up."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.deprecation import MiddlewareMixin

from stillroom.web.kitchen.models import open_household

_OPEN_WITHOUT = ("/kitchen/begin", "/folder/", "/frame/", "/door/", "/static/", "/api/")


class OpenHousehold(MiddlewareMixin):
    """Sets `request.household` and its time zone."""

    def process_request(self, request: HttpRequest) -> HttpResponse | None:
        """To the first page of the set-up when nobody lives here yet."""
        request.household = open_household()
        if request.household is not None:
            timezone.activate(ZoneInfo(request.household.time_zone))
            return None
        return None if request.path.startswith(_OPEN_WITHOUT) else redirect("kitchen:begin")
