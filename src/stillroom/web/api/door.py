"""Who may ask, and what keeps a page from elsewhere out.

A browser sends JSON to another site only after asking that site first, and we never say yes; so a change that comes as
application/json comes from no page of somebody else. Over the open door everybody signs in here too, with name and
password (RFC 7617) or by the session of the pages.
"""

from __future__ import annotations

from django.conf import settings
from django.contrib.auth import authenticate
from django.http import HttpRequest
from django.utils import timezone
from ninja.security import HttpBasicAuth

from stillroom.web.api.problems import Problem
from stillroom.web.door.models import Member
from stillroom.web.door.throttle import TooManyTries, check_tries, note_failed
from stillroom.web.frame.middleware import has_zero

_JSON = "application/json"
_SAFE = ("GET", "HEAD", "OPTIONS")


class Door(HttpBasicAuth):
    """Lets in whoever may ask; everybody else gets a Problem."""

    def __call__(self, request: HttpRequest) -> bool:
        """True, or Problem with the reason."""
        if request.method not in _SAFE and request.content_type != _JSON:
            raise Problem(415, f"Send what changes something as {_JSON}.")
        if settings.LAN and not request.user.is_authenticated and not super().__call__(request):
            raise Problem(401, "Sign in with the name and password of a member.")
        if request.household is None:
            raise Problem(409, "No household is open yet: begin one in the pages.")
        if has_zero(request.GET):
            raise Problem(400, "The address holds a character of value zero.")
        return True

    def authenticate(self, request: HttpRequest, username: str, password: str) -> bool:
        """Whether they belong together; tries are counted as at the door of the pages."""
        try:
            check_tries(request, username, at=timezone.now())
        except TooManyTries as error:
            raise Problem(429, str(error)) from None
        known = Member.objects.filter(name__iexact=username.strip()).first()
        member = authenticate(request, username=known.name if known else username, password=password)
        if member is None:
            note_failed(request, username, at=timezone.now())
            raise Problem(401, "This name and this password do not belong together; look at both.")
        request.user = member  # what is changed carries the name
        return True
