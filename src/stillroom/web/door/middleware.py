"""With the door open to the house, nobody sees a page without having signed in."""

from __future__ import annotations

from urllib.parse import urlencode

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.deprecation import MiddlewareMixin

_OPEN = ("/door/in", "/door/join", "/door/authority", "/static/", "/api/")  # /api/ has a door of its own


class SignedIn(MiddlewareMixin):
    """Leads to the door whoever has not signed in; on this machine alone nobody has to."""

    def process_request(self, request: HttpRequest) -> HttpResponse | None:
        """None to go on, else the way to the door."""
        request.is_inside = not settings.LAN or request.user.is_authenticated
        if request.is_inside or request.path.startswith(_OPEN):
            return None
        address = f"{reverse('door:sign_in')}?{urlencode({'next': request.get_full_path()})}"
        if request.headers.get("HX-Request"):  # a part of a page must not become the door
            return HttpResponse(status=204, headers={"HX-Redirect": reverse("door:sign_in")})
        return redirect(address)
